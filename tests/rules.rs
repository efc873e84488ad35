//! What holds for every rule: its name, its page, a workshop in which it speaks up and one in which it has nothing to
//! say, findings that can be told apart, and answers that depend on nothing but the input.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a test stops where it fails, and a bench prints"
)]

mod common {
    pub(crate) mod program;
    pub(crate) mod workshop;
}

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;
use std::sync::Arc;

use baywright::checks::{Finding, Judgement, Outcome, RULES, RuleId, check};
use baywright::files::open_job;
use baywright::layout::Layout;
use baywright::model::Bundle;
use common::program::{answer, run, tests};
use common::workshop::{Change, FIRES, ON_DEMAND, workshop};

fn judged(bundle: &Bundle) -> (Layout, Judgement) {
    let layout = Layout::new(bundle).unwrap_or_else(|faults| panic!("{faults:?}"));
    let judgement = check(&layout);
    (layout, judgement)
}

fn of(judgement: &Judgement, rule: RuleId) -> Vec<&Finding> {
    judgement.findings.iter().filter(|f| f.rule == rule).collect()
}

fn content(f: &Finding) -> bool {
    matches!(f.outcome, Outcome::Pass | Outcome::NotApplicable)
}

#[test]
fn every_rule_is_content_in_the_content_workshop() {
    let (_, judgement) = judged(&workshop(None));
    for rule in RULES {
        let found = of(&judgement, rule.id);
        assert!(!found.is_empty(), "{} says nothing at all", rule.id.word());
        assert!(found.iter().all(|f| content(f)), "{}: {found:#?}", rule.id.word());
        if !ON_DEMAND.contains(&rule.id) {
            let looked = found.iter().any(|f| !f.items.is_empty());
            assert!(looked, "{} passes without having looked at anything", rule.id.word());
        }
    }
}

#[test]
fn every_rule_speaks_up_after_its_change() {
    for rule in RULES {
        let rows: Vec<&Change> = FIRES.iter().filter(|(id, _)| *id == rule.id).map(|(_, c)| c).collect();
        assert_eq!(rows.len(), 1, "{}: one row in the table of changes", rule.id.word());
        let (_, judgement) = judged(&workshop(Some(*rows[0])));
        let found = of(&judgement, rule.id);
        assert!(found.iter().any(|f| !content(f)), "{}: {found:#?}", rule.id.word());
    }
}

#[test]
fn names_are_unique_and_the_list_is_in_order() {
    let words: BTreeSet<&str> = RULES.iter().map(|r| r.id.word()).collect();
    assert_eq!(words.len(), RULES.len());
    assert!(RULES.is_sorted_by_key(|r| r.id), "the order of the ids is the order of findings");
    for rule in RULES {
        assert_eq!(rule.id.rule().id, rule.id, "{} is in the list", rule.id.word());
        let word = rule.id.word();
        assert!(word.chars().all(|c| c.is_ascii_lowercase() || c == '-') && !word.is_empty(), "{word:?}");
    }
    let listed: Vec<RuleId> = RULES.iter().map(|r| r.id).collect();
    assert_eq!(listed, RuleId::ALL, "the names a job may accept are those of the rules");
}

#[test]
fn every_rule_has_a_page_that_explain_prints() {
    for rule in RULES {
        let p = &rule.page;
        let word = rule.id.word();
        let printed = run(&tests(""), &["explain", word]);
        assert_eq!((printed.exit, printed.err.as_str()), (0, ""), "{word}");
        assert!(printed.out.starts_with(&format!("{word}: {}", p.title)), "{}", printed.out);
        for (part, text) in [
            ("checks", p.checks),
            ("matters", p.matters),
            ("measured", p.measured),
            ("remedy", p.remedy),
            ("source", p.source),
        ] {
            assert!(text.trim().len() >= 20, "{word}: the part {part:?} says too little: {text:?}");
            assert!(text.ends_with('.'), "{word}: {part:?} is a sentence: {text:?}");
            assert!(printed.out.contains(text), "{word}: explain leaves out {part:?}");
        }
    }
    let list = run(&tests(""), &["explain"]).out;
    assert_eq!(list.lines().count(), RULES.len());
    assert!(
        RULES.iter().all(|r| list.lines().any(|l| l.starts_with(r.id.word()) && l.contains(r.page.title)))
    );
}

/// Two findings are never about the same thing: a rule, a procedure, a setup and the items name one finding.
#[test]
fn findings_can_be_told_apart() {
    for (job, layout) in jobs() {
        let judgement = check(&layout);
        let mut seen: BTreeMap<_, &Finding> = BTreeMap::new();
        for finding in &judgement.findings {
            let mut items = finding.items.clone();
            items.sort();
            let key = (finding.rule, finding.procedure, finding.setup, items);
            if let Some(other) = seen.insert(key, finding) {
                panic!("{}: two findings are about the same:\n{other:#?}\n{finding:#?}", job.display());
            }
        }
    }
}

/// The order in which a bay lists its things changes nothing.
#[test]
fn the_order_of_the_bays_things_does_not_matter() {
    let mut shuffled = 0;
    for (job, layout) in jobs() {
        let before = check(&layout);
        for turn in 1..=3 {
            let mut bundle = layout.bundle.clone();
            let mut bay = (*bundle.bay).clone();
            shuffle(&mut bay.fixtures.0, turn);
            shuffle(&mut bay.keep_clear.0, turn);
            shuffle(&mut bay.heights.0, turn);
            shuffled += usize::from(bay != *bundle.bay);
            bundle.bay = Arc::new(bay);
            let after = check(&layout.on(bundle));
            assert_eq!(after.findings, before.findings, "{}", job.display());
            assert_eq!(
                (after.verdict, after.margin, after.binding),
                (before.verdict, before.margin, before.binding)
            );
            assert_eq!(
                (after.conditions, after.missing),
                (before.conditions.clone(), before.missing.clone())
            );
        }
    }
    assert!(shuffled >= 10, "only {shuffled} bays had something to shuffle");
}

/// Another order, the same for the same turn.
fn shuffle<T>(list: &mut [T], turn: usize) {
    if list.is_empty() {
        return;
    }
    let middle = turn % list.len();
    list.rotate_left(middle);
    if turn.is_multiple_of(2) {
        list.reverse();
    }
}

/// The quick answer while dragging is the full answer: a layout moved there says what one made there says.
#[test]
fn a_layout_moved_says_what_a_new_one_says() {
    for (job, layout) in jobs() {
        let there = baywright::layout::Stance {
            x: layout.stance.x + 130.0,
            y: layout.stance.y - 70.0,
            heading: layout.stance.heading + 1.5,
        };
        let back = layout.at(there).at(layout.stance);
        assert_eq!(check(&back), check(&layout), "{}", job.display());
    }
}

/// The margin, the finding that binds and the verdict follow from the findings.
#[test]
fn the_verdict_follows_from_the_findings() {
    for (job, layout) in jobs() {
        let j = check(&layout);
        let competing = |f: &&Finding| f.competes();
        let least = j.findings.iter().filter(competing).filter_map(|f| f.margin).min_by(f64::total_cmp);
        assert_eq!(j.margin, least, "{}", job.display());
        if let (Some(binding), Some(least)) = (j.binding, least) {
            let first = j.findings.iter().position(|f| f.competes() && f.margin == Some(least));
            assert_eq!(Some(binding), first, "{}: the first of equals", job.display());
        }
        let any = |o| j.findings.iter().any(|f| f.outcome == o);
        let word = match (any(Outcome::Fail), any(Outcome::Unknown), j.conditions.is_empty()) {
            (true, ..) => "does-not-fit",
            (_, true, _) => "not-known",
            (.., false) => "fits-if",
            _ => "fits",
        };
        assert_eq!(j.verdict.word(), word, "{}", job.display());
        for f in &j.findings {
            let bad = f.margin.is_some_and(|m| m < 0.0);
            let good = matches!(f.outcome, Outcome::Pass | Outcome::Tight);
            assert!(!(bad && good), "{}: short, and yet it passes: {f:#?}", job.display());
            if matches!(f.outcome, Outcome::Fail | Outcome::Tight) && f.unit == baywright::checks::Unit::Mm {
                assert!(
                    f.witness.is_some() || f.items.is_empty() || f.margin.is_none() || !plan_rule(f.rule),
                    "{}: nowhere to look: {f:#?}",
                    job.display()
                );
            }
        }
    }
}

fn plan_rule(rule: RuleId) -> bool {
    rule <= RuleId::Headroom
}

/// Every answer names every rule, and the keys of the contract are there, null or not.
#[test]
fn the_keys_of_the_answer() {
    for folder in [
        "cases/jobs/01a-short-by-300",
        "cases/jobs/03-floor-falls-to-drain",
        "cases/jobs/07-mats-fit-people-do-not",
    ] {
        let (out, _) = answer(&tests(folder), &["check", "job.ron", "--json"]);
        for key in [
            "schema",
            "verdict",
            "margin_mm",
            "binding",
            "conditions",
            "missing",
            "thrust_angle_deg",
            "pose",
            "marks",
            "stations",
            "zones",
            "findings",
        ] {
            assert!(out.get(key).is_some(), "{folder}: no {key:?}");
        }
        assert_eq!(out["schema"], 1);
        let findings = out["findings"].as_array().expect("a list");
        for rule in RULES {
            assert!(
                findings.iter().any(|f| f["rule"] == rule.id.word()),
                "{folder}: nothing by {}",
                rule.id.word()
            );
        }
        for finding in findings {
            for key in [
                "rule",
                "outcome",
                "procedure",
                "setup",
                "items",
                "have_mm",
                "need_mm",
                "margin_mm",
                "at_mm",
                "text",
                "help",
            ] {
                assert!(finding.get(key).is_some(), "{folder}: no {key:?} in {finding}");
            }
            assert!(finding["text"].as_str().is_some_and(|t| !t.is_empty()), "{finding}");
        }
        for station in out["stations"].as_array().expect("a list") {
            for key in ["procedure", "setup", "station", "target", "bay_mm", "turn_deg", "footprint_mm"] {
                assert!(station.get(key).is_some(), "{folder}: no {key:?} in {station}");
            }
        }
    }
}

/// Every job of the tests and of the demonstration.
fn jobs() -> Vec<(PathBuf, Layout)> {
    let mut paths: Vec<PathBuf> = Vec::new();
    for folder in ["cases/jobs", "scenarios"] {
        for entry in std::fs::read_dir(tests(folder)).expect("a folder") {
            paths.push(entry.expect("an entry").path().join("job.ron"));
        }
    }
    for entry in std::fs::read_dir(tests("../demo/jobs")).expect("the demonstration") {
        paths.push(entry.expect("an entry").path());
    }
    paths.sort();
    assert!(paths.len() >= 26, "{} jobs", paths.len());
    let open = |path: PathBuf| {
        let opened = open_job(&path).unwrap_or_else(|faults| panic!("{}: {faults:?}", path.display()));
        let layout =
            Layout::new(&opened.bundle).unwrap_or_else(|faults| panic!("{}: {faults:?}", path.display()));
        (path, layout)
    };
    paths.into_iter().map(open).collect()
}
