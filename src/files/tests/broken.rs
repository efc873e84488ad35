//! Broken files and exactly what is said about them.

use super::super::fault::FileFault;
use super::super::read_text;
use super::faults;
use crate::model::{Bay, Job, Vehicle};
use std::path::Path;

const FLOOR: &str = "floor: [(0, 0), (5500, 0), (5500, 9000), (0, 9000)]";

/// A bay with more in it.
fn bay(more: &str) -> String {
    format!("(name: \"B\", {FLOOR},\n{more})")
}

#[test]
fn what_is_no_file_of_ours() {
    for (text, said) in [
        ("", "1:1: the file holds nothing"),
        ("  // only a comment\n", "2:1: the file holds nothing"),
        ("(name: \"B\", floor: [(0, 0), (1, 0)", "1:20: this `[` is never closed"),
        ("(name: \"B, floor: [])", "1:8: this text in quotes is never closed"),
        ("(name: \"B\", floor: [])]", "1:23: this `]` closes nothing"),
        ("(name: \"B\", /* floor: [])", "1:13: this comment is never closed"),
        (
            "(format: 3, floor: 5, nope: 7)",
            "1:10: this file has format 3; this version of the program reads format 1",
        ),
        ("(format: 0, floor: 5)", "1:10: this file has format 0; this version of the program reads format 1"),
        ("(format: \"1\", floor: 5)", "1:10: expected the number of the file format, found \"1\""),
        ("(format: 1.5, floor: 5)", "1:10: expected the number of the file format, found 1.5"),
    ] {
        assert_eq!(faults(text), [said], "{text}");
    }
}

#[test]
fn a_file_of_another_kind_is_named() {
    let text = "\n(name: \"V\", wheelbase: 2690, length: 4000)";
    let found = read_text::<Bay>(text, Path::new("v.ron")).expect_err("no bay");
    let said: Vec<String> = found.iter().map(FileFault::to_string).collect();
    assert_eq!(said, ["v.ron:2:1: expected a bay, but the fields here are those of a vehicle"]);
}

#[test]
fn fields_words_and_values_that_cannot_stand() {
    for (more, said) in [
        ("ceilng: 4200", "2:1: a bay has no field `ceilng`"),
        ("walls: [(side: 1, nane: \"w\")]", "2:19: a wall has no field `nane`"),
        ("walls: [(side: 1, surface: [Metl])]", "2:29: `Metl` is not a word that may stand here"),
        ("walls: [(side: -1)]", "2:16: expected the number of a side (0 is the first), found -1"),
        ("walls: 5", "2:8: expected a list in square brackets, found `5`"),
        ("walls: [5]", "2:9: expected a wall in round brackets, found `5`"),
        ("rules: (level: -1)", "2:16: a length of -1 is below zero"),
        ("rules: (level: 1, level: 2)", "2:19: `level` is given twice in the rules"),
        ("ceiling: 0", "2:10: expected a size above zero, found 0"),
        ("ceiling: \"high\"", "2:10: expected a number, found \"high\""),
        ("ceiling: NaN", "2:10: expected a finite number, found NaN"),
        ("ceiling: 1e9", "2:10: 1e9 is larger than 1 000 000 (1 km), the largest figure a file may hold"),
        ("ceiling: 4200 mm", "2:15: expected a comma or the closing `)`, found `mm`"),
        ("surveyed: tape", "2:11: expected a text in quotes, found `tape`"),
        (
            "surveyed: \"a\\q\"",
            "2:11: this text in quotes holds a backslash that means nothing; write \\\\ for a backslash",
        ),
        ("heights: [(1, 2)]", "2:11: expected 3 values in these brackets, found 2"),
        ("heights: [(1, 2, 3, 4)]", "2:11: expected 3 values in these brackets, found 4"),
        ("heights: [(1, 2, 3) (4, 5, 6)]", "2:21: expected a comma or the closing `]`, found `(`"),
        ("heights: [(1, 2, 3),, (4, 5, 6)]", "2:21: expected a value before this comma, found `,`"),
        ("fixtures: [(name: \"f\")]", "2:12: the fixture \"f\" lacks the field `shape`"),
        ("fixtures: [(shape: Round(at: (1, 1), diameter: 5))]", "2:12: a fixture lacks the field `name`"),
        (
            "fixtures: [(name: \"f\", shape: Disc(at: (1, 1), diameter: 5))]",
            "2:31: `Disc` is not a word that may stand here",
        ),
        (
            "fixtures: [(name: \"f\", shape: 5)]",
            "2:31: expected Box(...), Round(...) or Outline([...]), found 5",
        ),
        (
            "fixtures: [(name: \"f\", shape: Box(at: (1, 1), size: (5, 0)))]",
            "2:57: expected a size above zero, found 0",
        ),
        ("fixtures: [(name: \"f\", shape: Box(at: (1, 1)))]", "2:34: `Box` lacks the field `size`"),
        (
            "fixtures: [(name: \"f\", shape: Outline([(0, 0), (9, 9), (9, 0), (0, 9)]))]",
            "2:39: this outline cannot be used: side 1 crosses side 3",
        ),
        (
            "fixtures: [(name: \"f\", shape: Round(at: (1, 1), diameter: 5), z: (9, 3))]",
            "2:66: the first number of (9, 3) is above the second",
        ),
        (
            "fixtures: [(name: \"f\", shape: Round(at: (1, 1), diameter: 5), movable: yes)]",
            "2:72: expected true or false, found `yes`",
        ),
        (
            "fixtures: [(name: f, shape: Round(at: (1, 1), diameter: 5))]",
            "2:19: expected a name in quotes, found f",
        ),
        (
            "doorways: [(name: \"d\", side: 0, from: -1, width: 5, height: 5)]",
            "2:39: a length of -1 is below zero",
        ),
    ] {
        assert_eq!(faults(&bay(more)), [said], "{more}");
    }
}

#[test]
fn hints_name_the_nearest_and_the_known_ones() {
    let said = |text: &str| {
        let found = read_text::<Bay>(text, Path::new("b.ron")).expect_err("broken");
        found.iter().map(FileFault::to_string).collect::<Vec<_>>()
    };
    assert_eq!(
        said(&bay("rules: (lvel: 5, headrom: 3, zzz: 1)")),
        [
            "b.ron:2:9: the rules has no field `lvel`; did you mean `level`? the fields are `walk_around`, `clearance`, `headroom`, `measuring`, `level`",
            "b.ron:2:18: the rules has no field `headrom`; did you mean `headroom`? the fields are `walk_around`, `clearance`, `headroom`, `measuring`, `level`",
            "b.ron:2:30: the rules has no field `zzz`; the fields are `walk_around`, `clearance`, `headroom`, `measuring`, `level`",
        ]
    );
    assert_eq!(
        said(&bay("walls: [(side: 1, surface: [Metl])]")),
        [
            "b.ron:2:29: `Metl` is not a word that may stand here; did you mean `Metal`? the words are `Metal`, `Shine`, `Pattern`, `Light`, `Glass`, `Drain`"
        ]
    );
}

#[test]
fn all_faults_of_a_file_come_at_once_in_its_order() {
    let text = "(
    name: \"V\", lenght: 3000, width: -1800, height: 1500 wheelbase: 2500, front_overhang: 900,
    track: (front: 1500, raer: 1500), tyre: (width: 200), ground_clearance: inf, colour: \"red\",
    sensors: {\"a\": (kind: Camra, at: (1, 2), tilt: up), \"a\": (kind: Radar, at: (1, 2, 3))},
)";
    assert_eq!(
        faults(text),
        [
            "2:16: a vehicle has no field `lenght`",
            "2:24: the length of 3000 is less than front_overhang and wheelbase together, 3400",
            "2:37: expected a size above zero, found -1800",
            "2:57: expected a comma or the closing `)`, found `wheelbase`",
            "3:26: the track has no field `raer`",
            "3:45: the tyre lacks the field `diameter`",
            "3:77: expected a finite number, found inf",
            "3:82: a vehicle has no field `colour`",
            "4:27: `Camra` is not a word that may stand here",
            "4:38: expected 3 values in these brackets, found 2",
            "4:52: expected a number, found up",
            "4:57: \"a\" is given twice in this table",
        ]
    );
}

#[test]
fn columns_count_characters_and_lines_end_either_way() {
    let text = "\u{feff}(\r\n\tname: \"Prüfbüro ÄÖÜ\", flor: [(0, 0), (1, 0), (0, 1)], ceiling: x,\r\n)";
    assert_eq!(faults(text), ["2:24: a bay has no field `flor`", "2:65: expected a number, found x"]);
}

#[test]
fn nesting_without_end_is_refused_not_followed() {
    let deep = format!("(name: \"J\", bay: {}{}, vehicle: \"v\")", "(".repeat(5000), ")".repeat(5000));
    let found = read_text::<Job>(&deep, Path::new("j.ron")).expect_err("too deep");
    assert!(found.iter().any(|f| f.text == "brackets are nested too deeply here"), "{found:#?}");
    let long = format!("({}", "wheelbase: [".repeat(20000));
    assert!(read_text::<Vehicle>(&long, Path::new("v.ron")).is_err());
}

#[test]
fn an_outline_with_too_many_corners_is_refused_at_once() {
    let ring = |n: usize| -> String {
        let at = |i: usize| (i as f64 / n as f64 * std::f64::consts::TAU).sin_cos();
        (0..n).map(|i| format!("({}, {}), ", 9000.0 * at(i).1, 9000.0 * at(i).0)).collect()
    };
    let text = |n: usize| bay(&format!("fixtures: [(name: \"f\", shape: Outline([{}]))]", ring(n)));
    assert_eq!(faults(&text(2000)), [""; 0]);
    assert_eq!(faults(&text(2001)), ["2:39: this outline has 2001 corners; at most 2000 can be used"]);
    let floor = format!("(name: \"B\", floor: [{}])", ring(10_000));
    assert_eq!(faults(&floor), ["1:20: this outline has 10000 corners; at most 2000 can be used"]);
}
