//! Room to walk round the vehicle.

use super::{Judged, OBSTACLES, Page, Policy, Rule, RuleId, Wording};
use crate::checks::finding::Finding;
use crate::checks::pairs::{Cx, Pair, Still};
use crate::layout::fixed::driven_up_to;
use crate::model::{Item, ItemKind};

pub(super) const RULE: Rule = Rule {
    id: RuleId::VehicleClear,
    page: Page {
        title: "Room round the vehicle",
        checks: "The body keeps the shop's walk-round distance to every wall, fixture and lift post at its height; the tyres do not stand on anything too low for the body to meet. A wall the procedure has the vehicle driven up to, because its target hangs there, only must not be touched; it is told by itself.",
        matters: "People carry targets, tapes and plumb bobs round the vehicle. A gap nobody fits through means a door knocked, a string leaned on, or a target set from one side only.",
        measured: "The shortest plan distance between the outline of the body and the thing, where their heights overlap. Overlapping counts below zero, by the shortest shift that parts them. For walls: the distance to the edge of the usable floor, or, past it, minus how far the farthest part sticks out.",
        remedy: "Drive or turn the vehicle away from the thing named, clear the thing, open a door, or accept the finding with a reason.",
        source: "`walk_around` of the bay or the job, 600 mm unless the shop says otherwise: the shop's own figure, no standard's.",
    },
    // which walls the vehicle is driven up to is a matter of the setups done
    policy: Policy { judged: Judged::Again, solid: true, ..Policy::PLAN },
    wording: Wording::USUAL,
    phrases: &[],
    about: &[&[ItemKind::Vehicle, ItemKind::Tyres], OBSTACLES],
    run,
    pairs: Some(pairs),
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    pairs(cx, &mut |pair| cx.judge(&pair, out));
}

pub(super) fn pairs<'a>(cx: &'a Cx<'a>, each: &mut dyn FnMut(Pair<'a>)) {
    let layout = cx.layout;
    for (procedure, setup, body) in layout.bodies() {
        let hull = &body.hull;
        let pair = |part: &'a Item, parts, still, need| Pair {
            rule: RuleId::VehicleClear,
            procedure,
            setup,
            moving: part.by_ref(),
            parts,
            still,
            need,
        };
        for thing in &layout.stage.things {
            if hull.iter().any(|b| b.z.overlaps(&thing.solid.z)) {
                each(pair(&cx.vehicle, hull, Still::Thing(thing), layout.needs.walk_around));
            } else {
                each(pair(&cx.tyres, &body.tyres, Still::Thing(thing), 0.0));
            }
        }
        let near = near_walls(cx, setup);
        for label in &near {
            each(pair(&cx.vehicle, hull, Still::Wall(*label), 0.0));
        }
        let walls = if near.is_empty() { Still::Walls } else { Still::WallsBut(near) };
        each(pair(&cx.vehicle, hull, walls, layout.needs.walk_around));
    }
}

/// Walls the vehicle is driven up to in the place it stands in for a setup; in its first place for every setup done
/// there.
fn near_walls(cx: &Cx, setup: Option<usize>) -> Vec<u32> {
    let setups = &cx.layout.setups;
    let here = |s: &usize| match setup {
        Some(one) => *s == one,
        None => setups[*s].moved.is_none() && !cx.is_idle(*s),
    };
    let mut near: Vec<u32> =
        (0..setups.len()).filter(here).flat_map(|s| driven_up_to(cx.layout, s)).collect();
    near.sort_unstable();
    near.dedup();
    near
}

#[cfg(test)]
mod tests {
    use super::RuleId::VehicleClear as RULE;
    use crate::checks::Outcome::{Accepted, Fail, Movable, Pass, Tight};
    use crate::checks::Verdict;
    use crate::checks::rules::workbench::Bench;

    const BENCH: [&str; 2] = ["vehicle", "bench"];

    // The body's right side is at x 5900, 600 are needed. A box 400 wide at x has its near face at x - 200.
    #[test]
    fn a_fixture_beside_the_body() {
        for (case, x, outcome, margin) in [
            ("to spare by what the shop measures to", 6715.0, Pass, 15.0),
            ("less than that", 6714.9, Tight, 14.9),
            ("clear by 1 mm", 6701.0, Tight, 1.0),
            ("exactly equal", 6700.0, Tight, 0.0),
            ("short by 1 mm", 6699.0, Fail, -1.0),
            ("touching", 6100.0, Fail, -600.0),
            // 200 over the body: the shortest way out is 200 to the right
            ("overlapping", 5900.0, Fail, -800.0),
        ] {
            let shape = format!("Box(at: ({x:?}, 9000), size: (400, 400))");
            for heights in ["z: (0, 900)", ""] {
                let found = Bench::new().fixture("bench", &shape, heights).check();
                found.says(case, RULE, &BENCH, outcome, margin);
                let fits = if outcome == Fail { Verdict::DoesNotFit } else { Verdict::Fits };
                assert_eq!(found.judgement.verdict, fits, "{case}");
            }
        }
    }

    #[test]
    fn boxes_overlap_but_shapes_do_not() {
        // Square of 2000 turned 45 degrees, its middle 1200 right of and 1200 ahead of the corner (5900, 10800), one of its
        // sides facing that corner: 1200 * sqrt(2) - 1000 = 697.056. Its box starts at x 7100 - 1414 = 5686.
        let turned =
            Bench::new().fixture("bench", "Box(at: (7100, 12000), size: (2000, 2000), turn: 45)", "");
        turned.check().says("turned", RULE, &BENCH, Pass, 97.056);
        // The body stands in the hollow of an L: 700 to its upright, 700 to its bar.
        let hollow = "Outline([(6600, 9000), (8000, 9000), (8000, 13000), (4000, 13000), (4000, 11500), (6600, 11500)])";
        Bench::new().fixture("bench", hollow, "").check().says("hollow", RULE, &BENCH, Pass, 100.0);
    }

    #[test]
    fn a_table_top_inside_the_car() {
        // 200 over the body, which is 150 to 1500 high; a flag "overhead" does not lift what reaches down to the body
        let top =
            |z: &str| Bench::new().fixture("bench", "Box(at: (5900, 9000), size: (400, 400))", z).check();
        for z in ["z: (700, 700)", "z: (1499.5, 1499.5)", "z: (1400, 3000), overhead: true"] {
            top(z).says(z, RULE, &BENCH, Fail, -800.0);
        }
        for z in ["z: (1500, 1500)", "z: (1500, 3000), overhead: true"] {
            top(z).silent(z, RULE, &BENCH);
        }
    }

    #[test]
    fn what_is_low_is_held_against_the_tyres() {
        // The body starts at z 150; the right tyres' outer faces are at x 5850, nothing to spare is needed.
        for (case, x, z, outcome, margin) in [
            ("beside the tyre by 1 mm", 5901.0, "z: (0, 100)", Tight, 1.0),
            ("against the tyre", 5900.0, "z: (0, 100)", Tight, 0.0),
            ("under the tyre by 1 mm", 5899.0, "z: (0, 100)", Fail, -1.0),
            ("as high as the body's underside", 5899.0, "z: (0, 150)", Fail, -1.0),
        ] {
            let shape = format!("Box(at: ({x:?}, 10000), size: (100, 400))");
            let found = Bench::new().fixture("kerb", &shape, z).check();
            found.says(case, RULE, &["tyres", "kerb"], outcome, margin);
            found.silent(case, RULE, &["vehicle", "kerb"]);
        }
        let higher =
            Bench::new().fixture("kerb", "Box(at: (5900, 10000), size: (100, 400))", "z: (0, 151)").check();
        // 50 over the body: 50 to the right, less 600
        higher.says("reaches the body", RULE, &["vehicle", "kerb"], Fail, -650.0);
        higher.silent("reaches the body", RULE, &["tyres", "kerb"]);
        let flush =
            Bench::new().fixture("grate", "Box(at: (5000, 10000), size: (3000, 3000))", "z: (0, 0)").check();
        flush.silent("flush with the floor", RULE, &["tyres", "grate"]);
        let above = Bench::new()
            .fixture("beam", "Box(at: (5000, 9000), size: (9000, 200))", "z: (1500, 1800)")
            .check();
        above.silent("above the roof", RULE, &["vehicle", "beam"]);
        above.silent("above the roof", RULE, &["tyres", "beam"]);
    }

    #[test]
    fn movable_things_and_cleared_ones() {
        let bench = Bench::new().fixture("bench", "Box(at: (6699, 9000), size: (400, 400))", "movable: true");
        let found = bench.check();
        found.says("movable", RULE, &BENCH, Movable, -1.0);
        assert_eq!(found.judgement.verdict, Verdict::FitsIf);
        assert_eq!(found.conditions(), ["move bench out of the way"]);
        let cleared = bench.job(r#"cleared: ["bench"]"#).check();
        cleared.silent("cleared", RULE, &BENCH);
        assert_eq!(cleared.conditions(), ["bench is out of the way"]);
        let fits =
            Bench::new().fixture("bench", "Box(at: (6700, 9000), size: (400, 400))", "movable: true").check();
        fits.says("movable, but not in the way", RULE, &BENCH, Tight, 0.0);
        assert_eq!(fits.judgement.verdict, Verdict::Fits);
    }

    #[test]
    fn walls_are_named_by_the_nearest_edge() {
        // The body is 900 to either side of x, from 3200 behind to 800 ahead of y.
        for (case, (x, y), wall, outcome, margin) in [
            ("clear by 1 mm", (1501.0, 10000.0), "west wall", Tight, 1.0),
            ("exactly equal", (1500.0, 10000.0), "west wall", Tight, 0.0),
            ("short by 1 mm", (1499.0, 10000.0), "west wall", Fail, -1.0),
            ("the other side", (8499.0, 10000.0), "wall 1", Tight, 1.0),
            ("ahead", (5000.0, 18400.0), "wall 2", Pass, 200.0),
            ("ahead, too near", (5000.0, 18700.0), "wall 2", Fail, -100.0),
            ("behind", (5000.0, 3700.0), "wall 0", Fail, -100.0),
            // the nose is 200 past the wall, less 600
            ("outside", (5000.0, 19400.0), "wall 2", Fail, -800.0),
            // farther out to the side (300) than ahead (100): the corner is hypot(300, 100) = 316.228 from the floor's corner
            ("outside at a corner", (600.0, 19300.0), "west wall", Fail, -916.228),
        ] {
            let found = Bench::new().bay(r#"walls: [(side: 3, name: "west wall")]"#).pose(x, y, 0.0).check();
            let walls: Vec<_> = found.of(RULE);
            assert_eq!(walls.len(), 1, "{case}: one finding for all walls");
            if case != "outside at a corner" {
                found.says(case, RULE, &["vehicle", wall], outcome, margin);
            } else {
                assert!((walls[0].margin.unwrap_or(0.0) - margin).abs() < 0.001, "{case}: {walls:?}");
            }
        }
    }

    #[test]
    fn doors_shut_open_and_open_with_floor_outside() {
        let apron = "apron: [(3100, -3000), (6900, -3000), (6900, 0), (3100, 0)]";
        let door = |apron| {
            format!(r#"doorways: [(name: "door", side: 0, from: 3000, width: 4000, height: 3000, {apron})]"#)
        };
        let bench = |y| Bench::new().bay(&door(apron)).pose(5000.0, y, 0.0);
        // tail at y - 3200
        bench(3799.0).check().says("shut", RULE, &["vehicle", "door"], Fail, -1.0);
        let open = r#"doors_open: ["door"]"#;
        // 1000 from the body's sides to the apron's, 1100 to the jambs
        bench(2200.0).job(open).check().says("tail outside", RULE, &["vehicle", "door apron"], Pass, 400.0);
        // tail at -2401: 599 to the apron's end
        bench(799.0).job(open).check().says("too far outside", RULE, &["vehicle", "door apron"], Fail, -1.0);
        let bare = Bench::new().bay(&door("")).job(open).pose(5000.0, 3799.0, 0.0).check();
        bare.says("open, but no floor is told of outside", RULE, &["vehicle", "door"], Fail, -1.0);
        let beside = Bench::new().bay(&door(apron)).pose(1900.0, 3700.0, 0.0).job(open).check();
        // body x 1000 to 2800, tail at 500: the wall beside the doorway is nearer than the door
        beside.says("beside the door", RULE, &["vehicle", "wall 0"], Fail, -100.0);
    }

    #[test]
    fn posts_and_a_raised_vehicle() {
        let lift = r#"lifts: [(name: "two-post", posts: [Box(at: (3000, 9000), size: (300, 300)), Box(at: (6650, 9000), size: (300, 300))],
            post_height: 3600, heights: [0, 500])]"#;
        let found = Bench::new().bay(lift).check();
        found.says("left post", RULE, &["vehicle", "two-post post 1"], Pass, 350.0);
        found.says("right post", RULE, &["vehicle", "two-post post 2"], Tight, 0.0);
        // raised by 500 the body starts at 650: a bench of 600 is held against the tyres, outer face 5850
        let bench = Bench::new().bay(lift).fixture(
            "bench",
            "Box(at: (6200, 10000), size: (400, 400))",
            "z: (0, 600)",
        );
        bench.check().says("on the floor", RULE, &BENCH, Fail, -500.0);
        let raised = bench.job(r#"support: Lift(name: "two-post", height: 500)"#).check();
        raised.says("raised", RULE, &["tyres", "bench"], Pass, 150.0);
        raised.silent("raised", RULE, &BENCH);
    }

    #[test]
    fn accepted_things_and_walls() {
        let accepted = |items: &str| {
            format!(r#"accepted: [(rule: "vehicle-clear", items: [{items}], reason: "folded", by: "A. N.")]"#)
        };
        let bench = Bench::new().fixture("bench", "Box(at: (6699, 9000), size: (400, 400))", "");
        // items may stand in either order
        let found = bench.job(&accepted(r#""bench", "vehicle""#)).check();
        found.says("accepted", RULE, &BENCH, Accepted, -1.0);
        assert_eq!(found.judgement.verdict, Verdict::FitsIf);
        assert_eq!(found.conditions(), ["accepted: vehicle-clear of bench and vehicle: folded (A. N.)"]);
        // 500 to the west wall and 550 to the north wall
        let corner = Bench::new().pose(1400.0, 18650.0, 0.0);
        corner.check().says("nearest", RULE, &["vehicle", "wall 3"], Fail, -100.0);
        let found = corner.job(&accepted(r#""vehicle", "wall 3""#)).check();
        found.says("accepted wall", RULE, &["vehicle", "wall 3"], Accepted, -100.0);
        found.says("then the next", RULE, &["vehicle", "wall 2"], Fail, -50.0);
    }

    /// A sheet that hangs on the wall 1000 ahead of the front axle: the nose is 200 from the wall.
    const ON_WALL: &str = r#"name: "Drive up", marks: [("W", Along(line: Centre, from: "FA", by: 1000))],
        stations: [(name: "sheet", target: "board", at: "W", looks: Backward, height: Floor(300), fixed_to: Wall, tolerance: (along: 500))]"#;

    #[test]
    fn driven_up_to_a_wall() {
        let up = |x: f64, y: f64| Bench::new().setup(ON_WALL).pose(x, y, 0.0);
        let found = up(5000.0, 19000.0).check();
        found.says("200 before it", RULE, &["vehicle", "wall 2"], Pass, 200.0);
        found.says("the others", RULE, &["vehicle", "wall 1"], Pass, 3500.0);
        assert_eq!(found.of(RULE).len(), 2);
        up(5000.0, 19200.0).check().says("touching it", RULE, &["vehicle", "wall 2"], Tight, 0.0);
        up(5000.0, 19201.0).check().says("through it", RULE, &["vehicle", "wall 2"], Fail, -1.0);
        // beside the vehicle people walk as always
        let beside = up(1499.0, 19000.0).check();
        beside.says("another wall", RULE, &["vehicle", "wall 3"], Fail, -1.0);
        beside.says("and this one", RULE, &["vehicle", "wall 2"], Pass, 200.0);
        let mirrors = "mirrors: (width: 2200, behind_front_axle: -600, depth: 200, z: (900, 1100))";
        let ahead = up(5000.0, 19250.0).vehicle(mirrors).check();
        // the mirrors' front is 700 ahead of the axle: 50 from the wall, 100 asked
        ahead.says(
            "mirrors keep their clearance",
            super::RuleId::MirrorClear,
            &["mirrors", "wall 2"],
            Fail,
            -50.0,
        );
    }

    #[test]
    fn driven_up_to_a_wall_for_one_setup() {
        let later = ON_WALL
            .replace("Drive up", "Far off")
            .replace("1000", "4000")
            .replace("Wall", "Earlier(\"Drive up\")");
        // 1000 ahead of the axle hangs the sheet; 4000 ahead of it the vehicle stands 3000 farther back
        let found = Bench::new().setup(ON_WALL).setup(&later).pose(5000.0, 19000.0, 0.0).check();
        let walls = found.about(RULE, &["vehicle", "wall 2"]);
        let have: Vec<_> = walls.iter().map(|f| (f.setup, f.need, f.have.map(f64::round))).collect();
        assert_eq!(have, [(None, Some(0.0), Some(200.0)), (Some(1), Some(0.0), Some(3200.0))]);
        // first far off, then near: only the second stand is driven up
        let far = ON_WALL.replace("1000", "4000");
        let near = ON_WALL.replace("Drive up", "Near").replace("Wall", "Earlier(\"Drive up\")");
        let found = Bench::new().setup(&far).setup(&near).pose(5000.0, 16000.0, 0.0).check();
        let walls = found.about(RULE, &["vehicle", "wall 2"]);
        let have: Vec<_> = walls.iter().map(|f| (f.setup, f.margin.map(f64::round))).collect();
        assert_eq!(have, [(None, Some(3200.0)), (Some(1), Some(200.0))]);
        assert!(found.of(RULE).iter().all(|f| f.outcome == Pass));
    }

    #[test]
    fn a_way_not_taken_drives_up_to_nothing() {
        let ways = r#"ways: {"by wall": ["Drive up"], "by board": ["Board ahead"]}"#;
        let board = crate::checks::rules::workbench::BOARD
            .replace("by: 3000", "by: -6000")
            .replace("Backward", "Forward");
        let bench = Bench::new().setup(ON_WALL).setup(&board).procedure(ways).pose(5000.0, 19000.0, 0.0);
        let way = |way: &str| bench.clone().way(way).check();
        way("by wall").says("driven up", RULE, &["vehicle", "wall 2"], Pass, 200.0);
        way("by board").says("not driven up", RULE, &["vehicle", "wall 2"], Fail, -400.0);
    }
}
