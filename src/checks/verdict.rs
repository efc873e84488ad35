//! All the rules over one layout, and the verdict they add up to.

use std::sync::Arc;

use super::finding::{Finding, Judgement, Outcome, Verdict, WayTaken};
use super::pairs::Cx;
use super::rules::{RULES, Rule, RuleId};
use super::ways;
use crate::layout::{Layout, Thing};
use crate::model::{List, Name};

/// Judges a layout by every rule.
pub fn check(layout: &Layout) -> Judgement {
    let mut cx = Cx::new(layout);
    let mut findings = Vec::with_capacity(256);
    for rule in RULES.iter().filter(|r| r.id != RuleId::Equipment) {
        run(rule, &cx, &mut findings);
    }
    // which ways are taken decides what has to stand at the same time
    let ways = ways::taken(layout, &findings);
    let idle: Vec<usize> = ways.iter().flat_map(|w| w.idle.iter().copied()).collect();
    if !idle.is_empty() {
        findings.retain(|f| f.setup.is_none_or(|s| !idle.contains(&s)));
        cx.set_idle(idle);
    }
    run(RuleId::Equipment.rule(), &cx, &mut findings);
    let mut conditions = movable_conditions(layout, &findings);
    conditions.extend(layout.stage.cleared.iter().map(cleared_words));
    conditions.extend(door_conditions(layout, &findings));
    accept(layout, &cx, &mut findings, &mut conditions);
    findings.sort_by(|a, b| {
        let key = |f: &Finding| (f.procedure.map_or(0, |p| p + 1), f.setup.map_or(0, |s| s + 1), f.rule);
        key(a).cmp(&key(b)).then_with(|| a.items.cmp(&b.items))
    });
    summary(findings, conditions, ways)
}

/// Every rule reports, also when it found nothing.
fn run(rule: &Rule, cx: &Cx, findings: &mut Vec<Finding>) {
    let before = findings.len();
    (rule.run)(cx, findings);
    if findings.len() == before {
        findings.push(Finding::new(rule.id, Outcome::Pass));
    }
}

fn summary(findings: Vec<Finding>, conditions: Vec<String>, ways: Vec<WayTaken>) -> Judgement {
    let any = |outcome| findings.iter().any(|f| f.outcome == outcome);
    let verdict = if any(Outcome::Fail) {
        Verdict::DoesNotFit
    } else if any(Outcome::Unknown) {
        Verdict::NotKnown
    } else if conditions.is_empty() {
        Verdict::Fits
    } else {
        Verdict::FitsIf
    };
    let mut binding: Option<(usize, f64)> = None;
    for (i, finding) in findings.iter().enumerate() {
        if let Some(margin) = finding.margin.filter(|_| finding.competes())
            && binding.is_none_or(|(_, least)| margin < least)
        {
            binding = Some((i, margin));
        }
    }
    let mut missing: Vec<Arc<str>> = findings.iter().flat_map(|f| f.missing.iter().cloned()).collect();
    missing.sort();
    missing.dedup();
    Judgement {
        verdict,
        margin: binding.map(|(_, m)| m),
        binding: binding.map(|(i, _)| i),
        conditions,
        missing,
        ways,
        findings,
    }
}

/// What has to be moved, each thing once, in the order of the findings.
fn movable_conditions(layout: &Layout, findings: &[Finding]) -> Vec<String> {
    let mut names: Vec<&Arc<str>> = Vec::new();
    for finding in findings.iter().filter(|f| f.outcome == Outcome::Movable) {
        for item in finding.items.iter().chain(&finding.moves) {
            let is_thing = layout.stage.things.iter().any(|t| t.movable && t.name == *item);
            if is_thing && !names.contains(&item) {
                names.push(item);
            }
        }
    }
    names.sort();
    names
        .into_iter()
        .map(|name| {
            let thing = layout.stage.things.iter().find(|t| t.name == *name);
            match thing.and_then(|t| t.clear_by.as_ref()) {
                Some(words) => format!("{name}: {words}"),
                None => format!("move {name} out of the way"),
            }
        })
        .collect()
}

fn cleared_words(thing: &Thing) -> String {
    match &thing.clear_by {
        Some(words) => format!("{}: {words}", thing.name),
        None => format!("{} is out of the way", thing.name),
    }
}

/// Doors that must stay open: shutting one alone would add a failure.
fn door_conditions(layout: &Layout, findings: &[Finding]) -> Vec<String> {
    let job = &layout.bundle.job;
    let mut conditions = Vec::new();
    for door in &job.doors_open {
        let mut shut = (**job).clone();
        shut.doors_open = List(job.doors_open.iter().filter(|d| *d != door).cloned().collect::<Vec<Name>>());
        let mut bundle = layout.bundle.clone();
        bundle.job = Arc::new(shut);
        let without = layout.on(bundle);
        let cx = Cx::new(&without);
        let mut then = Vec::new();
        for rule in RULES.iter().filter(|r| r.id.reads_walls()) {
            (rule.run)(&cx, &mut then);
        }
        let fails_now = |f: &Finding| {
            findings
                .iter()
                .any(|g| g.outcome == Outcome::Fail && g.rule == f.rule && g.setup == f.setup && g.items.first() == f.items.first())
        };
        if then.iter().any(|f| f.outcome == Outcome::Fail && !fails_now(f)) {
            conditions.push(format!("{door} stays open"));
        }
    }
    conditions
}

/// Marks what a person accepted, and reports what they accepted in vain.
fn accept(layout: &Layout, cx: &Cx, findings: &mut Vec<Finding>, conditions: &mut Vec<String>) {
    for finding in findings.iter_mut() {
        if matches!(finding.outcome, Outcome::Fail | Outcome::Movable) && cx.is_accepted(finding.rule, &finding.items) {
            finding.outcome = Outcome::Accepted;
        }
    }
    for accepted in &layout.bundle.job.accepted {
        let mut wanted: Vec<Arc<str>> = accepted.items.iter().map(|i| i.text.clone()).collect();
        wanted.sort();
        let of_this = |f: &Finding| {
            let mut items = f.items.clone();
            items.sort();
            f.rule.word() == accepted.rule.as_str() && items == wanted
        };
        let names = wanted.join(" and ");
        let who = if accepted.by.is_empty() { String::new() } else { format!(" ({})", accepted.by) };
        if findings.iter().any(|f| f.outcome == Outcome::Accepted && of_this(f)) {
            let reason = if accepted.reason.is_empty() { "no reason given" } else { &accepted.reason };
            conditions.push(format!("accepted: {} of {names}: {reason}{who}", accepted.rule));
        } else if !findings.iter().any(|f| f.outcome == Outcome::Unknown && of_this(f)) {
            let mut stale = Finding::new(RuleId::Readiness, Outcome::Confirm);
            stale.items = accepted.items.iter().map(|i| i.text.clone()).collect();
            stale.note = Some(
                format!("{} of {names} was accepted{who} but does not fail here: take the acceptance back", accepted.rule).into(),
            );
            findings.push(stale);
        }
    }
}
