//! Room round each target.

use super::fixed_place::{held_by_bay, own_wall};
use super::{Page, Policy, Rule, RuleId, Wording};
use crate::checks::finding::{Finding, Outcome};
use crate::checks::note::Remedy;
use crate::checks::pairs::{Cx, Pair, Still};
use crate::geometry::NOISE_MM;
use crate::layout::Layout;
use crate::model::{Item, ItemKind, Lack};

pub(super) const RULE: Rule = Rule {
    id: RuleId::TargetClear,
    page: Page {
        title: "Room round each target",
        checks: "Every target, face and stand together, keeps the shop's clearance to every wall, fixture and lift post at its height. No target reaches more than 1 mm below the floor. A target that cannot be placed is reported here, with the figure it lacks.",
        matters: "A board that touches the wall cannot be squared, and a stand that does not fit its place moves every later mark.",
        measured: "The shortest plan distance between the outline of face and stand and the thing, where their heights overlap; to walls as for the vehicle. The floor: the height of the target's lowest edge above the plane of the tyre contacts, above the bay's floor when the vehicle is on a lift.",
        remedy: "Move the vehicle, and the targets with it, away from the thing named; clear the thing; use a target with a smaller stand. A target below the floor has a wrong height: look it up again.",
        source: "`clearance` of the bay or the job, 100 mm unless the shop says otherwise: the shop's own figure.",
    },
    policy: Policy { solid: true, ..Policy::PLAN },
    wording: Wording { remedy, ..Wording::USUAL },
    phrases: &[],
    about: &[
        &[ItemKind::Station, ItemKind::Words],
        &[
            ItemKind::Fixture,
            ItemKind::Post,
            ItemKind::Wall,
            ItemKind::Doorway,
            ItemKind::Apron,
            ItemKind::Floor,
        ],
    ],
    run,
    pairs: Some(pairs),
};

/// So far below the floor a target's lowest edge may be, mm.
const BELOW_FLOOR: f64 = 1.0;

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    pairs(cx, &mut |pair| cx.judge(&pair, out));
    let layout = cx.layout;
    for (s, setup) in layout.setups.iter().enumerate() {
        let unknown = |items, missing| Finding {
            procedure: Some(setup.procedure),
            setup: Some(s),
            items,
            missing,
            ..Finding::new(RuleId::TargetClear, Outcome::Unknown)
        };
        for station in &setup.stations {
            match &station.place {
                Err(missing) => out.push(unknown(vec![station.item().item()], missing.0.clone())),
                Ok(stand) if stand.lower < -BELOW_FLOOR - NOISE_MM => out.push(Finding {
                    procedure: Some(setup.procedure),
                    setup: Some(s),
                    items: vec![station.item().item(), Item::only(ItemKind::Floor)],
                    ..cx.measured(RuleId::TargetClear, stand.lower, 0.0)
                }),
                Ok(_) => {}
            }
        }
        let def = &*setup.def;
        for line in &def.missing {
            out.push(unknown(
                vec![Item::new(ItemKind::Words, line.as_str())],
                vec![Lack::Named(line.as_str().into())],
            ));
        }
    }
}

pub(super) fn pairs<'a>(cx: &'a Cx<'a>, each: &mut dyn FnMut(Pair<'a>)) {
    let layout = cx.layout;
    for (s, setup) in layout.setups.iter().enumerate() {
        for station in &setup.stations {
            let Ok(stand) = &station.place else { continue };
            if held_by_bay(station) {
                continue;
            }
            let walls = own_wall(cx, station).map_or(Still::Walls, |label| Still::WallsBut(vec![label]));
            let things = layout.stage.things.iter().map(Still::Thing);
            for still in things.chain([walls]) {
                each(Pair {
                    rule: RuleId::TargetClear,
                    procedure: Some(setup.procedure),
                    setup: Some(s),
                    moving: station.item(),
                    parts: &stand.parts,
                    still,
                    need: layout.needs.clearance,
                });
            }
        }
    }
}

/// Below the floor: no drive helps that.
fn remedy(finding: &Finding, _: &Layout) -> Option<Remedy> {
    let below = finding.outcome == Outcome::Fail && finding.witness.is_none();
    below.then_some(Remedy::LookUpHeight)
}

#[cfg(test)]
mod tests {
    use super::RuleId::TargetClear as RULE;
    use crate::checks::Outcome::{Accepted, Fail, Movable, Pass, Tight};
    use crate::checks::Verdict;
    use crate::checks::rules::workbench::{BOARD, Bench};

    const BENCH: [&str; 2] = ["board", "bench"];

    // Face x 4700 to 5300, y 13000 to 13040, z 300 to 1100; 100 needed; near face of the box at x - 200.
    #[test]
    fn a_fixture_beside_the_target() {
        for (case, x, outcome, margin) in [
            ("to spare", 5615.0, Pass, 15.0),
            ("clear by 1 mm", 5601.0, Tight, 1.0),
            ("exactly equal", 5600.0, Tight, 0.0),
            ("short by 1 mm", 5599.0, Fail, -1.0),
            // 30 over the face: 30 to the left parts them, as 220 ahead would
            ("overlapping", 5470.0, Fail, -130.0),
        ] {
            let shape = format!("Box(at: ({x:?}, 13000), size: (400, 400))");
            for heights in ["z: (0, 900)", ""] {
                let found = Bench::new().setup(BOARD).fixture("bench", &shape, heights).check();
                found.says(case, RULE, &BENCH, outcome, margin);
            }
        }
    }

    #[test]
    fn boxes_overlap_but_shapes_do_not() {
        // Turned 45 degrees anticlockwise the front looks to lower right; its plane runs through (5000, 13000) to upper
        // right. The bench's near corner is at (5100, 12900): 100 * sqrt(2) = 141.421 before that plane.
        let turned = BOARD.replace("height:", "turn: 45, height:");
        let bench =
            Bench::new().setup(&turned).fixture("bench", "Box(at: (5150, 12850), size: (100, 100))", "");
        bench.check().says("turned", RULE, &BENCH, Pass, 41.421);
    }

    #[test]
    fn heights_and_what_can_be_moved() {
        let at = |z: &str| {
            Bench::new().setup(BOARD).fixture("bench", "Box(at: (5599, 13000), size: (400, 400))", z)
        };
        at("z: (0, 300)").check().silent("below the face", RULE, &BENCH);
        at("z: (1100, 2000)").check().silent("above the face", RULE, &BENCH);
        at("z: (0, 301)").check().says("reaching in", RULE, &BENCH, Fail, -1.0);
        at("movable: true").check().says("movable", RULE, &BENCH, Movable, -1.0);
    }

    #[test]
    fn face_and_stand_are_one_item() {
        // Stand 700 wide, x 4650 to 5350, from the floor up to where the face begins, whatever its own height says.
        let targets = r#""tall": (kind: Board, face: (width: 600, height: 800, thickness: 40),
            stand: Box(at: (-150, 0), size: (600, 700)), stand_height: 200)"#;
        let setup = BOARD.replace(r#"target: "board""#, r#"target: "tall""#);
        let at = |x: f64, z: &str| {
            let shape = format!("Box(at: ({x:?}, 13000), size: (400, 400))");
            Bench::new().targets(targets).setup(&setup).fixture("bench", &shape, z).check()
        };
        at(5649.0, "z: (0, 100)").says("low thing, stand", RULE, &BENCH, Fail, -1.0);
        at(5649.0, "z: (250, 280)").says("between stand height and face", RULE, &BENCH, Fail, -1.0);
        at(5649.0, "z: (400, 900)").says("high thing, face", RULE, &BENCH, Pass, 49.0);
        at(5649.0, "z: (0, 900)").says("both: the nearer", RULE, &BENCH, Fail, -1.0);
        let lift = r#"lifts: [(name: "ramp", heights: [0, 700])]"#;
        let raised = Bench::new()
            .targets(targets)
            .setup(&setup)
            .bay(lift)
            .job(r#"support: Lift(name: "ramp", height: 700)"#)
            .fixture("bench", "Box(at: (5649, 13000), size: (400, 400))", "z: (0, 990)");
        // the face is at 1000 to 1800 now; its stand still stands on the floor
        raised.check().says("raised", RULE, &BENCH, Fail, -1.0);
    }

    #[test]
    fn on_a_lift_a_stand_is_as_high_above_the_bays_floor_as_it_is() {
        // stand 700 wide, x 4650 to 5350; its own height counts from the floor it stands on, not from the lift
        let targets = r#""tall": (kind: Board, face: (width: 600, height: 800, thickness: 40),
            stand: Box(at: (-150, 0), size: (600, 700)), stand_height: 900, owned: 1)"#;
        let setup =
            BOARD.replace(r#"target: "board""#, r#"target: "tall""#).replace("Floor(300)", "Floor(0)");
        let raised = |z: &str| {
            Bench::new()
                .targets(targets)
                .setup(&setup)
                .bay(r#"lifts: [(name: "ramp", heights: [0, 700])]"#)
                .job(r#"support: Lift(name: "ramp", height: 700)"#)
                .fixture("bench", "Box(at: (5649, 13000), size: (400, 400))", z)
                .check()
        };
        // the face is at 700 to 1500, 149 from the bench; the stand ends at max(900, 700) = 900, 99 from it
        raised("z: (0, 100)").says("at the foot", RULE, &BENCH, Fail, -1.0);
        raised("z: (899, 1400)").says("below the stand's top", RULE, &BENCH, Fail, -1.0);
        raised("z: (900, 1400)").says("above the stand", RULE, &BENCH, Pass, 49.0);
        // the same stand, while the vehicle is driven on by 500 for a second setup
        let stays = setup
            .replace("Board ahead", "Driven on")
            .replace("3000", "2500")
            .replace("looks:", r#"fixed_to: Earlier("Board ahead"), looks:"#);
        let found = Bench::new()
            .targets(targets)
            .setup(&setup)
            .setup(&stays)
            .bay(r#"lifts: [(name: "ramp", heights: [0, 700])]"#)
            .job(r#"support: Lift(name: "ramp", height: 700)"#)
            .fixture("bench", "Box(at: (5649, 13000), size: (400, 400))", "z: (0, 100)")
            .check();
        // the second target stands where the first setup judged it: one finding, and the stand reaches down to the bench
        let margins: Vec<f64> = found.about(RULE, &BENCH).iter().filter_map(|f| f.margin).collect();
        assert!(matches!(margins[..], [m] if (m + 1.0).abs() < 1e-3), "{margins:?}");
    }

    #[test]
    fn a_target_does_not_reach_into_the_floor() {
        let edge = |height: f64, of: &str| {
            Bench::new()
                .procedure(&format!(r#"values: {{"h": {height:?}}}"#))
                .setup(&BOARD.replace("Floor(300)", &format!(r#"Floor("h"), of: {of}"#)))
        };
        let pair = ["board", "floor"];
        edge(-1.0, "Lower").check().silent("1 mm below: within what a floor is flat to", RULE, &pair);
        edge(-1.5, "Lower").check().says("more than 1 mm below", RULE, &pair, Fail, -1.5);
        let found = edge(-250.0, "Lower").check();
        found.says("far below", RULE, &pair, Fail, -250.0);
        assert_eq!(found.judgement.verdict, Verdict::DoesNotFit);
        // the middle of a face of 800 at 399: its lower edge is at -1
        edge(399.0, "Middle").check().silent("by its middle", RULE, &pair);
        edge(398.0, "Middle").check().says("by its middle", RULE, &pair, Fail, -2.0);
        edge(700.0, "Upper").check().says("by its upper edge", RULE, &pair, Fail, -100.0);
        let raised = |height: f64| {
            edge(-700.0, "Lower")
                .bay(r#"lifts: [(name: "ramp", heights: [0, 690, 700])]"#)
                .job(&format!(r#"support: Lift(name: "ramp", height: {height})"#))
                .check()
        };
        raised(700.0).silent("from a lift it may reach below the wheels", RULE, &pair);
        raised(690.0).says("but not below the bay's floor", RULE, &pair, Fail, -10.0);
        let taken = edge(-20.0, "Lower")
            .job(r#"accepted: [(rule: "target-clear", items: ["board", "floor"], reason: "a pit")]"#);
        assert_eq!(taken.check().one("accepted", RULE, &pair).outcome, Accepted);
    }

    #[test]
    fn what_has_no_thickness_above_the_floor_is_in_the_way() {
        let at = |z: &str| {
            Bench::new().setup(BOARD).fixture("bench", "Box(at: (5599, 13000), size: (400, 400))", z).check()
        };
        // a table top at 700 is judged as 700 to 701; the face is at 300 to 1100
        at("z: (700, 700)").says("a table top", RULE, &BENCH, Fail, -1.0);
        at("z: (299.5, 299.5)").says("reaching in by half a millimetre", RULE, &BENCH, Fail, -1.0);
        at("z: (299, 299)").silent("just below the face", RULE, &BENCH);
        at("z: (1100, 1100)").silent("just above it", RULE, &BENCH);
        at("z: (0, 0)").silent("flush with the floor", RULE, &BENCH);
        at("z: (700, 700), overhead: true").says("hung from above", RULE, &BENCH, Fail, -1.0);
    }

    #[test]
    fn a_mat_without_thickness_is_still_there() {
        let targets = r#""mat": (kind: Mat, face: (width: 400, height: 400))"#;
        let setup = r#"name: "S", marks: [("X", Along(line: Centre, from: "FA", by: 3000))],
            stations: [(name: "mat", target: "mat", at: "X")]"#;
        let at = |more: &str| {
            // near face at x 5299: 99 from the mat's edge at 5200
            Bench::new()
                .targets(targets)
                .setup(setup)
                .fixture("bench", "Box(at: (5499, 13000), size: (400, 400))", more)
                .check()
        };
        at("z: (0, 900)").says("beside a cabinet", RULE, &["mat", "bench"], Fail, -1.0);
        at("z: (0, 0)").silent("beside a plate flush with the floor", RULE, &["mat", "bench"]);
        at("z: (50, 900)").silent("beside a shelf above it", RULE, &["mat", "bench"]);
    }

    #[test]
    fn walls() {
        // the face's back is at y + 3040, the north wall at 20000
        for (case, y, outcome, margin) in [
            ("clear by 1 mm", 16859.0, Tight, 1.0),
            ("exactly equal", 16860.0, Tight, 0.0),
            ("short by 1 mm", 16861.0, Fail, -1.0),
            ("through the wall", 17000.0, Fail, -140.0),
        ] {
            let found = Bench::new().setup(BOARD).pose(5000.0, y, 0.0).check();
            found.says(case, RULE, &["board", "wall 2"], outcome, margin);
        }
    }

    #[test]
    fn what_cannot_be_placed_is_unknown() {
        let missing = r#"values: {"h": Missing("cut from the copy read"), "d": OneOf([3000, 3500])}"#;
        let height = BOARD.replace("Floor(300)", r#"Floor("h")"#);
        let found = Bench::new().procedure(missing).setup(&height).check();
        found.lacks("height", RULE, &["board"], &["h"]);
        assert_eq!(found.judgement.verdict, Verdict::NotKnown);
        assert_eq!(found.judgement.missing.iter().map(|m| m.word()).collect::<Vec<_>>(), ["h"]);
        let told = Bench::new()
            .procedure(missing)
            .setup(&height)
            .job(r#"figures: {"h": (mm: 300, from: "the maker's page")}"#);
        assert_eq!(told.check().judgement.verdict, Verdict::Fits);
        let distance = BOARD.replace("by: 3000", r#"by: "d""#);
        Bench::new().procedure(missing).setup(&distance).check().lacks("mark", RULE, &["board"], &["d"]);
        let chosen = Bench::new().procedure(missing).setup(&distance).job(r#"choose: {"d": 3500}"#).check();
        chosen.says("chosen", RULE, &["board", "wall 1"], Pass, 4600.0);
        let stand = chosen.layout.setups[0].stations[0].place.as_ref().expect("placed");
        assert_eq!(stand.mark.y, 13500.0);
        let no_height = BOARD.replace(", height: Floor(300)", "");
        Bench::new().setup(&no_height).check().lacks("no height", RULE, &["board"], &["height of board"]);
        let unlisted = BOARD.replace(r#"target: "board""#, r#"target: "mirror""#);
        Bench::new().setup(&unlisted).check().lacks("no such target", RULE, &["board"], &["mirror"]);
        let lines = format!(r#"{BOARD}, missing: ["the second board's place"]"#);
        let place = "the second board's place";
        Bench::new().setup(&lines).check().lacks("not even placed", RULE, &[place], &[place]);
    }
}
