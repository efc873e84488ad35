//! `baywright corners`: bays as files in, JSON and a page out. All bays are invented.

use std::fs;

use serde_json::Value;

use crate::program::{answer, run};

/// A bay about 5.5 by 12 m with these tapes.
fn bay(taped: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let text = format!(
        "(name: \"Taped\", floor: [(0, 0), (5500, 0), (5500, 12000), (0, 12000)], ceiling: 3000,
            doorways: [(name: \"roller door\", side: 0, from: 900, width: 3600, height: 3000)], taped: [{taped}])"
    );
    fs::write(folder.path().join("bay.ron"), text).unwrap();
    folder
}

fn corners(taped: &str) -> (Value, i32) {
    answer(bay(taped).path(), &["corners", "bay.ron", "--json"])
}

const SIX: &str = "(0, 1, 5502), (1, 2, 11996), (2, 3, 5498), (3, 0, 12003), (0, 2, 13200)";
const JAMBS: &str = "(2, Jamb(\"roller door\", From), 12860), (3, Jamb(\"roller door\", From), 12035),
    (2, Jamb(\"roller door\", To), 12040), (3, Jamb(\"roller door\", To), 12830)";

/// Worked out by a general-purpose library: SciPy 1.17.1, `optimize.least_squares` with tolerances of 1e-15 on the same ten
/// readings, their standard error 2 mm; errors from its Jacobian.
#[test]
fn the_corners_are_those_of_a_general_purpose_library() {
    let (told, exit) = corners(&format!("{SIX}, (1, 3, 13203), {JAMBS}"));
    let near = |value: &Value, want: f64, within: f64| {
        let value = value.as_f64().unwrap();
        assert!((value - want).abs() < within, "{value} is not {want}");
    };
    let wanted = [(0.0, 0.0), (5502.05352, 0.0), (5502.06351, 11998.4956), (3.824285, 12003.5533)];
    for (corner, (x, y)) in told["corners"].as_array().unwrap().iter().zip(wanted) {
        near(&corner["x_mm"], x, 1e-3);
        near(&corner["y_mm"], y, 1e-3);
    }
    for (n, error) in [(1, [1.941138, 0.0]), (2, [4.387504, 1.385442]), (3, [4.407624, 1.37835])] {
        near(&told["corners"][n]["error_mm"][0], error[0], 1e-3);
        near(&told["corners"][n]["error_mm"][1], error[1], 1e-3);
    }
    assert_eq!(told["jambs"][0]["door"], "roller door");
    near(&told["jambs"][0]["from_mm"], 874.31101, 1e-3);
    near(&told["jambs"][0]["to_mm"], 4532.5722, 1e-3);
    let residuals = [
        0.053521, 2.495578, 0.241554, 0.553863, -0.128826, -0.128515, 0.015138, 0.075316, -2.400176,
        -0.547617,
    ];
    for (reading, want) in told["readings"].as_array().unwrap().iter().zip(residuals) {
        near(&reading["residual_mm"], want, 1e-4);
        assert_eq!(reading["doubt"], false);
    }
    assert_eq!(told["readings"][6]["to"], "roller door from");
    near(&told["sigma0"], 1.0285762, 1e-5);
    assert_eq!((&told["determined"], &told["redundant"], exit), (&Value::from(true), &Value::from(3), 0));
}

#[test]
fn with_one_reading_to_spare_none_is_pointed_at() {
    let (told, exit) = corners(&format!("{SIX}, (1, 3, 13243)"));
    assert_eq!((exit, &told["redundant"]), (1, &Value::from(1)));
    assert!(told["readings"].as_array().unwrap().iter().all(|r| r["doubt"] == false), "{told}");
    let says = told["says"].as_str().unwrap();
    assert!(
        says.starts_with("One of the readings is wrong, and with 1 reading to spare it cannot be told which")
    );
    assert_eq!(told["tape_next"][0], serde_json::json!(["2", "roller door from"]));
    // and the tapes it asks for settle it
    assert_eq!(told["tape_next"].as_array().unwrap().len(), 4);
    let asked = "(2, Jamb(\"roller door\", From), 12860), (3, Jamb(\"roller door\", From), 12035),
        (0, Jamb(\"roller door\", From), 875), (1, Jamb(\"roller door\", From), 4628)";
    let (told, exit) = corners(&format!("{SIX}, (1, 3, 13243), {asked}"));
    let doubted: Vec<bool> =
        told["readings"].as_array().unwrap().iter().map(|r| r["doubt"] == true).collect();
    assert_eq!(
        (exit, doubted.iter().position(|d| *d), doubted.iter().filter(|d| **d).count()),
        (1, Some(5), 1)
    );
    let says = told["says"].as_str().unwrap();
    assert!(says.contains("corner 1 to corner 3 (13 243 mm)") || says.contains("13\u{a0}243"), "{says}");
    assert!(says.contains("too much"), "{says}");
}

/// Six tapes of a rectangle check each other; a fifth corner hangs on two more, one of them 1500 mm off.
#[test]
fn a_reading_that_no_other_checks_is_never_shown_as_fine() {
    let folder = tempfile::tempdir().unwrap();
    let write = |more: &str| {
        let floor = "(0, 0), (5500, 0), (5500, 12000), (0, 12000), (-900, 6000)";
        let text = format!(
            "(name: \"Taped\", floor: [{floor}], ceiling: 3000, taped: [{SIX}, (1, 3, 13203), (3, 4, 7567), (4, 0, 6067) {more}])"
        );
        fs::write(folder.path().join("bay.ron"), text).unwrap();
    };
    write("");
    let (told, exit) = answer(folder.path(), &["corners", "bay.ron", "--json"]);
    let says = told["says"].as_str().unwrap().replace(['\u{a0}', '\u{202f}'], " ");
    assert!(exit == 0 && says.starts_with("The readings that check each other fit; 1 reading to spare."));
    assert!(
        says.contains("No other reading checks corner 3 to corner 4 (7 567 mm), corner 4 to corner 0 (6 067 mm): a mistake there would not be seen."),
        "{says}"
    );
    assert!(says.ends_with("To check, tape corner 2 to corner 4."), "{says}");
    let checked: Vec<&Value> = told["readings"].as_array().unwrap().iter().map(|r| &r["checked"]).collect();
    assert_eq!(checked, [true, true, true, true, true, true, false, false]);
    assert_eq!(told["tape_next"], serde_json::json!([["2", "4"]]));
    let page = run(folder.path(), &["corners", "bay.ron"]).out;
    assert_eq!(page.matches("NOT CHECKED").count(), 2, "{page}");
    // and the tape it asks for shows it
    write(", (2, 4, 8773)");
    let (told, exit) = answer(folder.path(), &["corners", "bay.ron", "--json"]);
    assert!(exit == 1 && told["says"].as_str().unwrap().contains("is wrong"), "{told}");
}

#[test]
fn what_is_still_needed_is_named() {
    let (told, exit) = corners("(0, 1, 5500), (1, 2, 12000), (2, 3, 5500), (3, 0, 12000)");
    assert_eq!((exit, &told["determined"]), (2, &Value::from(false)));
    assert_eq!(
        told["says"],
        "1 reading is missing: the tapes do not settle where corner 2, corner 3 are. Tape corner 0 to corner 2."
    );
    assert_eq!(told["readings"][0]["residual_mm"], Value::Null);
    let (told, _) = corners("(0, 1, 5500)");
    assert_eq!(told["tape_next"].as_array().unwrap().len(), 4, "{told}");
    let (told, exit) = corners("");
    assert!(exit == 2 && told["says"].as_str().unwrap().starts_with("The bay lists no tapes"), "{told}");
    // exactly enough: nothing checks anything
    let (told, exit) = corners("(0, 1, 5500), (1, 2, 12000), (2, 3, 5500), (3, 0, 12000), (0, 2, 13200)");
    assert_eq!((exit, &told["redundant"], &told["sigma0"]), (0, &Value::from(0), &Value::Null));
    assert!(told["says"].as_str().unwrap().contains("no reading checks another"));
}

#[test]
fn a_page_says_the_same_and_bad_tapes_are_refused_by_name() {
    let folder = bay(&format!("{SIX}, (1, 3, 13203)"));
    let ran = run(folder.path(), &["corners", "bay.ron"]);
    assert!(
        ran.exit == 0 && ran.out.contains("The readings fit each other; 1 reading to spare."),
        "{}",
        ran.out
    );
    for (taped, fault) in [
        ("(0, 9, 13200)", "the floor has no corner 9; its 4 corners are numbered 0 to 3"),
        ("(1, 1, 40)", "a tape runs from 1 to itself"),
        ("(2, Jamb(\"rolle door\", From), 3)", "no doorway \"rolle door\"; did you mean \"roller door\"?"),
        ("(2, Jamb(\"roller door\", Left), 3)", "From"),
        (
            "(x, 2, 5)",
            "expected the number of a corner (0 is the first) or Jamb(\"a door\", From or To), found x",
        ),
        ("(0, 2, -4)", "expected a size above zero"),
        ("(0, 2, 1e9)", "(1 km), the largest figure a file may hold"),
        ("(0, 1)", "3"),
    ] {
        let folder = bay(taped);
        for command in ["corners", "validate"] {
            let ran = run(folder.path(), &[command, "bay.ron"]);
            let said = ran.out + &ran.err;
            assert!(ran.exit == 2 && said.contains(fault), "{taped}: {said}");
        }
    }
    let crossed =
        corners("(0, 1, 5500), (1, 2, 12000), (2, 3, 19000), (3, 0, 12000), (0, 2, 13200), (1, 3, 4000)").0;
    assert_ne!(crossed["says"], Value::Null);
    let ran = run(bay("(0, 1, 5500)").path(), &["corners", "bay.ron", "--tape-error", "0"]);
    assert!(ran.exit == 2 && ran.err.contains("not 0 altogether"), "{}", ran.err);
}
