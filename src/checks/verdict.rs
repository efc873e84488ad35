//! All the rules over one layout, and the verdict they add up to.

use std::sync::Arc;

use super::finding::{Finding, Judgement, Outcome, Verdict, WayTaken};
use super::note::{Condition, InVain, Note};
use super::pairs::Cx;
use super::rule::{Judged, Rule};
use super::rules::RULES;
use super::{RuleId, ways};
use crate::driving::DriveIn;
use crate::layout::{Layout, Thing};
use crate::model::{Item, ItemKind, Lack};

/// Judges a layout by every rule. A job that asks for the way in stays `unknown` in that: see [`check_driven`].
pub fn check(layout: &Layout) -> Judgement {
    check_driven(layout, None)
}

/// The same with the way in looked for beforehand; one found for another stance does not count.
pub fn check_driven(layout: &Layout, driven: Option<&DriveIn>) -> Judgement {
    let mut cx = Cx::new(layout);
    cx.driven = driven;
    let mut findings = Vec::with_capacity(about_so_many(layout));
    for rule in RULES.iter().filter(|r| !waits(r)) {
        run(rule, &cx, &mut findings);
    }
    // which ways are taken decides what has to stand at the same time
    let ways = ways::taken(&cx, &findings);
    let idle: Vec<usize> = ways.iter().flat_map(|w| w.idle.iter().copied()).collect();
    if !idle.is_empty() {
        cx.set_idle(idle.clone());
        let again = |rule: &Rule| rule.policy.judged == Judged::Again;
        findings.retain(|f| !again(f.rule.rule()));
        for rule in RULES.iter().filter(|r| again(r)) {
            run(rule, &cx, &mut findings);
        }
        findings.retain(|f| f.setup.is_none_or(|s| !idle.contains(&s)));
        // a rule that spoke of idle setups only still reports
        for rule in RULES.iter().filter(|r| !waits(r)) {
            if !findings.iter().any(|f| f.rule == rule.id) {
                findings.push(Finding::new(rule.id, Outcome::Pass));
            }
        }
    }
    for rule in RULES.iter().filter(|r| waits(r)) {
        run(rule, &cx, &mut findings);
    }
    let mut conditions = movable_conditions(layout, &findings);
    conditions.extend(layout.stage.cleared.iter().map(is_cleared));
    conditions.extend(door_conditions(&cx, &findings, &idle));
    accept(layout, &cx, &mut findings, &mut conditions);
    summary(sorted(findings), conditions, ways)
}

/// How many findings are likely: each thing and the walls against the vehicle's parts and against every target.
fn about_so_many(layout: &Layout) -> usize {
    let targets: usize = layout.setups.iter().map(|s| s.stations.len() + s.zones.len()).sum();
    (layout.stage.things.len() + 4) * (targets + 3)
}

/// By procedure, setup, rule and items, those without a procedure or setup first; equals stay as they are. A finding is
/// large, so their places are sorted and each is moved once.
fn sorted(findings: Vec<Finding>) -> Vec<Finding> {
    // one number each, the finding's place in its last 32 bits: numbers are sorted fastest
    let part = |index: Option<usize>| index.map_or(0, |i| i as u128 + 1);
    let key = |f: &Finding| part(f.procedure) << 80 | part(f.setup) << 48 | (f.rule as u128) << 32;
    let mut order: Vec<u128> = findings.iter().enumerate().map(|(i, f)| key(f) | i as u128).collect();
    let place = |packed: u128| packed as u32 as usize;
    order.sort_unstable();
    // within a rule they come nearly sorted by the things' names
    for of_one_rule in order.chunk_by_mut(|a, b| a >> 32 == b >> 32) {
        of_one_rule.sort_by(|a, b| findings[place(*a)].items.cmp(&findings[place(*b)].items));
    }
    let mut places: Vec<Option<Finding>> = findings.into_iter().map(Some).collect();
    let mut sorted = Vec::with_capacity(places.len());
    sorted.extend(order.into_iter().filter_map(|packed| places[place(packed)].take()));
    sorted
}

impl Judgement {
    /// The finding the verdict rests on: what binds, or where nothing that is measured fails or is missing, the first
    /// finding of the kind that decides.
    pub fn decisive(&self) -> Option<&Finding> {
        let binding = self.binding.and_then(|i| self.findings.get(i));
        let first = |outcome| self.findings.iter().find(|f| f.outcome == outcome);
        match self.verdict {
            Verdict::DoesNotFit => {
                binding.filter(|f| f.outcome == Outcome::Fail).or_else(|| first(Outcome::Fail))
            }
            Verdict::NotKnown => self.nothing_placed().next().or_else(|| first(Outcome::Unknown)),
            Verdict::FitsIf => first(Outcome::Movable).or(binding),
            Verdict::Fits => binding,
        }
    }

    /// What says that nothing of the job, or of one of its procedures, is placed.
    pub fn nothing_placed(&self) -> impl Iterator<Item = &Finding> {
        self.findings.iter().filter(|f| f.rule == RuleId::Readiness && f.outcome == Outcome::Unknown)
    }
}

/// Rules that speak of all setups together, once it is known which are done.
fn waits(rule: &Rule) -> bool {
    rule.policy.judged == Judged::Together
}

/// Every rule reports, also when it found nothing.
fn run(rule: &Rule, cx: &Cx, findings: &mut Vec<Finding>) {
    let before = findings.len();
    (rule.run)(cx, findings);
    if findings.len() == before {
        findings.push(Finding::new(rule.id, Outcome::Pass));
    }
}

fn summary(findings: Vec<Finding>, conditions: Vec<Condition>, ways: Vec<WayTaken>) -> Judgement {
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
    let mut missing: Vec<Lack> = findings.iter().flat_map(|f| f.missing.iter().cloned()).collect();
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
fn movable_conditions(layout: &Layout, findings: &[Finding]) -> Vec<Condition> {
    let mut names: Vec<&Arc<str>> = Vec::new();
    for finding in findings.iter().filter(|f| f.outcome == Outcome::Movable) {
        let fixtures = finding.items.iter().filter(|i| i.kind() == ItemKind::Fixture).map(Item::name);
        for name in fixtures.chain(&finding.moves) {
            let is_thing = layout.stage.things.iter().any(|t| t.movable && t.name == *name);
            if is_thing && !names.contains(&name) {
                names.push(name);
            }
        }
    }
    names.sort();
    names
        .into_iter()
        .map(|name| {
            let thing = layout.stage.things.iter().find(|t| t.name == *name);
            Condition::Move { name: name.clone(), by: thing.and_then(|t| t.clear_by.clone()) }
        })
        .collect()
}

fn is_cleared(thing: &Thing) -> Condition {
    Condition::IsCleared { name: thing.name.clone(), by: thing.clear_by.clone() }
}

/// Doors that must stay open: shutting one alone would add a failure. The things in the bay are found as they are now,
/// so only the walls are judged anew.
fn door_conditions(cx: &Cx, findings: &[Finding], idle: &[usize]) -> Vec<Condition> {
    let mut conditions = Vec::new();
    for (door, shut) in cx.layout.with_doors_shut() {
        let cx = cx.beside(&shut);
        let mut then = Vec::new();
        for rule in RULES.iter().filter(|r| r.policy.walls) {
            (rule.run)(&cx, &mut then);
        }
        let fails_now = |f: &Finding| {
            findings.iter().any(|g| {
                g.outcome == Outcome::Fail
                    && g.rule == f.rule
                    && g.setup == f.setup
                    && g.items.first() == f.items.first()
            })
        };
        let done = |f: &&Finding| f.setup.is_none_or(|s| !idle.contains(&s));
        if then.iter().filter(done).any(|f| f.outcome == Outcome::Fail && !fails_now(f)) {
            conditions.push(Condition::StaysOpen(door.text.clone()));
        }
    }
    conditions
}

/// Marks what a person accepted, and reports what they accepted in vain.
fn accept(layout: &Layout, cx: &Cx, findings: &mut Vec<Finding>, conditions: &mut Vec<Condition>) {
    for finding in findings.iter_mut() {
        if matches!(finding.outcome, Outcome::Fail | Outcome::Movable)
            && cx.is_accepted(finding.rule, &finding.items)
        {
            finding.outcome = Outcome::Accepted;
        }
    }
    for (accepted, read) in layout.bundle.job.accepted.iter().zip(cx.accepted.iter()) {
        let mut items: Vec<Arc<str>> = accepted.items.iter().map(|i| i.text.clone()).collect();
        items.sort_unstable();
        let of_this = |f: &Finding| read.covers(f.rule, &f.items);
        let any = |outcome| findings.iter().any(|f| f.outcome == outcome && of_this(f));
        let (rule, by) = (accepted.rule.text.clone(), Arc::from(accepted.by.as_str()));
        if read.doubt.is_none() && any(Outcome::Accepted) {
            conditions.push(Condition::Accepted { rule, items, reason: accepted.reason.as_str().into(), by });
            continue;
        }
        if read.doubt.is_none() && any(Outcome::Unknown) {
            continue;
        }
        let mut stale = Finding::new(RuleId::Readiness, Outcome::Confirm);
        stale.items = accepted.items.iter().map(|i| Item::new(ItemKind::Words, i.text.clone())).collect();
        let vain = InVain { rule, items, by, doubt: read.doubt.clone() };
        stale.note = Some(Note::AcceptedInVain(Box::new(vain)));
        findings.push(stale);
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use crate::checks::Outcome::{Fail, Pass};
    use crate::checks::rules::workbench::{BOARD, Bench};
    use crate::checks::{Condition, Finding, RULES, RuleId, Verdict};
    use crate::layout::{Layout, Stance};
    use crate::model::{Bundle, Item, ItemKind, Pose};

    const FAR: &str = "Box(at: (6699, 9000), size: (400, 400))";

    #[test]
    fn fail_before_unknown_before_condition_before_fit() {
        let bench = |fails: bool, unknown: bool, movable: bool| {
            let mut bench = Bench::new();
            if fails {
                bench = bench.fixture("post", FAR, "");
            }
            if movable {
                bench = bench.fixture("trolley", FAR, "movable: true");
            }
            bench.ceiling((!unknown).then_some(4000.0)).check().judgement.verdict
        };
        for (fails, unknown, movable, verdict) in [
            (false, false, false, Verdict::Fits),
            (false, false, true, Verdict::FitsIf),
            (false, true, false, Verdict::NotKnown),
            (false, true, true, Verdict::NotKnown),
            (true, false, false, Verdict::DoesNotFit),
            (true, true, true, Verdict::DoesNotFit),
        ] {
            assert_eq!(
                bench(fails, unknown, movable),
                verdict,
                "fails {fails}, unknown {unknown}, movable {movable}"
            );
        }
    }

    #[test]
    fn the_least_margin_binds_and_the_first_of_equals() {
        // both 599 from the body: "a post" comes first
        let left = "Box(at: (3301, 9000), size: (400, 400))";
        let found = Bench::new().fixture("b post", FAR, "").fixture("a post", left, "").check();
        assert_eq!(found.judgement.margin, Some(-1.0));
        let binding = &found.judgement.findings[found.judgement.binding.expect("one binds")];
        assert_eq!(&**binding.items[1].name(), "a post");
        // accepted findings do not compete
        let accepted = r#"accepted: [(rule: "vehicle-clear", items: ["vehicle", "post"], reason: "known")]"#;
        let found = Bench::new().fixture("post", FAR, "").job(accepted).check();
        assert!(found.judgement.margin.is_some_and(|m| m > 0.0));
    }

    #[test]
    fn every_rule_reports_and_the_order_is_fixed() {
        let setup = format!(r#"{BOARD}, level: (over: Stations)"#);
        let found = Bench::new()
            .setup(&setup)
            .setup(&BOARD.replace("Board ahead", "Again"))
            .fixture("post", FAR, "")
            .check();
        for rule in RULES {
            assert!(!found.of(rule.id).is_empty(), "{} says nothing", rule.id.word());
        }
        let place = |f: &crate::checks::Finding| {
            (f.procedure.map_or(0, |p| p + 1), f.setup.map_or(0, |s| s + 1), f.rule, f.items.clone())
        };
        let order: Vec<_> = found.judgement.findings.iter().map(place).collect();
        assert!(order.is_sorted(), "{order:#?}");
    }

    #[test]
    fn a_door_that_must_stay_open_is_a_condition() {
        let door = r#"doorways: [(name: "door", side: 0, from: 3000, width: 4000, height: 3000,
            apron: [(3000, -3000), (7000, -3000), (7000, 0), (3000, 0)])]"#;
        let bench =
            |y: f64| Bench::new().bay(door).job(r#"doors_open: ["door"]"#).pose(5000.0, y, 0.0).check();
        // tail at y - 3200
        let relied = bench(2200.0);
        assert_eq!(relied.judgement.verdict, Verdict::FitsIf);
        assert_eq!(relied.judgement.conditions, [Condition::StaysOpen("door".into())]);
        let idle = bench(10000.0);
        assert_eq!((idle.judgement.verdict, idle.judgement.conditions.len()), (Verdict::Fits, 0));
        // too near to the north wall, far from the door
        let both = bench(18700.0);
        assert_eq!(both.judgement.verdict, Verdict::DoesNotFit);
        assert!(both.judgement.conditions.is_empty());
    }

    #[test]
    fn a_setup_twice_gives_each_its_own_finding() {
        let found = Bench::new().setup(BOARD).setup(&BOARD.replace("Board ahead", "Again")).check();
        let walls = found.about(RuleId::TargetClear, &["board", "wall 1"]);
        assert_eq!(walls.iter().map(|f| f.setup).collect::<Vec<_>>(), [Some(0), Some(1)]);
        assert!(walls.iter().all(|f| f.outcome == Pass));
        let missing = Bench::new()
            .setup(&BOARD.replace("Floor(300)", r#"Floor("b" )"#))
            .procedure(r#"values: {"b": Missing(""), "a": Missing("")}"#);
        let again = BOARD.replace("Floor(300)", r#"Floor("b + a")"#).replace("Board ahead", "Again");
        let missing = missing.setup(&again).ceiling(None).check();
        let names: Vec<_> = missing.judgement.missing.iter().map(|m| m.word()).collect();
        assert_eq!(names, ["a", "b", "ceiling"], "sorted, each once");
        assert!(!missing.judgement.findings.iter().any(|f| f.outcome == Fail));
    }

    #[test]
    fn doors_are_shut_once_for_all_poses() {
        let door = r#"doorways: [(name: "door", side: 0, from: 3000, width: 4000, height: 3000,
            apron: [(3000, -3000), (7000, -3000), (7000, 0), (3000, 0)])]"#;
        let layout = Bench::new().bay(door).job(r#"doors_open: ["door"]"#).layout();
        let shut = |layout: &Layout| {
            let (door, shut) = layout.with_doors_shut().next().expect("one door is open");
            assert_eq!(door, &"door");
            shut.stage
        };
        let first = shut(&layout);
        assert!(first.walls.iter().any(|w| &*w.name == "door"), "{:?}", first.walls);
        let moved = layout.at(Stance { x: 4000.0, y: 9000.0, heading: 5.0 });
        assert!(Arc::ptr_eq(&first, &shut(&moved)));
        // an edit of the pose keeps what stays put; an edit of the doors does not
        let mut bundle = layout.bundle.clone();
        let edited = |bundle: &Bundle| layout.renewed(bundle).expect("a layout");
        Arc::make_mut(&mut bundle.job).pose = Pose::At { x: 4000.0, y: 9000.0, heading: 5.0 };
        let pose = edited(&bundle);
        assert_eq!((pose.stance, pose.body == moved.body), (moved.stance, true));
        assert!(Arc::ptr_eq(&first, &shut(&pose)));
        Arc::make_mut(&mut bundle.job).doors_open.0.clear();
        let doors = edited(&bundle);
        assert_eq!(doors.with_doors_shut().count(), 0);
        assert!(Arc::ptr_eq(&doors.stage.survey, &layout.stage.survey));
        assert_eq!(doors.stage.walls, Layout::new(&bundle).expect("a layout").stage.walls);
        // another bay shares nothing
        bundle.bay = Arc::new((*bundle.bay).clone());
        assert!(!Arc::ptr_eq(&edited(&bundle).stage.survey, &layout.stage.survey));
    }

    #[test]
    fn findings_are_sorted_and_equals_stay_as_they_are() {
        let finding = |procedure, setup, rule, items: &[&str], have: f64| Finding {
            procedure,
            setup,
            items: items.iter().map(|i| Item::new(ItemKind::Words, *i)).collect(),
            have: Some(have),
            ..Finding::new(rule, Pass)
        };
        let found = super::sorted(vec![
            finding(Some(1), Some(0), RuleId::TargetClear, &["a"], 5.0),
            finding(Some(0), Some(1), RuleId::ClearZone, &["b", "x"], 4.0),
            finding(Some(0), Some(1), RuleId::ClearZone, &["b"], 2.0),
            finding(Some(0), Some(1), RuleId::ClearZone, &["b"], 3.0),
            finding(None, None, RuleId::Readiness, &[], 1.0),
            finding(None, None, RuleId::VehicleClear, &["z"], 0.0),
        ]);
        let have: Vec<f64> = found.iter().filter_map(|f| f.have).collect();
        assert_eq!(have, [0.0, 1.0, 2.0, 3.0, 4.0, 5.0]);
    }
}
