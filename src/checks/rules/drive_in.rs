//! The vehicle can be driven to where it is to stand.

use std::sync::Arc;

use super::{PARTS, Page, Policy, Rule, RuleId, Wording};
use crate::checks::figures::Figures;
use crate::checks::finding::{Finding, Outcome};
use crate::checks::note::Note;
use crate::checks::pairs::Cx;
use crate::checks::wording::{notes, two};
use crate::driving::{Answer, DEEPEST, NoPath, Path, Tightest};
use crate::layout::Layout;
use crate::model::{Item, ItemKind};
use crate::phrases::{Say, phrases, say};

phrases! { in "drive-in";
    IN_THE_WAY = "{over} in the way";
    CANNOT = "cannot be driven in";
    STANDS_IN_THE_WAY = "{still} stands in the way in";
    IS_IN_THE_WAY = "the vehicle cannot be driven in: {the still} is {short} in the way";
    NO_WAY = "the vehicle cannot be driven in: {why}";
    NONE_FOUND = "no way was found";
    FREE = "the vehicle can be driven in, {left} from {the still} at the nearest";
}

pub(super) const RULE: Rule = Rule {
    id: RuleId::DriveIn,
    page: Page {
        title: "Driving in",
        checks: "A way leads from outside the doorway to where the vehicle is to stand, no tighter than it can turn, with a straight run before the stop; body and mirrors touch nothing on it. Judged where the job says `drive_in: true`.",
        matters: "A vehicle that cannot come straight to its place is shunted until it stands askew, its front wheels turned; a post or a door jamb then takes the mirror.",
        measured: "Straights and arcs, forward and backward, on the turning circle of the vehicle file; the least gap of body and mirrors (of the tyres, to what is too low for the body) to walls, jambs, posts and fixtures over the whole way, within a tenth of a millimetre. The doorway entered by counts as open. Outside it, the apron and a strip as wide as the doorway are taken to be free, nothing else; walls are taken to be thin. Targets are set up later, and keep-clear areas may be driven over. The same kinds of ways are tried in every bay, up to two bends or changes of direction before the curves through the doorway, and the roomiest is told; only where none of them is free is another looked for. A better driver may find more room than is told.",
        remedy: "Clear the thing named, let the vehicle stand nearer to the doorway's middle line, turn it round, or bring it in by another doorway.",
        source: "`turning_circle` of the vehicle; `straight_run` of the job, 500 mm unless it says otherwise: the shop's own figure. No standard asks for room to spare, so none is needed here.",
    },
    policy: Policy::PLAIN,
    wording: Wording {
        past: IN_THE_WAY,
        bare: |f| (f.outcome == Outcome::Fail).then_some(CANNOT),
        ..Wording::titled(title)
    },
    phrases: PHRASES,
    about: &[
        PARTS,
        &[
            ItemKind::Fixture,
            ItemKind::Post,
            ItemKind::Wall,
            ItemKind::Doorway,
            ItemKind::Apron,
            ItemKind::Jamb,
            ItemKind::Strip,
        ],
    ],
    run,
    pairs: None,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    let layout = cx.layout;
    let vehicle =
        |outcome| Finding { items: vec![cx.vehicle.clone()], ..Finding::new(RuleId::DriveIn, outcome) };
    if !layout.bundle.job.drive_in {
        out.push(Finding { note: Some(Note::WayNotAsked), ..vehicle(Outcome::NotApplicable) });
        return;
    }
    let Some(driven) = cx.driven.filter(|d| d.stance == layout.stance) else {
        out.push(Finding { note: Some(Note::WayNotWorkedOut), ..vehicle(Outcome::Unknown) });
        return;
    };
    match &driven.answer {
        Answer::NoDoorway => {
            out.push(Finding { note: Some(Note::NoDoorway), ..vehicle(Outcome::NotApplicable) })
        }
        Answer::Unknown(missing) => {
            out.push(Finding { missing: missing.0.clone(), ..vehicle(Outcome::Unknown) })
        }
        Answer::Path(path) => found(cx, path, out),
        Answer::NoPath(none) => out.push(not_found(cx, none, driven.door.as_ref())),
    }
}

fn found(cx: &Cx, path: &Path, out: &mut Vec<Finding>) {
    for name in &path.move_first {
        out.push(Finding {
            items: vec![cx.vehicle.clone(), Item::new(ItemKind::Fixture, name.clone())],
            ..Finding::new(RuleId::DriveIn, Outcome::Movable)
        });
    }
    let t = &path.tightest;
    let mut finding = cx.measured(RuleId::DriveIn, t.margin, 0.0);
    finding.items = pair(cx, t);
    finding.witness = Some(t.at);
    out.push(finding);
}

/// The part of the vehicle and what it comes nearest to.
fn pair(cx: &Cx, t: &Tightest) -> Vec<Item> {
    let parts = [&cx.vehicle, &cx.mirrors, &cx.tyres];
    let part = parts.into_iter().find(|part| **part.name() == *t.moving).unwrap_or(&cx.vehicle);
    vec![part.clone(), Item::new(t.still_is, t.still.clone())]
}

fn not_found(cx: &Cx, none: &NoPath, door: Option<&Arc<str>>) -> Finding {
    let mut finding = Finding::new(RuleId::DriveIn, Outcome::Fail);
    match &none.tightest {
        Some(t) => {
            finding.items = pair(cx, t);
            if t.margin >= -DEEPEST {
                finding.have = Some(t.margin);
                finding.need = Some(0.0);
                finding.margin = Some(t.margin);
            }
            finding.witness = Some(t.at);
        }
        None => {
            finding.items = {
                let door = door.map(|d| Item::new(ItemKind::Doorway, d.clone()));
                std::iter::once(cx.vehicle.clone()).chain(door).collect()
            }
        }
    }
    finding.note = Some(Note::NoWayIn(none.why.clone()));
    finding
}

fn title(finding: &Finding, _: &Layout, say: Say) -> String {
    let (_, still) = two(finding, say);
    let figures = Figures::of(finding, say.show);
    let why = || finding.note.as_ref().map_or_else(|| say.word(NONE_FOUND), |n| notes::note(n, say));
    match finding.outcome {
        Outcome::Movable => say!(say, STANDS_IN_THE_WAY, still),
        Outcome::Fail | Outcome::Accepted if finding.margin.is_some() => {
            say!(say, IS_IN_THE_WAY, still, short = figures.short())
        }
        Outcome::Fail | Outcome::Accepted => say!(say, NO_WAY, why = why()),
        Outcome::Unknown | Outcome::Tight | Outcome::Confirm | Outcome::Pass | Outcome::NotApplicable => {
            say!(say, FREE, still, left = figures.left())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RuleId::DriveIn as RULE;
    use crate::checks::Outcome::{Fail, Movable, NotApplicable, Pass, Tight, Unknown};
    use crate::checks::rules::workbench::{Bench, Found};
    use crate::checks::{Verdict, check_driven};
    use crate::driving::drive_in;
    use crate::layout::Stance;

    /// A doorway before the vehicle, which is 2200 wide over its mirrors.
    fn bench(width: f64) -> Bench {
        Bench::new()
            .bay(&format!(
                r#"doorways: [(name: "front door", side: 0, from: {:?}, width: {width:?}, height: 3000)]"#,
                5000.0 - width / 2.0
            ))
            .vehicle("mirrors: (width: 2200, behind_front_axle: 500, depth: 200, z: (900, 1100)), turning_circle: 10400")
    }

    fn judged(bench: &Bench) -> Found {
        let layout = bench.layout();
        let driven = drive_in(&layout, &|| false);
        let judgement = check_driven(&layout, driven.as_ref());
        Found { layout, judgement }
    }

    #[test]
    fn straight_through_a_doorway() {
        let pair = ["mirrors", "front door jamb"];
        for (case, width, outcome, margin) in [
            ("to spare", 2230.0, Pass, 15.0),
            ("tight", 2228.0, Tight, 14.0),
            ("clear by 1 mm", 2202.0, Tight, 1.0),
            ("exactly equal", 2200.0, Tight, 0.0),
            ("short by 1 mm", 2198.0, Fail, -1.0),
        ] {
            judged(&bench(width).job("drive_in: true")).says(case, RULE, &pair, outcome, margin);
        }
    }

    #[test]
    fn what_is_not_looked_at() {
        let asked = bench(3000.0).job("drive_in: true");
        let quiet = judged(&bench(3000.0));
        assert_eq!(quiet.one("not asked", RULE, &["vehicle"]).outcome, NotApplicable);
        let found = asked.check();
        assert_eq!(found.one("not yet", RULE, &["vehicle"]).outcome, Unknown);
        assert_eq!(found.judgement.verdict, Verdict::NotKnown);
        let layout = asked.layout();
        let driven = drive_in(&layout, &|| false);
        let moved = layout.at(Stance { x: 5001.0, ..layout.stance });
        let judgement = check_driven(&moved, driven.as_ref());
        let stale = Found { layout: moved, judgement };
        assert_eq!(stale.one("for another stance", RULE, &["vehicle"]).outcome, Unknown);
        let none = judged(&Bench::new().vehicle("turning_circle: 10400").job("drive_in: true"));
        assert_eq!(none.one("no doorway", RULE, &["vehicle"]).outcome, NotApplicable);
    }

    #[test]
    fn without_a_turning_circle() {
        let bare = Bench::new()
            .bay(r#"doorways: [(name: "front door", side: 0, from: 3000, width: 4000, height: 3000)]"#)
            .job("drive_in: true");
        judged(&bare).lacks("no circle", RULE, &["vehicle"], &["turning_circle"]);
    }

    #[test]
    fn something_in_the_way() {
        let across = "Box(at: (5000, 3000), size: (9900, 300))";
        let asked = bench(3000.0).job("drive_in: true");
        let trolley = judged(&asked.clone().fixture("trolley", across, "movable: true"));
        assert_eq!(trolley.one("movable", RULE, &["vehicle", "trolley"]).outcome, Movable);
        assert!(trolley.conditions().iter().any(|c| c.contains("trolley")));
        let bench = judged(&asked.fixture("bench", across, ""));
        let found = bench.of(RULE);
        assert_eq!((found.len(), found[0].outcome), (1, Fail));
        assert_eq!(found[0].items.last().map(|i| &**i.name()), Some("bench"));
    }
}
