//! The demonstration: every job has the verdict its comment tells, and the rules a visitor should meet speak in it.

use std::collections::BTreeSet;

use super::program::{answer, tests};

/// Job, verdict, least margin in mm; worked out in the comment of each job.
const JOBS: [(&str, &str, f64); 14] = [
    ("city-car-corner-bay", "not-known", 530.0),
    ("city-car-starter-set", "does-not-fit", 10.0),
    ("crossover-alignment-lift", "fits", 1.344),
    ("crossover-rails-lamps", "fits", 862.5),
    ("crossover-thrust-line", "not-known", 1870.0),
    ("estate-front-corners", "not-known", 53.885),
    ("estate-lift-posts", "does-not-fit", -1080.971),
    ("estate-surround-rear", "fits", 182.5),
    ("fennel-van-lane-1", "fits", 650.0),
    ("fennel-van-radar", "does-not-fit", -60.0),
    ("hatchback-backed-in", "fits-if", 20.0),
    ("hatchback-door-open", "fits-if", -500.0),
    ("hatchback-short-lane", "does-not-fit", -1216.115),
    ("pickup-trolley", "fits-if", -130.0),
];

#[test]
fn every_job_has_its_verdict() {
    let mut there = BTreeSet::new();
    for entry in std::fs::read_dir(tests("../demo/jobs")).expect("the demonstration") {
        there.insert(entry.expect("an entry").file_name().to_string_lossy().replace(".ron", ""));
    }
    assert_eq!(there, JOBS.iter().map(|j| j.0.to_owned()).collect());
    for (job, verdict, margin) in JOBS {
        let (out, exit) = checked(job);
        assert_eq!(out["verdict"], verdict, "{job}");
        assert_eq!(exit, i32::from(verdict != "fits"), "{job}");
        let have = out["margin_mm"].as_f64().expect("a margin");
        assert!((have - margin).abs() < 1e-3, "{job}: {have}");
    }
}

/// Rule, job, outcome, margin in the rule's unit.
#[test]
fn rules_of_the_way_the_floor_and_the_sensors_speak() {
    for (rule, job, margin) in [
        // straight: (4000 - 2440) / 2
        ("drive-in", "fennel-van-lane-1", Some(780.0)),
        // by bends: the search's own figures, more than the 140 of a straight line and less than the middle's 920
        ("drive-in", "pickup-trolley", None),
        ("drive-in", "crossover-alignment-lift", None),
        ("level", "crossover-alignment-lift", Some(1.344)),
        // 9180 of 6000 asked
        ("floor-line", "crossover-alignment-lift", Some(3180.001)),
        // the lift's 20 less 5
        ("on-lift", "crossover-alignment-lift", Some(15.0)),
        ("sight-line", "crossover-alignment-lift", Some(2317.650)),
        ("in-view", "crossover-alignment-lift", Some(3.345)),
        ("sight-line", "fennel-van-radar", Some(540.0)),
        ("in-view", "fennel-van-radar", Some(8.128)),
        ("in-view", "crossover-rails-lamps", None),
    ] {
        let (out, _) = checked(job);
        let findings = out["findings"].as_array().expect("a list");
        let spoken = findings.iter().filter(|f| f["rule"] == rule && f["margin_mm"].is_f64());
        let least = spoken.filter_map(|f| f["margin_mm"].as_f64()).min_by(f64::total_cmp);
        let have = least.unwrap_or_else(|| panic!("{rule} is silent in {job}"));
        assert!(findings.iter().all(|f| f["rule"] != rule || f["outcome"] == "pass"), "{rule} in {job}");
        assert!(margin.is_none_or(|m| (have - m).abs() < 1e-3), "{rule} in {job}: {have}");
    }
    let way = |job: &str| {
        let (out, _) = checked(job);
        let findings = out["findings"].as_array().expect("a list").clone();
        findings.iter().find(|f| f["rule"] == "drive-in").and_then(|f| f["margin_mm"].as_f64())
    };
    let (bends, tight) = (way("pickup-trolley"), way("crossover-alignment-lift"));
    assert!(bends.is_some_and(|mm| mm > 140.0 && mm < 920.0), "{bends:?}");
    // the door is 2600 wide, the mirrors 2100: square through its middle leaves (2600 - 2100) / 2, and nothing leaves more
    assert!(tight.is_some_and(|mm| mm > 0.0 && mm <= 250.0 + 1e-6), "{tight:?}");
}

/// The lower corners bind: 1780 - 1150 = 630 below the camera and 3620 ahead of it, seen from an axis turned 1 degree down; half of
/// the view upright is 17.
#[test]
fn the_boards_corners_in_the_vans_view() {
    let (out, _) = checked("fennel-van-radar");
    let findings = out["findings"].as_array().expect("a list");
    let seen = findings.iter().find(|f| f["rule"] == "in-view").expect("a finding");
    let low = (630f64 / 3620.0).atan().to_degrees() - 1.0;
    let want = 17.0 - low;
    let have = seen["margin_mm"].as_f64().expect("a margin");
    assert!((have - want).abs() < 1e-3, "{have}, should be {want}");
}

fn checked(job: &str) -> (serde_json::Value, i32) {
    answer(&tests("../demo/jobs"), &["check", &format!("{job}.ron"), "--json"])
}
