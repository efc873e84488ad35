//! A workshop's file: what of it is refused and doubted, and what `corners` takes from it.

use std::fs;
use std::path::Path;

use super::program::{answer, run};

/// A folder with a workshop's file and a taped bay below it.
fn shop(workshop: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir_all(folder.path().join("bays/old")).unwrap();
    fs::write(folder.path().join("workshop.ron"), workshop).unwrap();
    let bay = "(name: \"Taped\", floor: [(0, 0), (5500, 0), (5500, 12000), (0, 12000)],
        taped: [(0, 1, 5502), (1, 2, 11996), (2, 3, 5498), (3, 0, 12003), (0, 2, 13200)])";
    fs::write(folder.path().join("bays/old/bay.ron"), bay).unwrap();
    folder
}

/// The standard error in x of corner 1, which hangs on one tape alone.
fn error(folder: &Path, more: &[&str]) -> f64 {
    let args: Vec<&str> = ["corners", "bays/old/bay.ron", "--json"].iter().chain(more).copied().collect();
    answer(folder, &args).0["corners"][1]["error_mm"][0].as_f64().unwrap()
}

#[test]
fn corners_takes_the_tape_of_the_nearest_workshop() {
    let one = shop("(name: \"Yard\", tape: (error: 6))");
    let usual = shop("(name: \"Yard\")");
    let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-3, "{a} is not {b}");
    near(error(one.path(), &[]), 3.0 * error(usual.path(), &[]));
    // what is given on the line counts, whatever the workshop says
    near(error(one.path(), &["--tape-error", "2"]), error(usual.path(), &[]));
    // nearer to the bay another workshop begins
    fs::write(one.path().join("bays/workshop.ron"), "(name: \"Own\", tape: (error: 4))").unwrap();
    near(error(one.path(), &[]), 2.0 * error(usual.path(), &[]));
    let long = shop("(name: \"Yard\", tape: (error: 2, per_metre: 1))");
    assert!(error(long.path(), &[]) > error(usual.path(), &[]));
    near(error(long.path(), &["--per-metre", "0"]), error(usual.path(), &[]));
}

#[test]
fn a_tape_that_cannot_be_read_is_not_guessed() {
    let broken = shop("(name: \"Yard\", tape: (error: -1))");
    let ran = run(broken.path(), &["corners", "bays/old/bay.ron"]);
    assert_eq!(ran.exit, 2, "{}", ran.out);
    assert!(ran.err.contains("workshop.ron:1:22: the tape's error is from 0 to 1000 mm"), "{}", ran.err);
    assert!(error(broken.path(), &["--tape-error", "2"]) > 0.0);
}

#[test]
fn the_demonstration_is_a_workshop_without_a_fault() {
    let ran = run(Path::new(env!("CARGO_MANIFEST_DIR")), &["validate", "demo/workshop.ron"]);
    assert_eq!((ran.exit, ran.out.as_str()), (0, "demo/workshop.ron: nothing wrong\n"));
}

#[test]
fn a_workshop_needs_no_more_than_its_name() {
    let ran = run(shop("(name: \"Yard\")").path(), &["validate", "workshop.ron"]);
    assert_eq!((ran.exit, ran.out.as_str()), (0, "workshop.ron: nothing wrong\n"));
}

#[test]
fn every_fault_of_a_workshop_is_told_at_its_place() {
    for (text, place, says) in [
        ("(name: \" \", people: [])", "1:8", "a workshop needs a name"),
        ("(name: \"W\", folders: (bays: \"/srv/bays\"))", "1:29", "not relative to the workshop's folder"),
        ("(name: \"W\", folders: (jobs: \"a\\\\b\"))", "1:29", "write / between folders"),
        (
            "(name: \"W\", folders: (bay: \"b\"))",
            "1:23",
            "the folders has no field `bay`; did you mean `bays`?",
        ),
        ("(name: \"W\", units: Inches)", "1:20", "`Inches` is not a word that may stand here"),
        ("(name: \"W\", tape: (error: 0, per_metre: 0))", "1:19", "which no tape has"),
        ("(name: \"W\", people: [\"A. N.\", \"A. N.\"])", "1:31", "is the name of another person already"),
        ("(name: \"W\", identify: [(pattern: \"A*B\", vehicle: \"v.ron\")])", "1:34", "holds '*'"),
        (
            "(name: \"W\", identify: [(pattern: \"AB\", vehicle: \"\")])",
            "1:49",
            "the vehicle's file needs a name",
        ),
        ("(name: \"W\", coming_in: {\"v.ron\": -1})", "1:25", "fewer than no vehicles a month"),
        ("(name: \"W\", money: (hour: -2))", "1:27", "a figure of -2 is below zero"),
        (
            "(name: \"W\", money: (hour: 2, sent_out: {\"ForwardCamera\": (price: 1)}))",
            "1:41",
            "expected a word such as ForwardRadar",
        ),
        (
            "(name: \"W\", gear: [(name: \"head\", every_days: 0)])",
            "1:47",
            "falls due every 1 day at the most",
        ),
        ("(name: \"W\", legal: [(name: \"l\", ahead: (0, 2))])", "1:41", "expected a size above zero"),
    ] {
        let ran = run(shop(text).path(), &["validate", "workshop.ron"]);
        let told = ran
            .out
            .lines()
            .any(|l| l.starts_with(&format!("error: workshop.ron:{place}:")) && l.contains(says));
        assert!(ran.exit == 2 && told, "{text}: {place} {says}\n{}{}", ran.out, ran.err);
    }
    for (text, place, says) in [
        ("(name: \"W\", folders: (bays: \"halls\"))", "1:29", "there is no folder \"halls\""),
        (
            "(name: \"W\", touches: {\"glass\": (systems: [ForwardCam])})",
            "1:43",
            "did you mean \"ForwardCamera\"?",
        ),
    ] {
        let ran = run(shop(text).path(), &["validate", "workshop.ron"]);
        let told = ran
            .out
            .lines()
            .any(|l| l.starts_with(&format!("warning: workshop.ron:{place}:")) && l.contains(says));
        assert!(ran.exit == 0 && told, "{text}: {place} {says}\n{}{}", ran.out, ran.err);
    }
}
