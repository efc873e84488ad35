//! Targets and marks whose place the bay decides: walls, installed things, painted lines.

use crate::bench::{Bench, bay, near};

/// HL-02: a plain wall 7.62 m (25 ft) before the lenses, 1.83 x 3.66 m of it clear. From: Saturn Vue 2007, visual aiming
/// preparation.
const WALL_25_FT: &str = r#"
    marks: [("LL", Under(Sensor("left headlamp"))), ("LR", Under(Sensor("right headlamp"))), ("M", Midway("LL", "LR")), ("V", Along(line: Centre, from: "M", by: 7620))],
    stations: [(name: "wall", target: "wall field", at: "V", faces: Centre, height: Floor(0), fixed_to: Wall)]"#;

/// HL-04: white paper about 2 x 4 m on a wall at 25 m, or exactly 3 m. From: Toyota repair manual, headlight assembly
/// adjustment.
const WALL_3_M: &str = r#"
    values: {"distance": OneOf([25000, 3000])},
    setups: [(
        name: "S",
        marks: [("LL", Under(Sensor("left headlamp"))), ("LR", Under(Sensor("right headlamp"))), ("M", Midway("LL", "LR")), ("V", Along(line: Centre, from: "M", by: "distance"))],
        stations: [(name: "paper", target: "paper", at: "V", faces: Centre, height: Floor(0), fixed_to: Wall, tolerance: (along: 20, turn: 1))],
    )]"#;
const PAPER: &str = r#""paper": (kind: Screen, face: (width: 4000, height: 2000, thickness: 1), owned: 1)"#;

/// The front axle stands 5000 into the hall and the lamps 800 before it: the wall belongs at 13 420.
#[test]
fn a_wall_too_near_right_and_too_far() {
    for (depth, have, outcome) in
        [(13_120.0, -300.0, "fail"), (13_420.0, 0.0, "pass"), (13_720.0, 300.0, "fail")]
    {
        let answer = Bench::setup(WALL_25_FT).bay(bay(depth, "")).check();
        answer.says("fixed-place", &["wall", "north wall", "along"], outcome, have, 15.0 - have.abs());
        let along = answer.finding("fixed-place", &["wall", "north wall", "along"]);
        assert_eq!(along["need_mm"], 15.0, "the shop's measuring figure stands in");
        match outcome {
            "pass" => assert_eq!(along["help"], serde_json::Value::Null),
            _ => {
                let text = along["text"].as_str().expect("text");
                let help = along["help"].as_str().expect("help");
                let (word, way) =
                    if have < 0.0 { ("too near", "toward the door") } else { ("too far", "into the bay") };
                assert!(text.contains("300 mm") && text.contains(word), "{text}");
                assert!(help.starts_with(&format!("Move the vehicle 300 mm {way}: ")), "{help}");
            }
        }
        assert_eq!(answer.verdict(), if outcome == "pass" { "fits" } else { "does-not-fit" });
        if have < 0.0 {
            near(&answer.0["margin_mm"], -285.0);
        }
        answer.says(
            "fixed-place",
            &["wall", "north wall", "turn"],
            "pass",
            0.0,
            (15.0f64 / 1830.0).atan().to_degrees(),
        );
        // the wall it hangs on is no obstacle to it, the others are
        assert!(answer.findings("target-clear").iter().all(|f| f["items"][1] != "north wall"));
        // bare wall: 10 m of it, the face 3.66 m in its middle
        answer.says("fixed-place", &["wall", "north wall"], "pass", 3170.0, 3170.0);
    }
}

#[test]
fn paper_at_3_m_or_25_m() {
    for (distance, right) in [(3000.0, 8800.0), (25_000.0, 30_800.0)] {
        for (off, outcome) in [
            (-300.0, "fail"),
            (-20.0, "pass"),
            (0.0, "pass"),
            (20.0, "pass"),
            (20.1, "fail"),
            (300.0, "fail"),
        ] {
            let bench = Bench::new(WALL_3_M).targets(PAPER).bay(bay(right + off, ""));
            let answer = bench.job(&format!("choose: {{\"distance\": {distance:?}}}")).check();
            answer.says("fixed-place", &["paper", "north wall", "along"], outcome, off, 20.0 - f64::abs(off));
        }
    }
    // which of the two is not chosen yet
    let open = Bench::new(WALL_3_M).targets(PAPER).check();
    assert_eq!(open.verdict(), "not-known");
    assert_eq!(open.finding("target-clear", &["paper"])["missing"][0], "distance");
}

/// Backed up to a wall the drive goes the other way; askew, the vehicle has to be turned.
#[test]
fn the_help_is_said_as_the_driver_drives() {
    let behind = r#"
        marks: [("V", Along(line: Centre, from: "T", by: -2000))],
        stations: [(name: "wall", target: "wall field", at: "V", looks: Forward, height: Floor(0), fixed_to: Wall)]"#;
    // the tail is at 5000 + 3750 when backed in, the mark 2000 behind it: 10 750
    let answer = Bench::setup(behind).pose(5000.0, 5000.0, 180.0).bay(bay(10_450.0, "")).check();
    let along = answer.finding("fixed-place", &["wall", "north wall", "along"]);
    near(&along["have_mm"], -300.0);
    let help = along["help"].as_str().expect("help");
    assert!(help.starts_with("Move the vehicle 300 mm toward the door: 285 mm short now, "), "{help}");

    let askew = Bench::setup(WALL_25_FT).pose(5000.0, 5000.0, 2.0).bay(bay(13_420.0, "")).check();
    let turn = askew.finding("fixed-place", &["wall", "north wall", "turn"]);
    assert_eq!((turn["outcome"].as_str(), turn["unit"].as_str()), (Some("fail"), Some("deg")));
    near(&turn["have_mm"], -2.0);
    let help = turn["help"].as_str().expect("help");
    assert!(help.starts_with("Turn the vehicle 2.00° clockwise, seen from above: "), "{help}");
    // along its facing the mark is 8420 cos 2° + 5000 into the hall
    let by = (13_420.0 - 5000.0 - 8420.0 * 2f64.to_radians().cos()) / 2f64.to_radians().cos();
    near(&askew.finding("fixed-place", &["wall", "north wall", "along"])["have_mm"], by);
}

#[test]
fn bare_wall() {
    // the face covers 3170 to 6830 of the far wall, which runs from x 10 000 to 0
    let door = |from: f64, height: f64| {
        format!("doorways: [(name: \"gate\", side: 2, from: {from:?}, width: 1000, height: {height:?})]")
    };
    for (from, have, outcome) in
        [(2270.0, -100.0, "fail"), (2170.0, 0.0, "tight"), (2000.0, 170.0, "pass"), (4500.0, -2330.0, "fail")]
    {
        let answer = Bench::setup(WALL_25_FT).bay(bay(13_420.0, &door(from, 2400.0))).check();
        answer.says("fixed-place", &["wall", "gate"], outcome, have, have);
        if outcome == "fail" {
            answer.tells("fixed-place", "takes");
        }
    }
    // a hatch that ends below the target, and one above it, leave it bare
    let high = WALL_25_FT.replace("height: Floor(0)", "height: Floor(2500)");
    let answer = Bench::setup(&high).bay(bay(13_420.0, &door(4500.0, 2400.0))).check();
    assert!(answer.findings("fixed-place").iter().all(|f| f["items"][1] != "gate"));

    let cabinet = |y: f64, more: &str| {
        format!(
            "fixtures: [(name: \"cabinet\", shape: Box(at: (4000, {y:?}), size: (500, 400)), z: (0, 1800){more})], "
        )
    };
    for (y, more, outcome) in
        [(13_220.0, "", "fail"), (13_000.0, "", "fail"), (13_220.0, ", movable: true", "movable")]
    {
        let hall = bay(13_420.0, &cabinet(y, more)).replace("walk_around: 0", "walk_around: 600");
        let answer = Bench::setup(WALL_25_FT).bay(hall).check();
        let found = answer.finding("fixed-place", &["wall", "cabinet"]);
        // it reaches from 3750 to 4250, the face from 3170: 4250 - 3170 to be shifted
        assert_eq!(found["outcome"], outcome);
        near(&found["have_mm"], -1080.0);
    }
    // 700 before the wall it stands where people walk, not before the target
    let hall = bay(13_420.0, &cabinet(12_500.0, "")).replace("walk_around: 0", "walk_around: 600");
    let answer = Bench::setup(WALL_25_FT).bay(hall).check();
    assert!(answer.findings("fixed-place").iter().all(|f| f["items"][1] != "cabinet"));
}

#[test]
fn no_wall_behind_the_target() {
    // a hall whose far side is slanted by more than 45 degrees
    let hall = "(name: \"Slant\", floor: [(0, 0), (10000, 0), (10000, 4000), (5000.5, 30000), (4999.5, 30000), (0, 4000)], ceiling: 4000, rules: (walk_around: 0))";
    let answer = Bench::setup(&WALL_25_FT.replace(
        "V\", Along(line: Centre, from: \"M\", by: 7620)",
        "V\", Place(line: Centre, from: \"M\", along: 7620, left: 1000)",
    ))
    .bay(hall.into())
    .check();
    let found = answer.finding("fixed-place", &["wall"]);
    assert_eq!(found["outcome"], "fail");
    answer.tells("fixed-place", "no wall behind it");
}

/// An installed screen wants the vehicle along, across and square.
#[test]
fn an_installed_thing() {
    let fixed = r#"
        marks: [("P", Along(line: Centre, from: "FA", by: 6000))],
        stations: [(name: "board", target: "board", at: "P", faces: Centre, height: Floor(300), fixed_to: Bay("mirror rail"), tolerance: (along: 10, across: 5, turn: 0.5))]"#;
    for (x, y, turn, along, across, degrees) in [
        (5000.0, 11_000.0, 180.0, 0.0, 0.0, 0.0),
        (5000.0, 11_008.0, 180.0, 8.0, 0.0, 0.0),
        (5000.0, 10_988.0, 180.0, -12.0, 0.0, 0.0),
        // the target looks back, its own left is +x; it lies 6 mm to that side of a thing at 4994
        (4994.0, 11_000.0, 180.4, 0.0, 6.0, 0.4),
        (5003.0, 11_000.0, 179.0, 0.0, -3.0, -1.0),
    ] {
        let more = format!(
            "installed: [(name: \"mirror rail\", target: \"board\", at: ({x:?}, {y:?}), turn: {turn:?})]"
        );
        let answer = Bench::setup(fixed).bay(bay(20_000.0, &more)).check();
        for (axis, have, limit) in [("along", along, 10.0), ("across", across, 5.0), ("turn", degrees, 0.5)] {
            let outcome = if f64::abs(have) <= limit { "pass" } else { "fail" };
            answer.says(
                "fixed-place",
                &["board", "mirror rail", axis],
                outcome,
                have,
                limit - f64::abs(have),
            );
        }
        // it stays where it is: nothing of the bay is held against it
        assert!(answer.findings("target-clear").iter().all(|f| f["items"] == serde_json::json!([])));
        let across_finding = answer.finding("fixed-place", &["board", "mirror rail", "across"]);
        if across == 6.0 {
            // the board must go to -x, so the vehicle (heading 0) to its left
            let help = across_finding["help"].as_str().expect("help");
            assert!(help.starts_with("Move the vehicle 5 mm to the left: 1 mm short now, "), "{help}");
        }
    }
}

#[test]
fn a_mark_on_a_painted_line() {
    let on = r#"
        marks: [("LL", Under(Sensor("left headlamp"))), ("LR", Under(Sensor("right headlamp"))), ("M", Midway("LL", "LR"))],
        stand_on: (mark: "M", floor_line: "lamp line", within: 10)"#;
    // M lies at (5000, 5800); the line runs to the right, so a mark behind it lies to its right
    for (line_y, have, outcome) in
        [(5800.0, 0.0, "pass"), (5790.0, 10.0, "pass"), (5811.0, -11.0, "fail"), (5780.0, 20.0, "fail")]
    {
        let more =
            format!("floor_lines: [(name: \"lamp line\", points: [(1000, {line_y:?}), (9000, {line_y:?})])]");
        let answer = Bench::setup(on).bay(bay(20_000.0, &more)).check();
        answer.says("fixed-place", &["M", "lamp line", "line"], outcome, have, 10.0 - f64::abs(have));
        if have == 20.0 {
            let finding = answer.finding("fixed-place", &["M", "lamp line", "line"]);
            let help = finding["help"].as_str().expect("help");
            assert!(help.starts_with("Move the vehicle 20 mm toward the door: 10 mm short now, "), "{help}");
        }
    }
    // beyond its end the nearest end counts: 3-4-5
    let more = "floor_lines: [(name: \"lamp line\", points: [(1000, 5840), (4970, 5840)])]";
    let answer = Bench::setup(on).bay(bay(20_000.0, more)).check();
    answer.says("fixed-place", &["M", "lamp line", "line"], "fail", 50.0, -40.0);
    // a mark every setup knows may be named too
    let nose = Bench::setup("stand_on: (mark: \"front axle\", floor_line: \"axle line\")")
        .bay(bay(20_000.0, "floor_lines: [(name: \"axle line\", points: [(1000, 5000), (9000, 5000)])]"))
        .check();
    nose.says("fixed-place", &["front axle", "axle line", "line"], "pass", 0.0, 15.0);
}
