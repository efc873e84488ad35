//! The table of cases of the rule.

use super::RuleId::ClearZone as RULE;
use crate::checks::Outcome::{Accepted, Fail, Movable, NotApplicable, Pass, Tight, Unknown};
use crate::checks::Verdict;
use crate::checks::rules::workbench::{BOARD, Bench, Found};

const POST: [&str; 2] = ["field", "post"];
/// x 3500 to 6500, y 10800 to 15800, z 0 to 3000.
const STRIP: &str =
    r#"shape: Strip(line: Centre, from: "nose", along: (0, 5000), left: (-1500, 1500)), z: (0, 3000)"#;

fn strip(more: &str) -> Bench {
    Bench::new().zone(&format!("{STRIP}, {more}"))
}

fn with_post(zone: &str, at: (f64, f64), more: &str) -> Found {
    let shape = format!("Box(at: ({:?}, {:?}), size: (400, 400))", at.0, at.1);
    strip(zone).fixture("post", &shape, more).check()
}

#[test]
fn a_thing_beside_the_zone() {
    for (case, x, outcome, margin) in [
        ("to spare", 6715.0, Pass, 15.0),
        ("clear by 1 mm", 6701.0, Tight, 1.0),
        ("exactly equal", 6700.0, Tight, 0.0),
        ("short by 1 mm", 6699.0, Fail, -1.0),
        // its left face 700 from the zone's right edge: 700 to the right parts them, 2400 back or 2700 left would too
        ("deep", 6000.0, Fail, -700.0),
    ] {
        for heights in ["z: (0, 900)", "z: (2999, 3500)", ""] {
            let found = with_post("free_of: [Metal]", (x, 13000.0), &format!("surface: [Metal], {heights}"));
            found.says(case, RULE, &POST, outcome, margin);
        }
    }
    let movable = with_post("free_of: [Metal]", (6699.0, 13000.0), "surface: [Metal], movable: true");
    movable.says("movable", RULE, &POST, Movable, -1.0);
    assert_eq!(movable.judgement.verdict, Verdict::FitsIf);
}

#[test]
fn boxes_overlap_but_shapes_do_not() {
    // Square of 1000 turned 45 degrees, 600 right of and 600 ahead of the corner (6500, 15800):
    // 600 * sqrt(2) - 500 = 348.528; its box starts at 7100 - 707 = 6393.
    let bench = strip("free_of: [Metal]").fixture(
        "post",
        "Box(at: (7100, 16400), size: (1000, 1000), turn: 45)",
        "surface: [Metal]",
    );
    bench.check().says("turned", RULE, &POST, Pass, 348.528);
}

#[test]
fn what_a_zone_forbids() {
    let inside = |zone: &str, thing: &str| with_post(zone, (5000.0, 13000.0), thing);
    let metal = inside("free_of: [Metal, Shine]", "surface: [Metal]");
    // in the middle: half the zone's width and half its own, to either side
    metal.says("its surface", RULE, &POST, Fail, -1700.0);
    inside("free_of: [Glass]", "surface: [Metal]").silent("another surface", RULE, &POST);
    inside("free_of: [Metal]", "").silent("no surface told", RULE, &POST);
    inside("free_of: [People]", "surface: [Metal]").silent("people stand nowhere in the plan", RULE, &POST);
    inside("free_of: [Anything]", "").says("anything that stands", RULE, &POST, Fail, -1700.0);
    inside("free_of: [Anything]", "z: (0, 0), surface: [Metal]").silent("flush is not anything", RULE, &POST);
    inside("free_of: [Anything]", "z: (2500, 2700), overhead: true").silent("nor is what hangs", RULE, &POST);
    let lamp = inside("free_of: [Light]", "z: (2500, 2700), overhead: true, surface: [Light]");
    lamp.says("what hangs, by its surface", RULE, &POST, Fail, -1700.0);
    let own = Bench::new().setup(&format!(
        r#"{BOARD}, zones: [(name: "field", shape: AroundVehicle(ahead: 5000, behind: 100, left: 100, right: 100), free_of: [Anything])]"#
    ));
    let own = own.check();
    assert_eq!(own.of(RULE).len(), 1, "vehicle and own targets do not count: {:?}", own.of(RULE));
    own.says("only the walls do", RULE, &["field", "wall 1"], Pass, 4000.0);
}

#[test]
fn heights_of_things_and_zones() {
    let at = |zone: &str, z: &str| with_post(zone, (6699.0, 13000.0), &format!("surface: [Drain], {z}"));
    let drain = "free_of: [Drain]";
    at(drain, "z: (3000, 3500)").silent("touching the zone's top", RULE, &POST);
    for (case, z) in [
        ("flush with the floor", "z: (0, 0)"),
        ("thin, at the zone's top", "z: (3000, 3000)"),
        ("thin, within", "z: (5, 5)"),
    ] {
        at(drain, z).says(case, RULE, &POST, Fail, -1.0);
    }
    at(drain, "z: (3001, 3001)").silent("thin, above", RULE, &POST);
    at(drain, "z: (-300, -200)").silent("wholly below the zone", RULE, &POST);
    let endless =
        r#"shape: Strip(line: Centre, from: "nose", along: (0, 5000), across: 3000), free_of: [Metal]"#;
    let high = Bench::new().zone(endless).fixture(
        "post",
        "Box(at: (6699, 13000), size: (400, 400))",
        "surface: [Metal], z: (9000, 9500)",
    );
    high.check().says("a zone without printed heights has no top", RULE, &POST, Fail, -1.0);
    // raised by 500 the zone reaches from 500 to 3500
    let lift = r#"lifts: [(name: "ramp", heights: [0, 500])]"#;
    let raised = |z: &str| {
        strip(drain)
            .bay(lift)
            .job(r#"support: Lift(name: "ramp", height: 500)"#)
            .fixture("post", "Box(at: (6699, 13000), size: (400, 400))", &format!("surface: [Drain], {z}"))
            .check()
    };
    raised("z: (0, 500)").silent("raised above it", RULE, &POST);
    raised("z: (0, 0)").silent("raised above the floor", RULE, &POST);
    raised("z: (3400, 3600)").says("raised up to it", RULE, &POST, Fail, -1.0);
}

#[test]
fn what_is_low_enough_may_stay() {
    let plate = |tolerate: &str, x: f64, top: f64| {
        with_post(
            &format!("free_of: [Metal], {tolerate}"),
            (x, 13000.0),
            &format!("surface: [Metal], z: (0, {top:?})"),
        )
    };
    for (case, top) in [("lower", 49.0), ("exactly as high", 50.0)] {
        let found = plate("tolerate_below: 50", 6000.0, top);
        assert_eq!(found.one(case, RULE, &POST).outcome, NotApplicable, "{case}");
        assert_eq!(found.judgement.verdict, Verdict::Fits, "{case}");
    }
    plate("tolerate_below: 50", 6000.0, 51.0).says("1 mm higher", RULE, &POST, Fail, -700.0);
    plate("", 6000.0, 50.0).says("nothing tolerated", RULE, &POST, Fail, -700.0);
    // a plate without thickness is judged as 1 mm thick, but is as high as it is
    let thin = |h: f64| {
        let more = format!("surface: [Metal], z: ({h:?}, {h:?})");
        with_post("free_of: [Metal], tolerate_below: 50", (6000.0, 13000.0), &more)
    };
    assert_eq!(thin(50.0).one("thin and low enough", RULE, &POST).outcome, NotApplicable);
    thin(51.0).says("thin and 1 mm higher", RULE, &POST, Fail, -700.0);
    let top = |z: &str| with_post("free_of: [Anything]", (6000.0, 13000.0), z);
    top("z: (700, 700)").says("a table top stands in the way", RULE, &POST, Fail, -700.0);
    top("z: (0, 0)").silent("a plate in the floor does not", RULE, &POST);
    // on a lift it is counted from the bay's floor all the same: the zone, without heights, is not raised
    let raised = |tolerate: f64, high: f64| {
        Bench::new()
            .zone(&format!(
                r#"shape: Strip(line: Centre, from: "nose", along: (0, 5000), across: 3000), free_of: [Metal], tolerate_below: {tolerate:?}"#
            ))
            .bay(r#"lifts: [(name: "ramp", heights: [0, 500])]"#)
            .job(r#"support: Lift(name: "ramp", height: 500)"#)
            .fixture("post", "Box(at: (6000, 13000), size: (400, 400))", &format!("surface: [Metal], z: (0, {high:?})"))
            .check()
    };
    assert_eq!(raised(200.0, 200.0).one("raised, low", RULE, &POST).outcome, NotApplicable);
    raised(200.0, 201.0).says("raised, higher than that", RULE, &POST, Fail, -700.0);
    plate("tolerate_below: 50", 6700.0, 50.0).silent("not in the zone at all", RULE, &POST);
}

#[test]
fn walls_under_anything_and_by_surface() {
    let walls =
        r#"walls: [(side: 2, name: "north wall", surface: [Metal, Shine]), (side: 1, surface: [Metal])]"#;
    // the zone's far side is at y + 5800, its right side at x + 1500
    for (case, y, outcome, margin) in [
        ("clear by 1 mm", 14199.0, Tight, 1.0),
        ("exactly equal", 14200.0, Tight, 0.0),
        ("short by 1 mm", 14201.0, Fail, -1.0),
    ] {
        let any = strip("free_of: [Anything]").bay(walls).pose(5000.0, y, 0.0).check();
        any.says(case, RULE, &["field", "north wall"], outcome, margin);
        assert_eq!(any.of(RULE).len(), 1, "one finding for all walls");
        let metal = strip("free_of: [Metal]").bay(walls).pose(5000.0, y, 0.0).check();
        metal.says(case, RULE, &["field", "north wall"], outcome, margin);
        metal.says("each such side", RULE, &["field", "wall 1"], Pass, 3500.0);
        assert_eq!(metal.of(RULE).len(), 2, "and no other side");
    }
    let far = strip("free_of: [Metal]").bay(walls).pose(5000.0, 15000.0, 0.0).check();
    far.says("past its line", RULE, &["field", "north wall"], Fail, -800.0);
    strip("free_of: [Glass]").bay(walls).pose(5000.0, 15000.0, 0.0).check().idle("no side of glass", RULE);
}

#[test]
fn a_side_the_zone_does_not_face() {
    // L-shaped floor: side 2 runs from (10000, 12000) to (8000, 12000), the zone's right edge at 6500 is 1500 off its
    // end and 3800 past its line: measured to the side itself
    let floor = "[(0, 0), (10000, 0), (10000, 12000), (8000, 12000), (8000, 20000), (0, 20000)]";
    let found = strip("free_of: [Metal]").floor(floor).bay("walls: [(side: 2, surface: [Metal])]").check();
    found.says("beside its end", RULE, &["field", "wall 2"], Pass, 1500.0);
}

#[test]
fn a_side_counts_by_its_own_stretch() {
    // a nib 2000 deep stands out of the west wall, y 8000 to 9000. The vehicle looks west from (6000, 5000): the zone is x
    // 200 to 5200, from y 3500 to 6500, or to 8600.
    let floor =
        "[(0, 0), (10000, 0), (10000, 20000), (0, 20000), (0, 9000), (2000, 9000), (2000, 8000), (0, 8000)]";
    let zone = |left: f64, side: u32| {
        let zone = format!(
            r#"shape: Strip(line: Centre, from: "nose", along: (0, 5000), left: (-{left:?}, 1500)), free_of: [Metal]"#
        );
        let walls = format!("walls: [(side: {side}, surface: [Metal])]");
        Bench::new().floor(floor).bay(&walls).pose(6000.0, 5000.0, 90.0).zone(&zone).check()
    };
    // the nib's far side looks away: its line is passed by 5500, itself it is 9000 - 6500 off
    zone(1500.0, 4).says("behind its line, not before it", RULE, &["field", "wall 4"], Pass, 2500.0);
    zone(1500.0, 6).says("the near side", RULE, &["field", "wall 6"], Pass, 1500.0);
    zone(3600.0, 6).says("through the near side", RULE, &["field", "wall 6"], Fail, -600.0);
    // of the zone x 200 to 2000 lies squarely behind the nib's end
    zone(3600.0, 5).says("through its end", RULE, &["field", "wall 5"], Fail, -1800.0);
    zone(3600.0, 4).says("not through the far side", RULE, &["field", "wall 4"], Pass, 400.0);
}

#[test]
fn a_wall_is_told_once() {
    let walls = r#"walls: [(side: 2, name: "north wall", surface: [Metal]), (side: 1, surface: [Metal])]"#;
    let both = |y: f64| strip("free_of: [Metal, Anything]").bay(walls).pose(5000.0, y, 0.0).check();
    let far = both(14201.0);
    far.says("named as the nearest wall", RULE, &["field", "north wall"], Fail, -1.0);
    far.says("another side by its surface", RULE, &["field", "wall 1"], Pass, 3500.0);
    assert_eq!(far.of(RULE).len(), 2, "{:#?}", far.of(RULE));
    // nearest now: the west wall, which has no surface, so both others are told
    let near = both(8000.0);
    near.says("nearest", RULE, &["field", "wall 1"], Pass, 3500.0);
    near.says("another side", RULE, &["field", "north wall"], Pass, 6200.0);
    assert_eq!(near.of(RULE).len(), 2);
    // a shut door that shares its side's surface is that side
    let rear = r#"shape: Strip(line: Centre, from: "tail", along: (-3000, 0), left: (-1500, 1500)), z: (0, 3000), free_of: [Metal, Anything]"#;
    let door = r#"walls: [(side: 0, surface: [Metal])], doorways: [(name: "door", side: 0, from: 3000, width: 4000, height: 3000)]"#;
    let found = Bench::new().zone(rear).bay(door).pose(5000.0, 6100.0, 0.0).check();
    found.says("the door", RULE, &["field", "door"], Fail, -100.0);
    assert_eq!(found.of(RULE).len(), 1, "{:#?}", found.of(RULE));
}

#[test]
fn doors_by_their_surface() {
    let door = |own: &str| {
        format!(
            r#"walls: [(side: 0, surface: [Metal])], doorways: [(name: "door", side: 0, from: 3000, width: 4000, height: 3000, {own})]"#
        )
    };
    // behind the vehicle: x 3500 to 6500, tail at y - 3200, the zone's far side 3000 behind that
    let rear = r#"shape: Strip(line: Centre, from: "tail", along: (-3000, 0), left: (-1500, 1500)), z: (0, 3000), free_of: [Metal]"#;
    let check = |own: &str, job: &str| {
        Bench::new().zone(rear).bay(&door(own)).pose(5000.0, 6100.0, 0.0).job(job).check()
    };
    let shared = check("", "");
    shared.says(
        "a shut door without a surface is part of its side",
        RULE,
        &["field", "wall 0"],
        Fail,
        -100.0,
    );
    shared.silent("a shut door without a surface is part of its side", RULE, &["field", "door"]);
    let metal = check("surface: [Metal, Glass]", "");
    metal.says("with its own surface it is judged apart", RULE, &["field", "door"], Fail, -100.0);
    let wood = check("surface: []", "");
    wood.silent("a shut door of wood", RULE, &["field", "door"]);
    let open = check("surface: [Metal]", r#"doors_open: ["door"]"#);
    open.silent("an open door has no surface", RULE, &["field", "door"]);
}

#[test]
fn what_cannot_be_told() {
    let not_read = Bench::new().zone(r#"shape: NotRead("figure 12"), free_of: [Metal]"#).check();
    not_read.lacks("in a drawing", RULE, &["field"], &["figure 12"]);
    assert_eq!(not_read.judgement.verdict, Verdict::NotKnown);
    let values = r#"values: {"reach": Missing("cut"), "low": Missing("cut")}"#;
    let reach = STRIP.replace("5000", r#""reach""#);
    let found = Bench::new().procedure(values).zone(&format!("{reach}, free_of: [Metal]")).check();
    found.lacks("a length", RULE, &["field"], &["reach"]);
    let low = Bench::new()
        .procedure(values)
        .zone(&format!(r#"{STRIP}, free_of: [Metal], tolerate_below: "low""#))
        .check();
    low.lacks("what is tolerated", RULE, &["field"], &["low"]);
    let seen = Bench::new().zone(&format!("{STRIP}, seen: true")).check();
    assert_eq!(seen.one("to be seen", RULE, &["field"]).outcome, Unknown);
    let lost = BOARD.replace("Floor(300)", r#"Floor("low")"#);
    let around = format!(
        r#"{lost}, zones: [(name: "field", shape: Around(station: "board", beside: 1, above: 1, below: 1), free_of: [Light])]"#
    );
    Bench::new().procedure(values).setup(&around).check().lacks(
        "round a target without a place",
        RULE,
        &["field"],
        &["low"],
    );
}

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

/// Radar at (5000, 10700, 500), the middle of the board's face at (5000, 13000, 700): 2308.679 apart, so at 77 GHz the
/// first zone is sqrt(3.893409 * 2308.679) / 2 = 47.404 wide each way in the middle, y 11850 (Rec. ITU-R P.526).
#[test]
fn a_radars_fresnel_zone() {
    let radar = |more: &str, post: f64, z: &str| {
        Bench::new()
            .vehicle(r#"sensors: {"front radar": (kind: Radar, at: (700, 0, 500))}"#)
            .fixture("post", &format!("Box(at: ({:?}, 11850), size: (200, 20))", 5100.0 + post), z)
            .setup(&format!(
                r#"{BOARD}, zones: [(name: "field", shape: Fresnel(from: "front radar", to: "board", frequency_ghz: 77{more}), free_of: [Anything])]"#
            ))
            .check()
    };
    let wide = (299.792458f64 / 77.0 * 2300f64.hypot(200.0)).sqrt() / 2.0;
    assert!((wide - 47.404).abs() < 5e-4, "{wide}");
    for (case, gap, outcome) in
        [("clear by 1 mm", 1.0, Tight), ("equal", 0.0, Tight), ("short by 1 mm", -1.0, Fail)]
    {
        radar("", wide + gap, "z: (0, 2000)").says(case, RULE, &POST, outcome, gap);
    }
    // six tenths of it, the usual allowance
    radar(", part: 0.6", 0.6 * wide + 1.0, "z: (0, 2000)").says("a part of it", RULE, &POST, Tight, 1.0);
    // it reaches from 452.6 to 747.4 in height
    radar("", 0.0, "z: (0, 452)").silent("under it", RULE, &POST);
    radar("", 0.0, "z: (748, 2000)").silent("over it", RULE, &POST);
    assert_eq!(radar("", 0.0, "z: (0, 453)").one("in it", RULE, &POST).outcome, Fail);
    let none = Bench::new()
        .setup(&format!(
            r#"{BOARD}, zones: [(name: "field", shape: Fresnel(from: "front radar", to: "board", frequency_ghz: 77))]"#
        ))
        .check();
    none.lacks("no radar", RULE, &["field"], &["front radar"]);
}

#[test]
fn an_area_seen_by_a_sensor_is_judged_as_a_sight() {
    let seen = Bench::new()
        .vehicle(r#"sensors: {"rear camera": (kind: Camera, at: (-3200, 0, 1000), facing: 180)}"#)
        .setup(&format!(
            r#"name: "S", zones: [(name: "field", {STRIP}, seen: true)], sights: [(from: "rear camera", to: "field")]"#
        ))
        .check();
    assert_eq!(seen.one("with a sight", RULE, &["field"]).outcome, NotApplicable);
    assert_eq!(strip("seen: true").check().one("without", RULE, &["field"]).outcome, Unknown);
}
