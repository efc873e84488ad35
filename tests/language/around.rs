//! Zones round faces: what is said to help. The arithmetic stands beside each case.

use crate::bench::Bench;

/// A board 6000 behind the front axle that looks at the vehicle, with a zone 300 deep behind it.
const BEHIND: &str = r#"
    marks: [("P", Along(line: Centre, from: "FA", by: -6000))],
    stations: [(name: "board", target: "board", at: "P", looks: Forward, height: Floor(300))],
    zones: [(name: "field", shape: Around(station: "board", beside: 1000, above: 500, below: 200, behind: 300, ahead: 400), free_of: [Anything])]"#;

#[test]
fn a_wall_behind_a_face_is_driven_away_from_straight() {
    // front at y 300, back at 260, the zone's at -40: 40 past the wall; along the wall it would be 5000 + 300 + 1000
    let answer = Bench::setup(BEHIND).pose(5000.0, 6300.0, 0.0).check();
    let wall = answer.finding("clear-zone", &["field", "wall 0"]);
    assert_eq!(wall["have_mm"], -6300.0);
    let help = wall["help"].as_str().expect("help");
    assert!(help.starts_with("Move the vehicle 40 mm into the bay: "), "{help}");
    let moved = Bench::setup(BEHIND).pose(5000.0, 6340.0, 0.0).check();
    assert!(moved.findings("clear-zone").iter().all(|f| f["outcome"] == "pass"));
}
