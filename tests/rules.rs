//! What holds for every rule: its name, its page, a workshop in which it speaks up and one in which it has nothing to
//! say, findings that can be told apart, and answers that depend on nothing but the input.

mod common {
    pub mod program;
}

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use baywright::checks::{Finding, Judgement, Outcome, RULES, RuleId, check};
use baywright::files::{FileKind, open_job, read_text};
use baywright::layout::Layout;
use baywright::model::Bundle;
use common::program::{answer, run, tests};

/// The workshop in which every rule is content, file by file: job, bay, vehicle, equipment, procedure.
const JOB: usize = 0;
const BAY: usize = 1;
const VEHICLE: usize = 2;
const EQUIPMENT: usize = 3;
const PROCEDURE: usize = 4;
const CONTENT: [&str; 5] = [
    r#"(
    name: "Job", bay: "b", vehicle: "v", equipment: "e", procedures: [(file: "p")],
    pose: At(x: 5000, y: 6000, heading: 0), measured: {"lamp height": 702},
)"#,
    r#"(
    name: "Bay", floor: [(0, 0), (10000, 0), (10000, 14000), (0, 14000)], ceiling: 4200,
    walls: [(side: 2, name: "north wall")],
    doorways: [(name: "door", side: 0, from: 3000, width: 4000, height: 3000)],
    fixtures: [
        (name: "bench", shape: Box(at: (8000, 5000), size: (800, 2000)), z: (0, 900), surface: [Metal]),
        (name: "lamp", shape: Box(at: (5000, 9000), size: (1500, 150)), z: (3500, 3550), surface: [Light], overhead: true),
    ],
    keep_clear: [(name: "panel", shape: Box(at: (400, 13500), size: (800, 1000)), z: (0, 1981))],
)"#,
    r#"(
    name: "Car", length: 4600, width: 1850, height: 1600, wheelbase: 2700, front_overhang: 900,
    track: (front: 1580, rear: 1580), tyre: (width: 225, diameter: 680), ground_clearance: 170,
    mirrors: (width: 2080, behind_front_axle: 600, depth: 200, z: (950, 1150)),
    sensors: {"front radar": (kind: Radar, at: (850, 0, 500), view: (across: 20, up: 10))},
)"#,
    r#"(
    name: "Set",
    targets: {"board": (kind: Board, face: (width: 600, height: 800, thickness: 40),
        stand: Box(at: (-150, 0), size: (600, 700)), stand_height: 300, room_behind: 600, owned: 2)},
)"#,
    r#"(
    name: "Radar", measured: {"lamp height": (ask: "lamp centre above the floor", unit: Mm, between: (559, 1372))},
    setups: [(
        name: "Ahead",
        marks: [
            ("X", Along(line: Centre, from: "FA", by: 4000)),
            ("L", Off(line: Centre, from: "X", by: 1200)),
        ],
        stations: [
            (name: "one", target: "board", at: "X", looks: Backward, height: Floor(300)),
            (name: "two", target: "board", at: "L", looks: Backward, height: Floor(300)),
        ],
        zones: [(name: "field", shape: Strip(line: Centre, from: "nose", along: (0, 3000), left: (-1500, 1500)), z: (0, 3000), free_of: [Metal, Anything])],
    )],
)"#,
];

/// What must be changed in the content workshop so that a rule speaks up: file, text that stands there, text instead.
type Change = (usize, &'static str, &'static str);

/// One row for each rule.
const FIRES: &[(RuleId, Change)] = &[
    (RuleId::VehicleClear, (BAY, "(8000, 5000)", "(6900, 5000)")),
    (RuleId::MirrorClear, (BAY, "(8000, 5000), size: (800, 2000)), z: (0, 900)", "(6480, 5300), size: (800, 2000)), z: (0, 1000)")),
    (RuleId::TargetClear, (BAY, "(8000, 5000), size: (800, 2000)", "(5800, 10000), size: (800, 2000)")),
    (RuleId::RoomBehind, (BAY, "(8000, 5000), size: (800, 2000)", "(5000, 12000), size: (800, 2000)")),
    (RuleId::TargetsApart, (PROCEDURE, "by: 1200", "by: 600")),
    (RuleId::ClearZone, (BAY, "(8000, 5000), size: (800, 2000)", "(6800, 8000), size: (800, 2000)")),
    (RuleId::KeepClear, (BAY, "(400, 13500), size: (800, 1000)", "(5000, 10000), size: (800, 1000)")),
    (RuleId::Headroom, (BAY, "ceiling: 4200", "ceiling: 1749")),
    (RuleId::Doorway, (BAY, "width: 4000", "width: 2079")),
    (RuleId::SightLine, (PROCEDURE, "zones:", r#"sights: [(from: "rear camera", to: "one")], zones:"#)),
    (RuleId::InView, (PROCEDURE, "zones:", r#"sights: [(from: "rear camera", to: "one")], zones:"#)),
    (RuleId::Level, (PROCEDURE, "zones:", "level: (within: 5, over: Stations), zones:")),
    (RuleId::FloorLine, (PROCEDURE, "zones:", r#"lines: [(line: Centre, from: "FA", reach: 90000)], zones:"#)),
    (RuleId::CheckLength, (PROCEDURE, "zones:", r#"checks: [Length("X", "L", 1201.5)], zones:"#)),
    (RuleId::FixedPlace, (PROCEDURE, r#"at: "X", looks: Backward"#, r#"at: "X", looks: Backward, fixed_to: Wall"#)),
    (RuleId::Measured, (JOB, "702", "558")),
    (RuleId::Equipment, (EQUIPMENT, "owned: 2", "owned: 1")),
    (RuleId::Readiness, (PROCEDURE, "setups:", r#"vehicle_state: ["nobody inside"], setups:"#)),
];

/// Rules that are only asked for by something the content workshop leaves out.
const ON_DEMAND: &[RuleId] = &[
    RuleId::SightLine,
    RuleId::InView,
    RuleId::Level,
    RuleId::FloorLine,
    RuleId::CheckLength,
    RuleId::FixedPlace,
    RuleId::Readiness,
];

fn workshop(change: Option<Change>) -> Bundle {
    let text = |file: usize| match change {
        Some((changed, from, to)) if changed == file => {
            assert!(CONTENT[file].contains(from), "{from:?} does not stand there");
            CONTENT[file].replacen(from, to, 1)
        }
        _ => CONTENT[file].to_string(),
    };
    fn read<T: FileKind>(text: &str) -> Arc<T> {
        Arc::new(read_text(text, Path::new("rules.ron")).unwrap_or_else(|faults| panic!("{faults:?}\n{text}")))
    }
    Bundle {
        job: read(&text(JOB)),
        bay: read(&text(BAY)),
        vehicle: read(&text(VEHICLE)),
        equipment: read(&text(EQUIPMENT)),
        procedures: vec![read(&text(PROCEDURE))],
    }
}

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
    let listed: BTreeSet<&str> = baywright::model::faults::RULES.iter().copied().collect();
    assert_eq!(listed, words, "the names a job may accept are those of the rules");
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
    assert!(RULES.iter().all(|r| list.lines().any(|l| l.starts_with(r.id.word()) && l.contains(r.page.title))));
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
            assert_eq!((after.verdict, after.margin, after.binding), (before.verdict, before.margin, before.binding));
            assert_eq!((after.conditions, after.missing), (before.conditions.clone(), before.missing.clone()));
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
    if turn % 2 == 0 {
        list.reverse();
    }
}

/// The quick answer while dragging is the full answer: a layout moved there says what one made there says.
#[test]
fn a_layout_moved_says_what_a_new_one_says() {
    for (job, layout) in jobs() {
        let there = baywright::layout::Stance { x: layout.stance.x + 130.0, y: layout.stance.y - 70.0, heading: layout.stance.heading + 1.5 };
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
                assert!(f.witness.is_some() || f.items.is_empty() || f.margin.is_none() || !plan_rule(f.rule), "{}: nowhere to look: {f:#?}", job.display());
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
    for folder in ["cases/jobs/01a-short-by-300", "cases/jobs/03-floor-falls-to-drain", "cases/jobs/07-mats-fit-people-do-not"] {
        let (out, _) = answer(&tests(folder), &["check", "job.ron", "--json"]);
        for key in ["schema", "verdict", "margin_mm", "binding", "conditions", "missing", "thrust_angle_deg", "pose", "marks", "stations", "zones", "findings"] {
            assert!(out.get(key).is_some(), "{folder}: no {key:?}");
        }
        assert_eq!(out["schema"], 1);
        let findings = out["findings"].as_array().expect("a list");
        for rule in RULES {
            assert!(findings.iter().any(|f| f["rule"] == rule.id.word()), "{folder}: nothing by {}", rule.id.word());
        }
        for finding in findings {
            for key in ["rule", "outcome", "procedure", "setup", "items", "have_mm", "need_mm", "margin_mm", "at_mm", "text", "help"] {
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
        let layout = Layout::new(&opened.bundle).unwrap_or_else(|faults| panic!("{}: {faults:?}", path.display()));
        (path, layout)
    };
    paths.into_iter().map(open).collect()
}
