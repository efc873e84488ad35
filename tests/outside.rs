//! Values from outside the project: published text, and arithmetic on the reference car done apart from the program.
//!
//! Each table names its source. The published texts were read as excerpts and copies; nothing here is calibration data.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a test stops where it fails, and a bench prints"
)]

use std::collections::BTreeMap;
use std::path::Path;

use baywright::files::{open_held, read_text};
use baywright::geometry::{P2, Shape, V2, gap, rotate};
use baywright::layout::Layout;
use baywright::model::Job;
use baywright::model::job::Toe;

type Marks = BTreeMap<String, (f64, f64)>;

/// A procedure laid out on the reference car, in vehicle axes.
fn layout(procedure: &str, more: &str, job: &str) -> Layout {
    let text = format!(
        r#"(name: "Outside", bay: "../empty-hall.ron", vehicle: "../reference-car.ron", equipment: "equipment.ron",
            procedures: [(file: {procedure:?}, {more})], pose: At(x: 30000, y: 30000, heading: 0), {job})"#
    );
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases/procedures/outside.ron");
    let job: Job = read_text(&text, &path).unwrap_or_else(|faults| panic!("{faults:?}"));
    let opened = open_held(&job, &path).unwrap_or_else(|faults| panic!("{faults:?}"));
    Layout::new(&opened.bundle).unwrap_or_else(|faults| panic!("{faults:?}"))
}

fn marks(layout: &Layout) -> Marks {
    let marks = layout.rig.setups[0].marks.iter();
    marks.map(|m| (m.name.to_string(), m.at.as_ref().map(|p| (p.x, p.y)).expect("placed"))).collect()
}

/// Distances between marks, to 0.1 mm.
fn lengths(marks: &Marks, table: &[(&str, &str, f64)]) {
    for (a, b, mm) in table {
        let ((ax, ay), (bx, by)) = (marks[*a], marks[*b]);
        let length = (ax - bx).hypot(ay - by);
        assert!((length - mm).abs() <= 0.05 + 1e-9, "{a} to {b}: {length}, should be {mm}");
    }
}

/// Rear camera, three floor marks in a row.
#[test]
fn rear_camera_marks() {
    let layout = layout("rc-01.ron", "", "");
    let m = marks(&layout);
    // printed by the source of the procedure file (Nissan Altima 2014, "Rear view camera calibration: target setting")
    lengths(&m, &[("B", "E", 2125.0), ("D", "F", 2125.0), ("Ct", "Lt", 1500.0), ("Ct", "Rt", 1500.0)]);
    // computed on the reference car, half width over the wheels 910: no source, plane arithmetic
    lengths(
        &m,
        &[
            ("E", "F", 1820.0),
            ("E", "Lt", 590.0),
            ("F", "Rt", 590.0),
            ("B", "Lt", 2205.4),
            ("D", "Rt", 2205.4),
            ("B", "Rt", 3213.1),
            ("B", "Ct", 2311.6),
            ("E", "D", 2797.9),
            ("A", "E", 4875.0),
            ("A", "F", 5203.7),
        ],
    );
    assert!(m["Lt"].1 > 0.0 && m["Rt"].1 < 0.0, "Lt lies to the vehicle's left");
}

/// Forward radar, flat board; its distance depends on the roof rails.
#[test]
fn forward_radar_board_by_roof_rails() {
    let m = marks(&layout("fr-03.ron", "", ""));
    // printed (Infiniti QX30 2018, "Setting the ICC target board"): 2017 without rails, 2027 with
    lengths(&m, &[("A", "E", 2017.0), ("C", "F", 2017.0)]);
    // computed on the reference car
    lengths(
        &m,
        &[("A", "X", 2212.8), ("C", "X", 2212.8), ("A", "F", 2716.7), ("C", "E", 2716.7), ("B", "F", 5102.6)],
    );
    let rails = marks(&layout("fr-03.ron", r#"variant: "with roof rails""#, ""));
    lengths(&rails, &[("A", "E", 2027.0), ("C", "F", 2027.0)]);
    lengths(&rails, &[("A", "X", 2221.9), ("A", "F", 2724.2), ("B", "F", 5112.0)]);
}

/// Forward radar, flat board near the floor.
#[test]
fn forward_radar_board_near_the_floor() {
    let layout = layout("fr-04.ron", "", "");
    let m = marks(&layout);
    // printed (Infiniti Q50 2019, same chapter): 1747, the board's base about 30 above the floor, equal halves E-X and F-X
    lengths(&m, &[("A", "E", 1747.0), ("C", "F", 1747.0)]);
    let stand = layout.rig.setups[0].stations[0].place.as_ref().expect("placed");
    assert_eq!(stand.lower, 30.0);
    let half = |end: &str| (m[end].0 - m["X"].0).hypot(m[end].1 - m["X"].1);
    assert!((half("E") - half("F")).abs() < 1e-9);
    // computed on the reference car
    lengths(&m, &[("A", "X", 1969.8), ("A", "F", 2522.8), ("B", "F", 4851.3)]);
}

/// Thrust angle: half the difference of the rear toes, positive to the right.
#[test]
fn thrust_angle() {
    let minutes =
        |left: f64, right: f64| Toe { left: left / 60.0, right: right / 60.0 }.thrust_angle() * 60.0;
    // published examples 1 and 2 (Volkswagen workshop manual, "Thrust angle, calculating")
    assert!((minutes(15.0, 5.0) - 5.0).abs() < 1e-9);
    assert!((minutes(15.0, -5.0) - 10.0).abs() < 1e-9);
    // sign: rear wheels that point right are positive (Mercury Monterey 2004 workshop manual, "Thrust Angle")
    assert!(minutes(12.0, 0.0) > 0.0, "left toe-in alone steers the rear axle to the right");
    // the other convention, right minus left (Subaru Impreza workshop manual p. 597), is the same with the sign turned
    assert!(((-5.0 - 15.0) / 2.0 + minutes(15.0, -5.0)).abs() < 1e-9);
    assert_eq!(minutes(8.0, 8.0), 0.0);
}

/// Sideways error at a target by the angle of the line it is measured along: distance times the tangent. No source,
/// trigonometry. The board on the thrust line stands that far beside the centre line, measured from the rear axle's middle.
#[test]
fn sideways_error_of_the_thrust_line() {
    let table: [(f64, f64, f64); 11] = [
        (0.1, 2000.0, 3.491),
        (0.1, 3000.0, 5.236),
        (0.1, 4000.0, 6.981),
        (0.1, 5000.0, 8.727),
        (0.1, 6000.0, 10.472),
        (0.1, 8000.0, 13.963),
        (0.1, 10000.0, 17.453),
        (5.0 / 60.0, 4000.0, 5.818),
        (10.0 / 60.0, 4000.0, 11.636),
        (0.25, 4000.0, 17.453),
        (1.0, 3000.0, 52.365),
    ];
    for (angle, distance, error) in table {
        // toe of twice the angle on the left wheel alone
        let off = on_thrust_line(angle * 2.0, distance);
        // to the right is negative; the board is `distance` ahead of the rear axle, not along the turned line
        assert!((off + error).abs() < 0.001, "{angle} degrees at {distance}: {off}, should be {}", -error);
    }
    assert!((on_thrust_line(0.2, 6700.0) + 11.694).abs() < 0.001);
}

/// How far left of the centre line the thrust line is, `distance` ahead of the rear axle.
fn on_thrust_line(left_toe: f64, distance: f64) -> f64 {
    let toe = format!("rear_toe: (left: {left_toe:?}, right: 0)");
    let marks_text = format!(
        r#"marks: [
            ("far", Along(line: Centre, from: "RA", by: {distance:?})),
            ("X", Crossing(Thrust, Square(line: Centre, at: "far"))),
        ]"#
    );
    marks(&setup(&marks_text, &toe))["X"].1
}

/// One setup by its fields, on the reference car.
fn setup(fields: &str, job: &str) -> Layout {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("procedure.ron");
    let text = format!(r#"(name: "P", setups: [(name: "S", {fields})])"#);
    std::fs::write(&path, text).expect("written");
    layout(&path.display().to_string(), "", job)
}

/// Toe as a length: the diameter it is read at times the sine of the wheel's own toe, here how far the wheel's plane leaves
/// the straight line over that diameter. 24 in and 0.15 degrees give 0.062832 in, the 1/16 in of santafegarage.com ("How to
/// check toe"); the rest is computed.
#[test]
fn toe_over_a_tyre() {
    let table: [(f64, f64, f64, f64); 6] = [
        (24.0 * 25.4, 0.15, 0.062832 * 25.4, 5e-6 * 25.4),
        (635.0, 0.10, 1.10828, 5e-6),
        (635.0, 0.09023, 1.0, 6e-5),
        (254.0, 13.53 / 60.0, 1.0, 4e-4),
        (381.0, 9.02 / 60.0, 1.0, 6e-4),
        (406.4, 8.46 / 60.0, 1.0, 6e-4),
    ];
    for (diameter, toe, length, last) in table {
        for (corner, line, sign) in [("RearLeft", "Left", -1.0), ("RearRight", "Right", 1.0)] {
            let fields = format!(
                r#"marks: [
                    ("A", Under(Wheel({corner}))),
                    ("B", Along(line: WheelPlane({corner}), from: "A", by: {diameter:?})),
                    ("C", Along(line: WheelSide({line}), from: "A", by: {diameter:?})),
                ]"#
            );
            let m = marks(&setup(&fields, &format!("rear_toe: (left: {toe:?}, right: {toe:?})")));
            let off = m["B"].1 - m["A"].1;
            // toe-in: the left wheel's front comes to the right
            assert!((off - sign * length).abs() <= last, "{corner} {diameter} {toe}: {off}");
            assert!((m["C"].1 - m["A"].1).abs() < 1e-6);
        }
    }
}

/// Parking stalls at an angle to the aisle, the extents of a turned rectangle: kerb length w / sin, depth l sin + w cos, ft.
#[test]
fn parking_stalls() {
    const FT: f64 = 304.8;
    let stall = |w: f64, l: f64, degrees: f64, along: f64| {
        Shape::rect(P2::new(along * FT, 0.0), V2::new(l, w) * FT, degrees.to_radians()).expect("a stall")
    };
    // printed to a tenth
    let deer_park: [(f64, f64, f64); 4] =
        [(45.0, 12.728, 12.7), (60.0, 10.392, 10.4), (75.0, 9.317, 9.3), (90.0, 9.0, 9.0)];
    let snohomish: [(f64, f64, f64); 9] = [
        (20.0, 24.852, 24.9),
        (30.0, 17.0, 17.0),
        (40.0, 13.224, 13.2),
        (45.0, 12.021, 12.0),
        (50.0, 11.096, 11.1),
        (60.0, 9.815, 9.8),
        (70.0, 9.046, 9.0),
        (80.0, 8.631, 8.6),
        (90.0, 8.5, 8.5),
    ];
    // Deer Park (Ohio) zoning code, table 1, 9 ft; Snohomish (Washington) code 14.235.270, table 11, 8.5 ft
    let rows = deer_park.map(|r| (9.0, r)).into_iter().chain(snohomish.map(|r| (8.5, r)));
    for (w, (degrees, computed, printed)) in rows {
        // of two stalls 100 ft apart along the aisle, what is between them and what is not
        let apart = gap(&stall(w, 400.0, degrees, 0.0), &stall(w, 400.0, degrees, 100.0)).mm / FT;
        let kerb = 100.0 - apart / degrees.to_radians().sin();
        assert!((kerb - computed).abs() < 6e-4, "{w} ft at {degrees}: {kerb}");
        assert!((kerb - printed).abs() <= 0.05 + 1e-3, "{w} ft at {degrees}: {kerb}, printed {printed}");
    }
    // Portsmouth (Virginia), dimensional standards, 9 x 18 ft; tenths cut off, not rounded
    for (degrees, computed, printed) in [(45.0, 19.092, 19.0), (60.0, 20.088, 20.0), (90.0, 18.0, 18.0)] {
        let size = stall(9.0, 18.0, degrees, 0.0).bounds().size() / FT;
        assert!((size.y - computed).abs() < 6e-4, "{degrees}: {}", size.y);
        assert!(size.y >= printed - 1e-9 && size.y < printed + 0.1);
        // its corners by turning alone
        let reach = [(9.0, 4.5), (9.0, -4.5)].map(|(l, w)| rotate(V2::new(l, w), f64::to_radians(degrees)).y);
        assert!((2.0 * reach[0].max(reach[1]) - size.y).abs() < 1e-9);
    }
}

/// First Fresnel zone of a radar's line (Rec. ITU-R P.526) as the zone of a procedure, at 76.5 GHz: half as wide as computed at
/// its middle, and 0.6 of that where the usual allowance is asked for (hicelltek.com).
#[test]
fn fresnel_zone_of_a_procedure() {
    for (path, part, radius) in [
        (1000.0, "", 31.30),
        (2000.0, "", 44.27),
        (3000.0, "", 54.21),
        (3000.0, ", part: 0.6", 32.53),
        (4000.0, "", 62.60),
        (6000.0, "", 76.67),
        (8000.0, "", 88.53),
    ] {
        let fields = format!(
            r#"marks: [("S", Under(Sensor("front radar"))), ("X", Along(line: Centre, from: "S", by: {path:?}))],
            stations: [(name: "reflector", target: "corner reflector", at: "X", looks: Backward, height: Level(Sensor("front radar"), 0), of: Middle)],
            zones: [(name: "zone", shape: Fresnel(from: "front radar", to: "reflector", frequency_ghz: 76.5{part}), free_of: [Metal])]"#
        );
        let layout = setup(&fields, "");
        let zone = layout.rig.setups[0].zones[0].place.as_ref().expect("placed");
        let bounds = zone.outlines()[0].bounds();
        let (long, wide) = (bounds.size().x, bounds.size().y);
        assert!((wide / 2.0 - radius).abs() < 6e-3, "{path} {part}: {wide}");
        // drawn from outside: never shorter than the path, and hardly longer
        assert!(long >= path - 1e-6 && long < path * 1.002, "{path}: {long}");
    }
}
