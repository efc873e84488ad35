//! Targets that stay while the vehicle is driven on.

use crate::bench::{Bench, at, bay, near};

const DRIVE_UP: &str = r#"
    setups: [
        (
            name: "Set", marks: [("P", Along(line: Centre, from: "N", by: 1000))],
            stations: [(name: "board", target: "board", at: "P", faces: Centre, height: Floor(300))],
        ),
        (
            name: "Back off", marks: [("P", Along(line: Centre, from: "N", by: 3500))],
            stations: [(name: "board", target: "board", at: "P", faces: Centre, height: Floor(300), fixed_to: Earlier("Set"))],
        ),
        (
            name: "Again near", marks: [("P", Along(line: Centre, from: "N", by: 1500))],
            stations: [(name: "board", target: "board", at: "P", faces: Centre, height: Floor(300), fixed_to: Earlier("Set"))],
        ),
    ]"#;

/// The board stays at 1000 before the nose of the first place; 3500 before the nose means 2500 farther back, and then
/// 2000 forward again.
#[test]
fn the_vehicle_is_driven_on() {
    let answer = Bench::new(DRIVE_UP).check();
    let board = |setup: &str| answer.station(setup, "board")["bay_mm"].clone();
    assert_eq!(board("Set"), board("Back off"));
    near(&board("Set")[1], 5000.0 + 950.0 + 1000.0);
    // marks are told in the axes of the vehicle as it then stands
    at(answer.mark("Back off", "P"), (4450.0, 0.0));
    let notes: Vec<&str> = answer.findings("readiness").iter().filter_map(|f| f["text"].as_str()).collect();
    let order = [
        "After Set, for Back off: leave board standing and drive 2500 mm back",
        "After Back off, for Again near: leave board standing and drive 2000 mm forward",
    ];
    for wanted in order {
        assert!(notes.contains(&wanted), "{wanted:?} in {notes:#?}");
    }
}

/// At its second place the vehicle meets what it did not meet at the first.
#[test]
fn the_second_place_is_judged_too() {
    // tail at 5000 - 3750 = 1250; driven back 2500 it is 1250 outside the floor
    let answer = Bench::new(DRIVE_UP).check();
    let outside: Vec<f64> = answer
        .findings("vehicle-clear")
        .iter()
        .filter(|f| f["setup"] == "Back off" && f["items"][0] == "vehicle")
        .filter_map(|f| f["have_mm"].as_f64())
        .collect();
    assert_eq!(outside.len(), 1);
    assert!((outside[0] + 1250.0).abs() < 0.01, "{outside:?}");
    assert_eq!(answer.verdict(), "does-not-fit");
    // and the headroom there: a low beam over the second place alone
    let beam = "fixtures: [(name: \"beam\", shape: Box(at: (5000, 5500), size: (6000, 200)), z: (1600, 1800), overhead: true)]";
    let far = Bench::new(DRIVE_UP).pose(5000.0, 9000.0, 0.0).bay(bay(20_000.0, beam)).check();
    let under: Vec<&serde_json::Value> =
        far.findings("headroom").into_iter().filter(|f| f["items"][1] == "beam").collect();
    let of: Vec<(&str, f64)> = under
        .iter()
        .map(|f| (f["setup"].as_str().unwrap_or(""), f["have_mm"].as_f64().unwrap_or(0.0)))
        .collect();
    assert_eq!(of, [("", 100.0), ("Back off", 100.0), ("Again near", 100.0)]);
    // nothing to say where the room is there
    let free = Bench::new(DRIVE_UP).pose(5000.0, 9000.0, 0.0).check();
    assert_eq!(free.verdict(), "fits");
}

/// Targets that cannot all stay, and one side after the other.
#[test]
fn what_stays_must_agree() {
    let torn = r#"
        setups: [
            (name: "Set", marks: [("P", Along(line: Centre, from: "N", by: 1000)), ("Q", Along(line: Centre, from: "N", by: 2000))],
             stations: [(name: "a", target: "board", at: "P", faces: Centre, height: Floor(300)), (name: "b", target: "board", at: "Q", faces: Centre, height: Floor(300))]),
            (name: "Next", marks: [("P", Along(line: Centre, from: "N", by: 1500)), ("Q", Along(line: Centre, from: "N", by: 2600))],
             stations: [
                (name: "a", target: "board", at: "P", faces: Centre, height: Floor(300), fixed_to: Earlier("Set")),
                (name: "b", target: "board", at: "Q", faces: Centre, height: Floor(300), fixed_to: Earlier("Set"))]),
        ]"#;
    let ran = Bench::new(torn).run(&["check", "job.ron"]);
    assert_eq!(ran.exit, 2);
    assert!(ran.err.contains("p.ron:") && ran.err.contains("disagree by 100.0 mm"), "{}", ran.err);

    // the other side's second setup keeps the other side's first targets
    let sides = r#"
        setups: [
            (name: "Left", mirrored: (name: "Right"), marks: [("P", Place(line: Centre, from: "N", along: 1000, left: 800))],
             stations: [(name: "board", target: "board", at: "P", faces: Centre, height: Floor(300))]),
            (name: "Left, off", mirrored: (name: "Right, off"), marks: [("P", Place(line: Centre, from: "N", along: 2000, left: 800))],
             stations: [(name: "board", target: "board", at: "P", faces: Centre, height: Floor(300), fixed_to: Earlier("Left"))]),
        ]"#;
    let answer = Bench::new(sides).check();
    let board = |setup: &str| answer.station(setup, "board")["bay_mm"].clone();
    assert_eq!(board("Left"), board("Left, off"));
    assert_eq!(board("Right"), board("Right, off"));
    assert_ne!(board("Left"), board("Right"));
}
