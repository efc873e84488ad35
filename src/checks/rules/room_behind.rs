//! Room for a person behind a target.

use super::{OBSTACLES, Page, Policy, Rule, RuleId, Wording};
use crate::checks::finding::Finding;
use crate::checks::pairs::{Cx, Pair, Still};
use crate::checks::wording::{apart_as, item};
use crate::layout::Layout;
use crate::model::ItemKind;
use crate::phrases::{Say, phrases, say};

phrases! { in "room-behind";
    ROOM = "room behind {target}";
}

pub(super) const RULE: Rule = Rule {
    id: RuleId::RoomBehind,
    page: Page {
        title: "Room to work behind a target",
        checks: "The depth a person needs behind a target is free of walls, fixtures and lift posts.",
        matters: "Height, square and level are set from behind. Without that room the target is set by eye from the front.",
        measured: "An area as deep as the target's `room_behind` and as wide as face and stand together, from the floor to 2000 mm, measured like the target itself, with nothing to spare needed.",
        remedy: "Move the vehicle back, clear what stands there, or use a target that is set from the front.",
        source: "`room_behind` of the equipment file: what the shop found it needs.",
    },
    policy: Policy::PLAN,
    wording: Wording::titled(title),
    phrases: PHRASES,
    about: &[&[ItemKind::Station], OBSTACLES],
    run,
    pairs: Some(pairs),
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    pairs(cx, &mut |pair| cx.judge(&pair, out));
}

pub(super) fn pairs<'a>(cx: &'a Cx<'a>, each: &mut dyn FnMut(Pair<'a>)) {
    let layout = cx.layout;
    for (s, setup) in layout.setups.iter().enumerate() {
        for station in &setup.stations {
            let Ok(stand) = &station.place else { continue };
            if stand.room.is_empty() || station.def.fixed_to.is_some() {
                continue; // nobody works behind what the bay holds
            }
            let things = layout.stage.things.iter().map(Still::Thing);
            for still in things.chain([Still::Walls]) {
                each(Pair {
                    rule: RuleId::RoomBehind,
                    procedure: Some(setup.procedure),
                    setup: Some(s),
                    moving: station.item(),
                    parts: &stand.room,
                    still,
                    need: 0.0,
                });
            }
        }
    }
}

fn title(finding: &Finding, _: &Layout, say: Say) -> String {
    let room = say!(say, ROOM, target = item(finding, 0, say));
    apart_as(&room, false, finding, say)
}

#[cfg(test)]
mod tests {
    use super::RuleId::RoomBehind as RULE;
    use crate::checks::Outcome::{Fail, Movable, Pass, Tight};
    use crate::checks::rules::workbench::{BOARD, Bench};

    const BENCH: [&str; 2] = ["board", "bench"];

    fn bench(target: &str) -> Bench {
        let target =
            format!(r#""deep": (kind: Board, face: (width: 600, height: 800, thickness: 40), {target})"#);
        Bench::new().targets(&target).setup(&BOARD.replace(r#"target: "board""#, r#"target: "deep""#))
    }

    // Room x 4700 to 5300, y 13040 to 13640, z 0 to 2000; nothing to spare needed; near face of the box at y - 200.
    #[test]
    fn a_fixture_behind_the_target() {
        for (case, y, outcome, margin) in [
            ("to spare", 13855.0, Pass, 15.0),
            ("clear by 1 mm", 13841.0, Tight, 1.0),
            ("exactly equal", 13840.0, Tight, 0.0),
            ("short by 1 mm", 13839.0, Fail, -1.0),
        ] {
            let shape = format!("Box(at: (5000, {y:?}), size: (400, 400))");
            for heights in ["z: (0, 900)", ""] {
                let found = bench("room_behind: 600").fixture("bench", &shape, heights).check();
                found.says(case, RULE, &BENCH, outcome, margin);
            }
        }
        let movable = bench("room_behind: 600").fixture(
            "bench",
            "Box(at: (5000, 13839), size: (400, 400))",
            "movable: true",
        );
        movable.check().says("movable", RULE, &BENCH, Movable, -1.0);
    }

    #[test]
    fn boxes_overlap_but_shapes_do_not() {
        // Turned 45 degrees the room reaches from the face to upper left. The bench's lower left corner is (150, 350) from
        // the mark: (150 + 350) / sqrt(2) = 353.553 along the face, 53.553 beyond its half width; (350 - 150) / sqrt(2) =
        // 141 behind it. The room's box ends at x 5184 and y 13665.
        let turned =
            BOARD.replace(r#"target: "board""#, r#"target: "deep""#).replace("height:", "turn: 45, height:");
        let target =
            r#""deep": (kind: Board, face: (width: 600, height: 800, thickness: 40), room_behind: 600)"#;
        let found = Bench::new()
            .targets(target)
            .setup(&turned)
            .fixture("bench", "Box(at: (5250, 13450), size: (200, 200))", "")
            .check();
        found.says("turned", RULE, &BENCH, Pass, 53.553);
    }

    #[test]
    fn as_wide_as_face_and_stand_and_behind_both() {
        // stand x 4650 to 5350, from 150 before the face's front to 450 behind it: room y 13450 to 14050
        let stand = "room_behind: 600, stand: Box(at: (-150, 0), size: (600, 700))";
        let at = |x: f64, y: f64| {
            let shape = format!("Box(at: ({x:?}, {y:?}), size: (400, 400))");
            bench(stand).fixture("bench", &shape, "z: (0, 900)").check()
        };
        at(5550.0, 13750.0).says("beside, touching", RULE, &BENCH, Tight, 0.0);
        at(5549.0, 13750.0).says("beside, 1 mm in", RULE, &BENCH, Fail, -1.0);
        at(5000.0, 14249.0).says("behind, 1 mm in", RULE, &BENCH, Fail, -1.0);
        // beside the stand, not behind it: the room begins at 13450
        at(5549.0, 13100.0).says("beside the stand", RULE, &BENCH, Pass, 150.0);
        // a stand that is set to one side widens the room to that side only: y -400 to 300 of the target
        let aside = "room_behind: 600, stand: Box(at: (0, -50), size: (600, 700))";
        let found = bench(aside).fixture("bench", "Box(at: (5549, 13400), size: (400, 400))", "").check();
        // looking back, the target's own left is the bay's right: the room runs from x 4600 to 5300
        found.says("the narrow side", RULE, &BENCH, Pass, 49.0);
    }

    #[test]
    fn a_person_is_2000_high_and_stands_on_the_floor() {
        let at = |z: &str| {
            bench("room_behind: 600").fixture("bench", "Box(at: (5000, 13839), size: (400, 400))", z)
        };
        at("z: (2000, 2500)").check().silent("above", RULE, &BENCH);
        at("z: (1999, 2500)").check().says("head height", RULE, &BENCH, Fail, -1.0);
        at("z: (0, 0)").check().silent("flush with the floor", RULE, &BENCH);
        let lift = r#"lifts: [(name: "ramp", heights: [0, 700])]"#;
        let raised = at("z: (0, 600)").bay(lift).job(r#"support: Lift(name: "ramp", height: 700)"#).check();
        raised.says("the vehicle is raised, the person is not", RULE, &BENCH, Fail, -1.0);
    }

    #[test]
    fn walls_and_targets_without_a_room() {
        for (case, y, outcome, margin) in [
            ("clear by 1 mm", 16359.0, Tight, 1.0),
            ("exactly equal", 16360.0, Tight, 0.0),
            ("short by 1 mm", 16361.0, Fail, -1.0),
        ] {
            let found = bench("room_behind: 600").pose(5000.0, y, 0.0).check();
            found.says(case, RULE, &["board", "wall 2"], outcome, margin);
        }
        bench("").check().idle("no room asked for", RULE);
        bench("room_behind: 0").check().idle("a room of nothing", RULE);
    }
}
