//! Boxes round faces, case by case.

use super::*;

/// Round the board (x 4700 to 5300, y 13000 to 13040, z 300 to 1100): 1000 beside, 500 above, 200 below, to 300 behind
/// its back (y 13340) and 400 before its front (y 12600).
fn around(free_of: &str) -> Bench {
    Bench::new().setup(&format!(
        r#"{BOARD}, zones: [(name: "field", shape: Around(station: "board", beside: 1000, above: 500, below: 200,
            behind: 300, ahead: 400), free_of: [{free_of}])]"#
    ))
}

#[test]
fn round_a_face_in_three_directions() {
    for (case, (x, y), z, outcome, margin) in [
        // near face of a lamp 400 wide at x - 200; 5300 + 1000
        ("beside, clear by 1 mm", (6501.0, 13000.0), "(500, 900)", Tight, 1.0),
        ("beside, exactly equal", (6500.0, 13000.0), "(500, 900)", Tight, 0.0),
        ("beside, short by 1 mm", (6499.0, 13000.0), "(500, 900)", Fail, -1.0),
        ("on the other side", (3499.0, 13000.0), "(500, 900)", Tight, 1.0),
        // over the face: 1100 + 500
        ("above, clear by 1 mm", (5000.0, 13000.0), "(1601, 1700)", Tight, 1.0),
        ("above, exactly equal", (5000.0, 13000.0), "(1600, 1700)", Tight, 0.0),
        ("above, short by 1 mm", (5000.0, 13000.0), "(1599, 1700)", Fail, -1.0),
        // under it: 300 - 200
        ("below, clear by 1 mm", (5000.0, 13000.0), "(0, 99)", Tight, 1.0),
        ("below, exactly equal", (5000.0, 13000.0), "(0, 100)", Tight, 0.0),
        ("below, short by 1 mm", (5000.0, 13000.0), "(0, 101)", Fail, -1.0),
        // 200 short beside, 300 to spare above: the larger counts
        ("beside and above", (6300.0, 13000.0), "(1900, 2000)", Pass, 300.0),
        // 200 short beside, 100 short above
        ("short in both", (6300.0, 13000.0), "(1500, 1700)", Fail, -100.0),
    ] {
        let shape = format!("Box(at: ({x:?}, {y:?}), size: (400, 400))");
        let found = around("Light")
            .fixture("post", &shape, &format!("z: {z}, surface: [Light], overhead: true"))
            .check();
        found.says(case, RULE, &POST, outcome, margin);
    }
}

#[test]
fn only_what_lies_within_the_depth_of_the_box() {
    let lamp = |y: f64, x: f64| {
        let shape = format!("Box(at: ({x:?}, {y:?}), size: (400, 400))");
        around("Light").fixture("post", &shape, "z: (500, 900), surface: [Light]").check()
    };
    // behind: 13040 + 300; ahead: 13000 - 400
    lamp(13540.0, 6000.0).silent("touching the box's back", RULE, &POST);
    lamp(13539.0, 6000.0).says("1 mm before it", RULE, &POST, Fail, -500.0);
    lamp(12400.0, 6000.0).silent("touching its front", RULE, &POST);
    lamp(12401.0, 6000.0).says("1 mm behind it", RULE, &POST, Fail, -500.0);
    // a thing that reaches nearer only outside the depth: a strip along (5500, 14000) - (6900, 13200), 6655 at y 13340
    let slant = "Outline([(5500, 14000), (6900, 13200), (6900, 14000)])";
    let found = around("Light").fixture("post", slant, "z: (500, 900), surface: [Light]").check();
    // at y 13340 the edge is at x 5500 + 1400 * (14000 - 13340) / 800 = 6655: 1355 beside, 1000 asked
    found.says("the part inside the depth", RULE, &POST, Pass, 355.0);
    let default = Bench::new().setup(&format!(
        r#"{BOARD}, zones: [(name: "field", shape: Around(stations: ["board"], beside: 1000, above: 500, below: 200), free_of: [Light])]"#
    ));
    let at = |y: f64| {
        let shape = format!("Box(at: (6000, {y:?}), size: (400, 400))");
        default.clone().fixture("post", &shape, "z: (500, 900), surface: [Light]").check()
    };
    at(14239.0).says("behind is as far as beside when not told", RULE, &POST, Fail, -500.0);
    at(14240.0).silent("and no farther", RULE, &POST);
}

#[test]
fn walls_round_a_face() {
    // the east wall is 4700 beside the face, the north wall 6960 behind it
    let found = around("Anything").check();
    found.says("nearest side within the depth", RULE, &["field", "wall 1"], Pass, 3700.0);
    // back at y + 3040, the box's at y + 3340: the north wall is 1 mm inside its depth, all along the face and 4700
    // beyond it on both sides: -5000 - 300 beside, 1000 asked
    let near = around("Anything").pose(5000.0, 16661.0, 0.0).check();
    near.says("behind", RULE, &["field", "wall 2"], Fail, -6300.0);
    let touching = around("Anything").pose(5000.0, 16660.0, 0.0).check();
    touching.says("touching the box's back", RULE, &["field", "wall 1"], Pass, 3700.0);
    let light = around("Light").bay("walls: [(side: 3, surface: [Light])]").check();
    light.says("by surface", RULE, &["field", "wall 3"], Pass, 3700.0);
    assert_eq!(light.of(RULE).len(), 1);
}

/// A board behind the vehicle that looks at it: face x 4700 to 5300, its front 6000 behind the front axle.
fn around_behind(free_of: &str) -> Bench {
    let behind = BOARD.replace("by: 3000", "by: -6000").replace("Backward", "Forward");
    Bench::new().setup(&format!(
        r#"{behind}, zones: [(name: "field", shape: Around(station: "board", beside: 1000, above: 500, below: 200,
            behind: 300, ahead: 400), free_of: [{free_of}])]"#
    ))
}

#[test]
fn a_shut_door_round_a_face() {
    // front at y 300, back at 260, the box's at -40: wall and door are 40 inside its depth. The whole side reaches 5000
    // either way: 5000 + 300 beside, 1000 asked. Without the door in it the wall leaves 2000 - 300 either side: 700 to spare.
    let door = |own: &str| {
        format!(
            r#"walls: [(side: 0, surface: [Light])], doorways: [(name: "door", side: 0, from: 3000, width: 4000, height: 3000, {own})]"#
        )
    };
    let shared = around_behind("Light").bay(&door("")).pose(5000.0, 6300.0, 0.0).check();
    shared.says("shares its side's surface", RULE, &["field", "wall 0"], Fail, -6300.0);
    assert_eq!(shared.of(RULE).len(), 1);
    let wood = around_behind("Light").bay(&door("surface: []")).pose(5000.0, 6300.0, 0.0).check();
    wood.says("a door of wood", RULE, &["field", "wall 0"], Pass, 700.0);
    // its own light: 2000 + 300 beside, 1000 asked
    let own = around_behind("Light").bay(&door("surface: [Light]")).pose(5000.0, 6300.0, 0.0).check();
    own.says("a surface of its own", RULE, &["field", "door"], Fail, -3300.0);
    own.says("a surface of its own", RULE, &["field", "wall 0"], Pass, 700.0);
    let open = around_behind("Light").bay(&door("")).pose(5000.0, 6300.0, 0.0).job(r#"doors_open: ["door"]"#);
    open.check().says("open", RULE, &["field", "wall 0"], Pass, 700.0);
}

#[test]
fn the_shift_that_cures_a_wall_behind_a_face() {
    let found = around_behind("Anything").pose(5000.0, 6300.0, 0.0).check();
    let wall = found.one("behind", RULE, &["field", "wall 0"]);
    assert_eq!(wall.margin, Some(-6300.0));
    // the box's back is 40 past the wall; along the wall it would take 6300
    let by = wall.escape.unwrap_or_else(|| panic!("{wall:?}"));
    assert!(by.x.abs() < 1e-9 && (by.y - 40.0).abs() < 1e-9, "{by}");
    let moved = around_behind("Anything").pose(5000.0, 6340.0, 0.0).check();
    moved.says("moved as told", RULE, &["field", "wall 1"], Pass, 3700.0);
    // a pillar of 400 beside the face: 100 to the right is less than 540 or more along the axis
    let pillar =
        around_behind("Anything").fixture("post", "Box(at: (3600, 4000), size: (400, 400))", "").check();
    let post = pillar.one("beside", RULE, &POST);
    assert_eq!(post.margin, Some(-100.0));
    let by = post.escape.unwrap_or_else(|| panic!("{post:?}"));
    assert!((by.x - 100.0).abs() < 1e-9 && by.y.abs() < 1e-9, "{by}");
}

#[test]
fn an_accepted_wall_round_a_face_leaves_the_next() {
    // the face ends 900 before the east wall, 1000 asked; the north wall is 1 inside the depth, and 1200 + 300 + 1000
    // along it would clear it
    let accepted = r#"accepted: [(rule: "clear-zone", items: ["field", "wall 2"], reason: "known")]"#;
    let found = around("Anything").pose(8800.0, 16661.0, 0.0).check();
    found.says("the nearest alone", RULE, &["field", "wall 2"], Fail, -2500.0);
    found.silent("the nearest alone", RULE, &["field", "wall 1"]);
    let found = around("Anything").pose(8800.0, 16661.0, 0.0).job(accepted).check();
    found.says("accepted", RULE, &["field", "wall 2"], Accepted, -2500.0);
    found.says("then the next", RULE, &["field", "wall 1"], Fail, -100.0);
}

#[test]
fn a_round_thing_round_a_face_is_round() {
    // its middle is 100 behind the box's back: inside the depth it reaches sqrt(200² - 100²) = 173.205 to the left
    let reach = 30_000f64.sqrt();
    for (case, off, outcome) in
        [("clear by 1 mm", 1.0, Tight), ("equal", 0.0, Tight), ("short by 1 mm", -1.0, Fail)]
    {
        let shape = format!("Round(at: ({:?}, 13440), diameter: 400)", 6300.0 + reach + off);
        let found = around("Light").fixture("post", &shape, "z: (500, 900), surface: [Light]").check();
        found.says(case, RULE, &POST, outcome, off);
    }
    let behind = around("Light")
        .fixture("post", "Round(at: (5000, 13540), diameter: 400)", "surface: [Light]")
        .check();
    behind.silent("touching the box's back", RULE, &POST);
    let beside = around("Light")
        .fixture("post", "Round(at: (6499, 13000), diameter: 400)", "surface: [Light]")
        .check();
    beside.says("wholly beside it", RULE, &POST, Fail, -1.0);
}

#[test]
fn round_several_faces_the_least_counts() {
    let two = format!(
        r#"{}, zones: [(name: "field", shape: Around(stations: ["board", "second"], beside: 1000, above: 500, below: 200), free_of: [Light])]"#,
        BOARD
            .replace("marks: [", r#"marks: [("Y", Place(line: Centre, from: "FA", along: 3000, left: -1000)), "#)
            .replace("stations: [", r#"stations: [(name: "second", target: "board", at: "Y", looks: Backward, height: Floor(300)), "#)
    );
    // the second face ends at x 6300; the lamp begins at 7299: 999 beside it, 1999 beside the first
    let found = Bench::new()
        .setup(&two)
        .fixture("post", "Box(at: (7499, 13000), size: (400, 400))", "surface: [Light]")
        .check();
    found.says("the nearer", RULE, &POST, Fail, -1.0);
}
