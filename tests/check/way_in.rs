//! The way in as JSON prints it.

use std::fs;

use serde_json::{Value, json};

use super::program::{answer, tests};

fn checked(job: &str) -> Value {
    answer(&tests("../demo/jobs"), &["check", &format!("{job}.ron"), "--json"]).0
}

#[test]
fn straight_in() {
    let out = checked("fennel-van-lane-1");
    let way = &out["way_in"];
    // its nose is 1010 before the front axle and begins at the doorway's line, y = 0
    let leg = json!({"from": [4100.0, -1010.0, 0.0], "to": [4100.0, 10000.0, 0.0], "radius_mm": null, "reverse": false});
    assert_eq!(way["legs"], json!([leg]), "{way:#}");
    // (4000 - 2440) / 2 beside each mirror, where the jamb stands: half way from x = 2100 to 2880, or from 5320 to 6100
    assert_eq!(way["least_mm"], 780.0);
    assert!(way["at_mm"] == json!([2490.0, 0.0]) || way["at_mm"] == json!([5710.0, 0.0]), "{way:#}");
}

#[test]
fn round_bends() {
    let out = checked("pickup-trolley");
    let way = &out["way_in"];
    let legs = way["legs"].as_array().expect("legs");
    let pose = &out["pose"];
    let last = &legs.last().expect("a leg")["to"];
    for (i, key) in ["x_mm", "y_mm", "heading_deg"].into_iter().enumerate() {
        let off = last[i].as_f64().expect("a figure") - pose[key].as_f64().expect("a figure");
        assert!(off.abs() < 1e-3, "{key}: {way:#}");
    }
    for pair in legs.windows(2) {
        let (to, from) =
            (pair[0]["to"].as_array().expect("a pose"), pair[1]["from"].as_array().expect("a pose"));
        for (a, b) in to.iter().zip(from) {
            let off = a.as_f64().expect("a figure") - b.as_f64().expect("a figure");
            assert!(((off + 180.0).rem_euclid(360.0) - 180.0).abs() < 1e-3, "{way:#}");
        }
    }
    assert!(legs.iter().any(|l| l["radius_mm"].as_f64().is_some_and(|r| r > 4000.0)), "{way:#}");
    let findings = out["findings"].as_array().expect("a list");
    let found =
        findings.iter().find(|f| f["rule"] == "drive-in" && f["margin_mm"].is_f64()).expect("a finding");
    assert_eq!((&way["least_mm"], &way["at_mm"]), (&found["margin_mm"], &found["at_mm"]));
}

#[test]
fn none_asked_and_none_found() {
    assert!(checked("estate-front-corners").get("way_in").is_none(), "not asked for");
    let job = fs::read_to_string(tests("../demo/jobs/fennel-van-lane-1.ron")).expect("the job");
    let job = job.replace("\"../", &format!("\"{}/", tests("../demo").display()));
    // its left side would stand 610 in the west wall
    let job = job.replace("x: 4100", "x: 400");
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("in-the-wall.ron"), job).expect("written");
    let (out, exit) = answer(folder.path(), &["check", "in-the-wall.ron", "--json"]);
    assert_eq!((exit, out.get("way_in")), (1, Some(&Value::Null)), "{out:#}");
}
