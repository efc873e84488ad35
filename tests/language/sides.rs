//! The other side: built again from its own features, with left and right, signs, corners and names exchanged.

use crate::bench::{Bench, at};

const PAIR: &str = r#"
    pairs: [("rear left radar", "rear right radar")],
    setups: [(
        name: "Left", mirrored: (name: "Right"),
        marks: [
            ("S", Under(Sensor("rear left radar"))),
            ("W", Under(Wheel(RearLeft))),
            ("P", Place(line: WheelSide(Left), from: "W", along: -1500, left: 900)),
            ("Q", Bearing(from: "S", line: Reversed(Centre), angle: -30, by: 2000)),
        ],
        stations: [(name: "board", target: "board", at: "Q", looks: AtSensor("rear left radar"), turn: 5, height: Floor(300))],
        zones: [(name: "field", shape: Strip(line: Centre, from: "T", along: (-3000, 0), left: (0, 2500)), free_of: [Metal])],
    )]"#;

/// The crooked car's rear track is 40 mm narrower than the front one: lines along its wheels are not mirror images of
/// what one would get by changing the sign of Y, but on the straight car they are.
#[test]
fn a_pair_of_corner_radars_on_the_crooked_car() {
    let crooked = Bench::new(PAIR).car_file("reference-car-crooked.ron").check();
    let (left, right) = (crooked.mark("Left", "P"), crooked.mark("Right", "P"));
    // the wheel side leans inward to the rear by 20 mm in 2750 on either side: built again, this car is symmetrical here
    at(right, (left.0, -left.1));
    at(crooked.mark("Left", "S"), (-3600.0, 700.0));
    at(crooked.mark("Right", "S"), (-3600.0, -700.0));
    // headings: the board looks at its own radar, and the added turn changes its sign
    let turn = |setup: &str| crooked.station(setup, "board")["turn_deg"].as_f64().expect("a turn");
    assert!((turn("Left") + turn("Right") - 360.0).abs() < 1e-6, "{} {}", turn("Left"), turn("Right"));
}

/// A car whose right radar sits elsewhere, and whose emblem line is off the centreline: the right side follows its own
/// features and is not the reflection.
#[test]
fn the_other_side_is_not_the_reflection() {
    let procedure = r#"
        marks: [("A", Under(Point("rear emblem"))), ("B", Under(Point("front emblem")))],
        setups: [(
            name: "Left", mirrored: (name: "Right"),
            marks: [("L", Under(Sensor("left headlamp"))), ("R", Place(line: Through("A", "B"), from: "B", along: 2000, left: 1500))],
        )]"#;
    let crooked = Bench::new(procedure).car_file("reference-car-crooked.ron").check();
    // its own lamp: (810, -640), not (800, -650)
    at(crooked.mark("Right", "L"), (810.0, -640.0));
    // by hand: along A(-3750, 20) to B(950, -10), unit (4700, -30) / 4700.0957; left of it (30, 4700) / 4700.0957
    let n = 4700f64.hypot(30.0);
    let (dx, dy) = (4700.0 / n, -30.0 / n);
    let place = |left: f64| (950.0 + 2000.0 * dx - left * dy, -10.0 + 2000.0 * dy + left * dx);
    at(crooked.mark("Left", "R"), place(1500.0));
    at(crooked.mark("Right", "R"), place(-1500.0));
    let (l, r) = (crooked.mark("Left", "R"), crooked.mark("Right", "R"));
    assert!((l.1 + r.1).abs() > 20.0, "the sides are reflections: {l:?} {r:?}");
}

/// Names of marks and stations are exchanged, and what the setup shares with the others is the other side's too.
#[test]
fn names_are_exchanged() {
    let procedure = r#"
        marks: [
            ("A", Under(Wheel(FrontLeft))), ("C", Under(Wheel(FrontRight))),
            ("E", Along(line: WheelSide(Left), from: "A", by: 2000)), ("F", Along(line: WheelSide(Right), from: "C", by: 2000)),
        ],
        setups: [(
            name: "Left side", mirrored: (name: "Right side", swap: [("E", "F"), ("A", "C"), ("left board", "right board")]),
            stations: [(name: "left board", target: "board", at: "E", faces: Centre, height: Floor(300))],
            zones: [(name: "round it", shape: Around(station: "left board", beside: 500, above: 500, below: 500), free_of: [Light])],
            checks: [Length("A", "F", 2716.7)],
        )]"#;
    let crooked = Bench::new(procedure).car_file("reference-car-crooked.ron").check();
    for mark in ["A", "C", "E", "F"] {
        at(crooked.mark("Right side", mark), crooked.mark("Left side", mark));
    }
    let right = crooked.station("Right side", "right board")["bay_mm"].clone();
    let f = crooked.mark("Left side", "F");
    at((right[1].as_f64().expect("y") - 5000.0, 5000.0 - right[0].as_f64().expect("x")), f);
    // the length is measured from the other side's own marks
    crooked.finding("check-length", &["C", "E"]);
}

/// Lines that point to the left, angles, hands and areas point the other way on the other side.
#[test]
fn directions_and_areas() {
    let procedure = r#"
        setups: [(
            name: "L", mirrored: (name: "R"),
            marks: [
                ("N1", Along(line: Nose, from: "N", by: 700)),
                ("N2", Place(line: Nose, from: "N", along: 700, left: -300)),
                ("T1", Off(line: Square(line: Centre, at: "FA"), from: "FA", by: 250)),
                ("LL", Lengths(a: ("N", 1000), b: ("FA", 1200), side: Left)),
                ("X", Crossing(BodySide(Left), Tail)),
                ("K", Foot(line: WheelPlane(RearLeft), from: "RA")),
            ],
            stations: [
                (name: "one", target: "board", at: "N1", looks: Left, anchor: (-20, 100), height: Floor(0)),
                (name: "two", target: "board", at: "X", looks: Along(Tail), height: Floor(0)),
            ],
            zones: [
                (name: "fan", shape: Fan(at: "N", line: Centre, angles: (-10, 40), reach: 1000), free_of: [Light]),
                (name: "car", shape: AroundVehicle(ahead: 10, behind: 20, left: 300, right: 40), free_of: [Light]),
            ],
        )]"#;
    let answer = Bench::new(procedure).job("rear_toe: (left: 0.3, right: 0.3)").check();
    for mark in ["N1", "N2", "T1", "LL", "X", "K"] {
        let (l, r) = (answer.mark("L", mark), answer.mark("R", mark));
        at(r, (l.0, -l.1));
    }
    at(answer.mark("L", "N2"), (950.0 + 300.0, 700.0));
    // the straight car: every outline of the right side is the reflection of the left one in the line x = 5000
    for list in ["stations", "zones"] {
        for one in answer.0[list].as_array().expect("a list").iter().filter(|s| s["setup"] == "L") {
            let kind = if list == "stations" { "station" } else { "zone" };
            let key = if list == "stations" { "footprint_mm" } else { "bay_mm" };
            let all = answer.0[list].as_array().expect("a list");
            let other =
                all.iter().find(|s| s["setup"] == "R" && s[kind] == one[kind]).expect("the other side");
            for p in one[key].as_array().expect("points") {
                let (x, y) = (10_000.0 - p[0].as_f64().expect("x"), p[1].as_f64().expect("y"));
                let near = |q: &serde_json::Value| {
                    (q[0].as_f64().expect("x") - x).hypot(q[1].as_f64().expect("y") - y) < 0.01
                };
                assert!(
                    other[key].as_array().expect("points").iter().any(near),
                    "{}: ({x}, {y}) in {other:#}",
                    one[kind]
                );
            }
        }
    }
}

/// A procedure of which the other side needs a sensor this vehicle is known not to have does not apply.
#[test]
fn a_sensor_of_the_other_side_counts() {
    let mut bench = Bench::new(PAIR);
    let listed = "\"rear right radar\": (kind: Radar, at: (-3600, -720, 600)),";
    assert!(bench.car.contains(listed));
    bench.car =
        bench.car.replace(listed, "").replace("sensors: {", "without: [\"rear right radar\"], sensors: {");
    let answer = bench.check();
    assert_eq!(answer.finding("readiness", &["rear right radar"])["outcome"], "not-applicable");
}
