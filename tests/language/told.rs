//! What is told and drawn: lines on faces and on the floor, tolerances, printed figures, dates, readings, strings.

use serde_json::{Value, json};

use crate::bench::{Bench, bay, near};

const PAPER: &str = r#"
    printed: {"distance": "3 m (9.84 ft)"}, valid: (from: "2019-03", until: "2022-11"), readings: ["cut-off height before"],
    values: {"distance": 3000},
    setups: [(
        name: "S", readings: ["cut-off height after"],
        marks: [("LL", Under(Sensor("left headlamp"))), ("V", Along(line: Centre, from: "N", by: "distance")), ("VL", Foot(line: Square(line: Centre, at: "V"), from: "LL"))],
        stations: [(
            name: "paper", target: "wall field", at: "V", faces: Centre, height: Floor(100),
            tolerance: (along: 5, across: 4, turn: 0.5, roll: 1, tilt: 2, up: 3),
            on_face: [Upright("V"), Upright("VL"), Level(Sensor("left headlamp"), -10), At(900)],
        )],
        draw: [(from: "LL", to: "VL", width: 20), (from: "V", to: "VL")],
    )]"#;

#[test]
fn lines_on_faces_and_floor() {
    let answer = Bench::new(PAPER).check();
    let lines = answer.0["face_lines"].as_array().expect("face lines");
    // the paper looks back: the car's left lamp, 650 to the car's left, is to the paper's own right
    let wanted = [
        ("V", Some(0.0), None, None),
        ("VL", Some(-650.0), None, None),
        ("left headlamp", None, Some(590.0), Some(690.0)),
        ("the height given", None, Some(800.0), Some(900.0)),
    ];
    assert_eq!(lines.len(), wanted.len());
    for (line, (through, left, above, height)) in lines.iter().zip(wanted) {
        assert_eq!(line["through"], through);
        for (key, value) in [("left_mm", left), ("above_edge_mm", above), ("height_mm", height)] {
            match value {
                Some(value) => near(&line[key], value),
                None => assert_eq!(line[key], Value::Null),
            }
        }
    }
    let chalk = answer.0["chalk"].as_array().expect("chalk");
    assert_eq!(chalk[0]["bay_mm"], json!([[4350.0, 5800.0], [4350.0, 8950.0]]));
    assert_eq!((&chalk[0]["width_mm"], &chalk[1]["width_mm"]), (&json!(20.0), &Value::Null));
    let page = Bench::new(PAPER).page();
    for line in [
        "TO SET AND TO DRAW",
        "Paper: within along ±5.0 mm, across ±4.0 mm, up ±3.0 mm, turn ±0.50°, roll ±1.00°, tilt ±2.00°",
        "Paper: upright line through V, in its middle",
        "Paper: upright line through VL, 650.0 mm to its own right of its middle",
        "Paper: level line at left headlamp, 590.0 mm above its lower edge (690.0 mm above the tyres' plane)",
        "Chalk from LL to VL, 3\u{a0}150.0 mm, 20 mm wide",
    ] {
        assert!(page.contains(line), "{line:?} in {page}");
    }
    let told = &answer.station("S", "paper")["tolerance"];
    assert_eq!(
        (&told["roll_deg"], &told["tilt_deg"], &told["up_mm"]),
        (&json!(1.0), &json!(2.0), &json!(3.0))
    );
}

#[test]
fn printed_figures_dates_and_readings() {
    let answer = Bench::new(PAPER).check();
    for words in [
        "Distance is printed as 3 m (9.84 ft)",
        "This text applies from 2019-03 until 2022-11",
        "Write down: cut-off height before",
        "Write down: cut-off height after",
    ] {
        answer.tells("readiness", words);
    }
    let setup =
        r#"zones: [(name: "nothing asked", shape: AroundVehicle(ahead: 0, behind: 0, left: 0, right: 0))]"#;
    let plain = Bench::setup(setup).check();
    assert!(plain.findings("readiness").iter().all(|f| f["items"] == json!([])), "nothing to confirm");
    assert_eq!(plain.0["face_lines"], json!([]));
    assert!(!Bench::setup(setup).page().contains("TO SET AND TO DRAW"));
}

/// A string over the roof, 1500 high, wants the shop's headroom above it for its whole reach.
#[test]
fn headroom_above_a_string_over_the_roof() {
    let string = |over: bool| {
        format!("lines: [(line: Centre, from: \"tail\", reach: (500, 6000), over_vehicle: {over})]")
    };
    let beam = |z: f64| {
        // above the car's way out, 300 before its nose: not over the vehicle itself
        bay(
            20_000.0,
            &format!(
                "fixtures: [(name: \"beam\", shape: Box(at: (5000, 6300), size: (3000, 100)), z: ({z:?}, 3500), overhead: true)]"
            ),
        )
    };
    let item = ["string from tail", "beam"];
    for (z, outcome, have) in [(1640.0, "fail", 140.0), (1650.0, "tight", 150.0), (2000.0, "pass", 500.0)] {
        let answer = Bench::setup(&string(true)).bay(beam(z)).check();
        answer.says("headroom", &item, outcome, have, have - 150.0);
        answer.says("headroom", &["string from tail", "ceiling"], "pass", 2500.0, 2350.0);
    }
    let low = Bench::setup(&string(false)).bay(beam(1640.0)).check();
    assert!(low.findings("headroom").iter().all(|f| f["items"][0] != "string from tail"));
    // it ends 6000 before the tail: a beam beyond that is not above it
    let short = Bench::setup(&string(true).replace("6000", "4000")).bay(beam(1640.0)).check();
    assert!(short.findings("headroom").iter().all(|f| f["items"][1] != "beam"));
}

/// An area to be seen is not an area to be kept empty; it is not judged as one.
#[test]
fn areas_to_be_seen() {
    let zone = |more: &str| {
        format!(
            "zones: [(name: \"patch\", shape: Strip(line: Centre, from: \"N\", along: (0, 2000), across: 2000), z: (0, 3000){more})]"
        )
    };
    let hall = || {
        bay(
            20_000.0,
            "fixtures: [(name: \"bench\", shape: Box(at: (5000, 7000), size: (300, 300)), z: (0, 900))]",
        )
    };
    let kept = Bench::setup(&zone(", free_of: [Anything]")).bay(hall()).check();
    assert_eq!(kept.finding("clear-zone", &["patch", "bench"])["outcome"], "fail");
    let seen = Bench::setup(&zone(", seen: true, free_of: [Anything]")).bay(hall()).check();
    assert!(seen.findings("clear-zone").iter().all(|f| f["items"][1] != "bench"));
    assert!(seen.findings("headroom").iter().all(|f| f["items"][0] != "patch"));
}
