//! The table of cases of the rule.

mod around;

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
