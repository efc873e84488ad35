//! Cases of the rule about headroom.

use super::RuleId::{self, Headroom as RULE};
use crate::checks::Outcome::{Fail, Movable, Pass, Tight};
use crate::checks::Verdict;
use crate::checks::rules::workbench::{BOARD, Bench};

// The roof is at 1500, 150 needed.
#[test]
fn the_ceiling() {
    for (case, height, outcome, margin) in [
        ("to spare", 1665.0, Pass, 15.0),
        ("clear by 1 mm", 1651.0, Tight, 1.0),
        ("exactly equal", 1650.0, Tight, 0.0),
        ("short by 1 mm", 1649.0, Fail, -1.0),
        ("through it", 1400.0, Fail, -250.0),
    ] {
        Bench::new().ceiling(Some(height)).check().says(case, RULE, &["vehicle", "ceiling"], outcome, margin);
    }
    let unknown = Bench::new().ceiling(None).check();
    unknown.lacks("no ceiling told", RULE, &["vehicle", "ceiling"], &["ceiling"]);
    assert_eq!(unknown.judgement.verdict, Verdict::NotKnown);
}

#[test]
fn what_hangs_above() {
    let beam = |shape: &str, more: &str| Bench::new().fixture("beam", shape, more).check();
    let over = "Box(at: (5000, 9000), size: (9000, 200))";
    let pair = ["vehicle", "beam"];
    for (case, z, outcome, margin) in [
        ("clear by 1 mm", "z: (1651, 1800)", Tight, 1.0),
        ("exactly equal", "z: (1650, 1800)", Tight, 0.0),
        ("short by 1 mm", "z: (1649, 1800)", Fail, -1.0),
        ("lower than the roof", "z: (1400, 1800)", Fail, -250.0),
    ] {
        beam(over, &format!("{z}, overhead: true")).says(case, RULE, &pair, outcome, margin);
    }
    beam(over, "z: (1649, 1800)").says("not flagged, but wholly above", RULE, &pair, Fail, -1.0);
    beam(over, "z: (1499, 1800)").silent("not flagged and reaching below the roof", RULE, &pair);
    beam(over, "z: (1649, 1800), overhead: true, movable: true").says("movable", RULE, &pair, Movable, -1.0);
    beam(over, "overhead: true").lacks("hangs at no known height", RULE, &pair, &["height of beam"]);
    let aside = "z: (1500, 1800), overhead: true";
    beam("Box(at: (6000, 9000), size: (200, 200))", aside).silent("touching in plan only", RULE, &pair);
    beam("Box(at: (5999, 9000), size: (200, 200))", aside).says(
        "1 mm above it in plan",
        RULE,
        &pair,
        Fail,
        -150.0,
    );
    // its box starts at 6150 - 283, left of the body's side
    let turned = "Box(at: (6150, 11050), size: (400, 400), turn: 45)";
    beam(turned, aside).silent("boxes overlap but shapes do not", RULE, &pair);
}

#[test]
fn targets_by_the_part_that_stands_under_it() {
    let targets = r#""tall": (kind: Board, face: (width: 600, height: 800, thickness: 40), stand: Box(at: (-300, 0), size: (600, 700)))"#;
    let setup = BOARD.replace(r#"target: "board""#, r#"target: "tall""#);
    // face y 13000 to 13040, top 1100; stand y 13000 to 13600, top 300
    let lamp = |y: f64, z: f64| {
        let shape = format!("Box(at: (5000, {y:?}), size: (1500, 200))");
        let more = format!("z: ({z:?}, 3000), overhead: true");
        Bench::new().targets(targets).setup(&setup).fixture("lamp", &shape, &more).check()
    };
    let pair = ["board", "lamp"];
    lamp(13000.0, 1250.0).says("over the face", RULE, &pair, Tight, 0.0);
    lamp(13300.0, 1249.0).says("over the stand alone", RULE, &pair, Pass, 799.0);
    lamp(13300.0, 449.0).says("too near the stand", RULE, &pair, Fail, -1.0);
    let found = lamp(13000.0, 3000.0);
    found.says("and the ceiling", RULE, &["board", "ceiling"], Pass, 2750.0);
    let lost = Bench::new().setup(&BOARD.replace(", height: Floor(300)", "")).check();
    lost.silent("a target without a place", RULE, &["board", "ceiling"]);
}

#[test]
fn a_shelf_over_a_stand_below_the_top_of_the_face() {
    // face y 13000 to 13040, z 300 to 1100; stand y 13000 to 13600, top 300: 150 above it are free up to 450
    let targets = r#""tall": (kind: Board, face: (width: 600, height: 800, thickness: 40), stand: Box(at: (-300, 0), size: (600, 700)))"#;
    let setup = BOARD.replace(r#"target: "board""#, r#"target: "tall""#);
    let shelf = |z: &str| {
        let shape = "Box(at: (5000, 13400), size: (1500, 200))";
        Bench::new().targets(targets).setup(&setup).fixture("shelf", shape, z).check()
    };
    let pair = ["board", "shelf"];
    shelf("z: (450, 500)").says("exactly equal", RULE, &pair, Tight, 0.0);
    shelf("z: (449, 500)").says("1 mm too low", RULE, &pair, Fail, -1.0);
    shelf("z: (300, 500)").says("lying on the stand", RULE, &pair, Fail, -150.0);
    shelf("z: (299, 500)").silent("reaching into the stand: a matter of its clearance", RULE, &pair);
}

#[test]
fn a_shelf_over_a_mirror() {
    // mirrors x 3900 to 4100 and 5900 to 6100, y 9400 to 9600, tops 1100: below the roof at 1500
    let mirrors = "mirrors: (width: 2200, behind_front_axle: 500, depth: 200, z: (900, 1100))";
    let shelf = |x: f64, z: &str| {
        let shape = format!("Box(at: ({x:?}, 9500), size: (400, 400))");
        Bench::new().vehicle(mirrors).fixture("shelf", &shape, z).check()
    };
    let pair = ["vehicle", "shelf"];
    shelf(6250.0, "z: (1250, 1300)").says("exactly equal", RULE, &pair, Tight, 0.0);
    shelf(6250.0, "z: (1101, 1300), overhead: true").says("1 above the mirror", RULE, &pair, Fail, -149.0);
    shelf(6300.0, "z: (1101, 1300)").silent("beside the mirror", RULE, &pair);
    // over mirror and roof: one item, the least counts
    shelf(6050.0, "z: (1600, 1700)").says("over both", RULE, &pair, Fail, -50.0);
    shelf(6050.0, "z: (1600, 1700)").says("ceiling", RULE, &["vehicle", "ceiling"], Pass, 2350.0);
}

#[test]
fn what_stands_on_the_floor_hangs_over_no_mat() {
    // mat without thickness x 4800 to 5200, y 12800 to 13200
    let over = |z: &str| {
        Bench::new()
            .targets(r#""mat": (kind: Mat, face: (width: 400, height: 400))"#)
            .setup(r#"name: "S", marks: [("X", Along(line: Centre, from: "FA", by: 3000))], stations: [(name: "mat", target: "mat", at: "X")]"#)
            .fixture("cabinet", "Box(at: (5000, 13100), size: (400, 400))", z)
            .check()
    };
    let pair = ["mat", "cabinet"];
    over("z: (0, 1900)").silent("a cabinet on the floor", RULE, &pair);
    over("z: (0, 1900)").says("is in its way", RuleId::TargetClear, &pair, Fail, -400.0);
    over("z: (0, 0)").silent("a plate in the floor", RULE, &pair);
    over("z: (100, 1900)").says("a cabinet on legs", RULE, &pair, Fail, -50.0);
    over("z: (100, 300), overhead: true").says("a hood", RULE, &pair, Fail, -50.0);
}

#[test]
fn a_flat_target_has_its_own_height_and_no_more() {
    let found = Bench::new()
        .targets(r#""mat": (kind: Mat, face: (width: 400, height: 400))"#)
        .setup(r#"name: "S", marks: [("X", Along(line: Centre, from: "FA", by: 3000))], stations: [(name: "mat", target: "mat", at: "X")]"#)
        .check();
    assert_eq!(found.one("mat", RULE, &["mat", "ceiling"]).have, Some(4000.0));
}

#[test]
fn zones_with_a_printed_top_that_must_be_free_of_anything() {
    let zone = |fields: &str| {
        let shape = r#"shape: Strip(line: Centre, from: "nose", along: (0, 5000), left: (-1500, 1500))"#;
        Bench::new().zone(&format!("{shape}, {fields}")).fixture(
            "beam",
            "Box(at: (5000, 13000), size: (9000, 200))",
            "z: (3300, 3500), overhead: true",
        )
    };
    let (beam, ceiling) = (["field", "beam"], ["field", "ceiling"]);
    for (case, top, outcome, margin) in [
        ("clear by 1 mm", 3299.0, Tight, 1.0),
        ("exactly equal", 3300.0, Tight, 0.0),
        ("short by 1 mm", 3301.0, Fail, -1.0),
    ] {
        let found = zone(&format!("z: (0, {top:?}), free_of: [Anything]")).check();
        found.says(case, RULE, &beam, outcome, margin);
        found.says(case, RULE, &ceiling, Pass, 4000.0 - top);
    }
    let metal = zone("z: (0, 3301), free_of: [Metal]").check();
    metal.silent("a field that forbids metal alone", RULE, &beam);
    metal.silent("a field that forbids metal alone", RULE, &ceiling);
    let endless = zone("free_of: [Anything]").check();
    endless.silent("no printed top", RULE, &beam);
    endless.silent("no printed top", RULE, &ceiling);
    let lift = r#"lifts: [(name: "ramp", heights: [0, 100])]"#;
    let raised = zone("z: (0, 3201), free_of: [Anything]")
        .bay(lift)
        .job(r#"support: Lift(name: "ramp", height: 100)"#);
    raised.check().says("raised", RULE, &beam, Fail, -1.0);
}

#[test]
fn a_raised_vehicle() {
    let lift = r#"lifts: [(name: "ramp", heights: [0, 2350, 2351])]"#;
    let raised = |height: u32| {
        Bench::new().bay(lift).job(&format!(r#"support: Lift(name: "ramp", height: {height})"#)).check()
    };
    // 4000 - 1500 - 150 = 2350
    raised(2350).says("exactly equal", RULE, &["vehicle", "ceiling"], Tight, 0.0);
    raised(2351).says("1 mm too high", RULE, &["vehicle", "ceiling"], Fail, -1.0);
}
