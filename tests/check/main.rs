//! Files in, answers out: the built program against figures worked out elsewhere.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a test stops where it fails, and a bench prints"
)]

mod accepted;
mod corners;
mod demo;
mod figures;
mod output;
mod pages;
mod placements;
mod plane;
mod points;
#[path = "../common/program.rs"]
mod program;
mod refused;
mod text;
mod validated;
mod way_in;
mod workshop;

use std::path::PathBuf;

use program::tests;
use serde_json::Value;

/// Commands whose figures are held against the answer.
const COMMANDS: [&str; 1] = ["check"];

/// Every figure of every job agrees.
#[test]
fn jobs_agree_with_their_figures() {
    let mut compared = 0;
    for folder in folders("cases/jobs").into_iter().chain(folders("scenarios")) {
        let case = folder.file_name().expect("a name").to_string_lossy().into_owned();
        let (count, wrong) = compare(&folder);
        compared += count;
        assert!(wrong.is_empty(), "{case}: {count} figures, of these disagree:\n{}", wrong.join("\n"));
    }
    assert!(compared >= 200, "only {compared} figures were compared");
}

fn compare(folder: &std::path::Path) -> (usize, Vec<String>) {
    let text = std::fs::read_to_string(folder.join("expected.json")).expect("expected.json");
    let expected: Value = serde_json::from_str(&text).expect("JSON");
    let job = expected["job"].as_str().unwrap_or("job.ron");
    let (mut count, mut wrong) = (0, Vec::new());
    for command in COMMANDS {
        let Some(figures) = expected[command]["figures"].as_array() else { continue };
        let mut args = vec![command, job, "--json"];
        if let Some(headings) = expected[command]["headings"].as_str() {
            args.extend(["--headings", headings]);
        }
        let (answer, exit) = program::answer(folder, &args);
        count += figures.len();
        wrong.extend(figures.iter().filter_map(|f| figures::disagreement(f, &answer, exit)));
    }
    (count, wrong)
}

/// The folders with an `expected.json` under a folder of `tests`, sorted.
fn folders(path: &str) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(tests(path)).expect("a folder");
    let mut found: Vec<PathBuf> = entries.map(|e| e.expect("an entry").path()).collect();
    found.retain(|p| p.join("expected.json").is_file());
    found.sort();
    assert!(!found.is_empty(), "no cases in {path}");
    found
}

/// Thirty placements on two cars, one of them crooked, within 0.01 mm and 0.001 degrees.
#[test]
fn placements_agree_with_their_coordinates() {
    let mut tally = placements::Tally::default();
    let entries = std::fs::read_dir(tests("cases/procedures")).expect("a folder");
    let mut names: Vec<String> =
        entries.map(|e| e.expect("an entry").file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    let names: Vec<&str> = names.iter().filter_map(|n| n.strip_suffix(".expected.json")).collect();
    assert_eq!(names.len(), 30);
    for name in names {
        placements::compare(name, &mut tally);
    }
    assert!(
        tally.wrong.is_empty(),
        "{} of {} disagree:\n{}",
        tally.wrong.len(),
        tally.compared,
        tally.wrong.join("\n")
    );
    assert!(tally.compared >= 1456, "only {} coordinates were compared", tally.compared);
}

/// A figure that should disagree does: the comparison itself can fail.
#[test]
fn the_comparison_can_fail() {
    let answer = serde_json::json!({
        "verdict": "fits", "margin_mm": 10.0, "binding": 0, "pose": {"x_mm": 5.0},
        "findings": [
            {"rule": "a", "items": ["x", "y"], "outcome": "pass", "margin_mm": 10.0},
            {"rule": "a", "items": ["x", "z"], "outcome": "fail", "margin_mm": -2.0}],
        "marks": [{"procedure": "P", "setup": "S", "mark": "E", "bay_mm": [1.0, 2.0]}],
        "region": [[[0, 0], [10, 0], [10, 10], [0, 10]]], "best": {"x_mm": 5, "y_mm": 2},
        "poses": [{"setups": ["P: one"]}, {"setups": ["P: two"]}], "missing": ["lamp height"],
    });
    for (good, bad) in [
        (r#"{"key": "verdict", "equals": "fits"}"#, r#"{"key": "verdict", "equals": "fits-if"}"#),
        (r#"{"key": "verdict", "in": ["fits", "x"]}"#, r#"{"key": "verdict", "in": ["x"]}"#),
        (r#"{"exit": 0}"#, r#"{"exit": 1}"#),
        (
            r#"{"key": "pose.x_mm", "near": 5.4, "tol": 0.5}"#,
            r#"{"key": "pose.x_mm", "near": 5.6, "tol": 0.5}"#,
        ),
        (
            r#"{"key": "pose.x_mm", "near": 364.9, "tol": 0.5, "modulo": 360}"#,
            r#"{"key": "pose.x_mm", "near": 364, "tol": 0.5, "modulo": 360}"#,
        ),
        (r#"{"key": "margin_mm", "range": [10, 11]}"#, r#"{"key": "margin_mm", "range": [11, 12]}"#),
        (r#"{"key": "margin_mm", "at_least": 10}"#, r#"{"key": "margin_mm", "at_least": 10.1}"#),
        (
            r#"{"binding": {"rule": "a", "items": ["y", "x"]}}"#,
            r#"{"binding": {"rule": "a", "items": ["x", "z"]}}"#,
        ),
        (
            r#"{"finding": {"rule": "a"}, "key": "margin_mm", "near": -2, "tol": 0}"#,
            r#"{"finding": {"rule": "b"}, "key": "margin_mm", "near": -2, "tol": 0}"#,
        ),
        (
            r#"{"finding": {"rule": "a", "items": ["x"], "subset": true}, "key": "outcome", "equals": "fail"}"#,
            r#"{"finding": {"rule": "a", "items": ["x"]}, "key": "outcome", "equals": "fail"}"#,
        ),
        (
            r#"{"no_failure": {"rule": "a", "items": ["x", "y"]}}"#,
            r#"{"no_failure": {"rule": "a", "items": ["x", ["q", "z"]]}}"#,
        ),
        (
            r#"{"mark": "E", "setup": "S", "key": "bay_mm", "near": [1, 2], "tol": 0}"#,
            r#"{"mark": "E", "setup": "T", "key": "bay_mm", "near": [1, 2], "tol": 0}"#,
        ),
        (r#"{"anywhere": ["LAMP", "height"]}"#, r#"{"anywhere": ["lamp", "width"]}"#),
        (
            r#"{"key": "missing", "mentions": "lamp"}"#,
            r#"{"key": "missing", "mentions": ["poster", "blind"]}"#,
        ),
        (r#"{"key": "missing", "count": 1}"#, r#"{"key": "missing", "count": 2}"#),
        (
            r#"{"key": "region", "outline": [[0, 0], [10, 0], [10.5, 10], [0, 10]], "tol": 1}"#,
            r#"{"key": "region", "outline": [[0, 0], [10, 0], [12, 10], [0, 10]], "tol": 1}"#,
        ),
        (
            r#"{"key": "best", "depth_in": [[[0, 0], [10, 0], [10, 10], [0, 10]]], "near": 2, "tol": 0.1}"#,
            r#"{"key": "best", "depth_in": [[[0, 0], [10, 0], [10, 10], [0, 10]]], "near": 3, "tol": 0.1}"#,
        ),
        (
            r#"{"key": "poses", "partition": [["two"], ["one"]]}"#,
            r#"{"key": "poses", "partition": [["two"], ["three"]]}"#,
        ),
    ] {
        let figure = |text: &str| serde_json::from_str::<Value>(text).expect("JSON");
        assert_eq!(figures::disagreement(&figure(good), &answer, 0), None);
        assert!(figures::disagreement(&figure(bad), &answer, 0).is_some(), "{bad} agrees");
    }
}
