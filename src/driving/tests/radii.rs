//! The turning model against figures from outside.

use crate::driving::car::{Car, Part, PartOf};
use crate::driving::motion::{Pose, Segment};
use crate::driving::swept::swept;
use crate::driving::turning::Turning;
use crate::geometry::{P2, V2};
use crate::layout::{Band, Body, Solid};

const FT: f64 = 304.8;

/// A design vehicle: length, width, wheelbase, front overhang, radius of the front axle's middle, ft.
struct Design(f64, f64, f64, f64, f64);

/// AASHTO Green Book design vehicles P and SU-30: length, width, wheelbase by the metric table (P: 5.8, 2.1, 3.4, 0.9;
/// SU: 9.2, 2.4, 6.1, 1.2 m); front overhangs in feet (3, 4) and SU-30 in feet from memory, agreeing with the metric
/// rows. Centreline radii 21.0 and 38.0 ft: TxDOT Roadway Design Manual 4.3.3, Table 4-1.
const P: Design = Design(19.0, 7.0, 11.0, 3.0, 21.0);
const SU: Design = Design(30.0, 8.0, 20.0, 4.0, 38.0);

impl Design {
    fn turning(&self) -> Turning {
        Turning::of_front_axle(self.4 * FT, self.2 * FT).unwrap()
    }

    fn car(&self) -> Car {
        let Design(length, width, wheelbase, front, _) = *self;
        let size = V2::new(length, width) * FT;
        let at = P2::new((front - length / 2.0) * FT, 0.0);
        let shape = crate::geometry::Shape::rect(at, size, 0.0).unwrap();
        let body = Body {
            hull: vec![Solid::new(shape, Band::new(200.0, 1500.0))],
            mirrors: Vec::new(),
            tyres: Vec::new(),
        };
        Car::new(&body, wheelbase * FT)
    }

    /// Least and greatest distance of the ground swept in half a circle to the left from the turn's centre, ft.
    fn swept(&self) -> (f64, f64) {
        let turning = self.turning();
        let half = Segment {
            from: Pose { at: P2::origin(), angle: 0.0 },
            curvature: 1.0 / turning.radius,
            length: std::f64::consts::PI * turning.radius,
        };
        let centre = P2::new(0.0, turning.radius);
        let (outer, holes) = swept(&self.car(), &[half]);
        assert!(holes.is_empty() && outer.len() == 1);
        let far = outer[0].points().iter().map(|p| (p - centre).norm()).fold(0.0, f64::max);
        let near = outer[0]
            .edges()
            .map(|(a, b)| crate::geometry::segment_gap(centre, centre, a, b).mm)
            .fold(f64::INFINITY, f64::min);
        (near / FT, far / FT)
    }
}

#[test]
fn design_vehicles_within_30_mm() {
    // inside radius: TxDOT Table 4-1 (14.4, 28.4 ft). Front body corner: dimensions.com passenger vehicle 25 ft 6 in;
    // single-unit truck 43.5 ft (same family of pages, quoted at autocad.space).
    for (name, vehicle, inside, corner) in [("P", P, 14.4, 25.5), ("SU-30", SU, 28.4, 43.5)] {
        let (near, far) = vehicle.swept();
        assert!((near - inside).abs() * FT <= 30.0, "{name}: inside {near} ft");
        assert!((far - corner).abs() * FT <= 30.0, "{name}: corner {far} ft");
    }
}

#[test]
fn radii_of_the_bicycle_model() {
    // worked by hand from the formulas, double precision
    let p = P.turning();
    let su = SU.turning();
    for (name, have, want) in [
        ("P rear axle", p.radius / FT, 17.8885),
        ("SU rear axle", su.radius / FT, 32.3110),
        ("P steer", p.steer().to_degrees(), 31.588),
        ("SU steer", su.steer().to_degrees(), 31.757),
        ("P off-tracking", p.off_tracking() / FT, 3.1115),
        ("SU off-tracking", su.off_tracking() / FT, 5.6890),
        ("P front corner", p.reach(P2::new(14.0, -3.5) * FT) / FT, 25.563),
        ("P rear corner", p.reach(P2::new(-5.0, -3.5) * FT) / FT, 21.965),
        ("SU rear corner", su.reach(P2::new(-6.0, -4.0) * FT) / FT, 36.803),
    ] {
        assert!((have - want).abs() < 6e-4, "{name}: {have}");
    }
    // outer front wheel: TxDOT prints 23.8 and 41.8 ft; no one track width gives all its columns, hence 0.4 ft
    for (turning, half, wheelbase, want) in [(p, 3.5, 11.0, 23.8), (su, 4.0, 20.0, 41.8)] {
        let wheel = turning.reach(P2::new(wheelbase, -half) * FT) / FT;
        assert!((wheel - want).abs() <= 0.4, "{wheel}");
    }
}

#[test]
fn radius_wheelbase_and_angle() {
    // bit1024.com turning radius calculator: R = L / tan(angle); 2.5 m at 30 degrees 4.33 m, 3 m at 45 degrees 3.00 m
    for (wheelbase, degrees, radius) in [(2500.0, 30.0, 4330.127), (3000.0, 45.0, 3000.0)] {
        let front = wheelbase / f64::to_radians(degrees).sin();
        let turning = Turning::of_front_axle(front, wheelbase).unwrap();
        assert!((turning.radius - radius).abs() < 1e-3);
        assert!((turning.steer().to_degrees() - degrees).abs() < 1e-9);
    }
    // codingace.net intersection turning radius: wheelbase 2.80, 35 degrees, track 1.60, front overhang 0.90 m
    let turning = Turning::of_front_axle(2800.0 / 35f64.to_radians().sin(), 2800.0).unwrap();
    assert!((turning.radius - 3998.8).abs() < 0.1);
    assert!((turning.reach(P2::new(3700.0, -800.0)) - 6059.6).abs() < 0.1);
    assert!(Turning::of_front_axle(2800.0, 2800.0).is_none());
}

#[test]
fn a_printed_turning_circle_comes_out_again() {
    let mut vehicle = super::bays::vehicle("turning_circle: 10600");
    let turning = Turning::of(&vehicle).unwrap();
    // the outer front wheel stands square to its radius, half a tyre beyond its middle
    let middle = turning.reach(P2::new(vehicle.wheelbase, -vehicle.track.front / 2.0));
    assert!((2.0 * (middle + vehicle.tyre.width / 2.0) - 10600.0).abs() < 1e-6);
    for circle in [None, Some(5000.0), Some(6100.0)] {
        vehicle.turning_circle = circle;
        assert_eq!(Turning::of(&vehicle).unwrap_err().0[0].as_ref(), "turning_circle");
    }
}

/// Follows a straight, a left curve of `degrees` and a straight with the front axle, and tells how far the rear axle cuts in
/// at most, mm, and how far round the curve that is, degrees: the steering looks along the path, the motion is the
/// module's own arcs.
fn off_tracking(radius: f64, wheelbase: f64, degrees: f64) -> (f64, f64) {
    let step = 1.0;
    let curve = radius * degrees.to_radians();
    let mut pose = Pose { at: P2::new(-wheelbase, 0.0), angle: 0.0 };
    let (mut most, mut at, mut s) = (0.0, 0.0, 0.0);
    while s < curve + 2.0 * wheelbase {
        // half a step ahead for the direction of the path and, by the tractrix, of the vehicle
        let ahead = (s + step / 2.0).min(curve) / radius;
        let steer = ahead - pose.angle - step / 2.0 * (ahead - pose.angle).sin() / wheelbase;
        pose = pose.moved(steer.tan() / wheelbase, step * steer.cos());
        s += step;
        let from_centre = pose.at - P2::new(0.0, radius);
        let round = from_centre.x.atan2(-from_centre.y).to_degrees().rem_euclid(360.0);
        let off = radius - from_centre.norm();
        if round <= degrees && off > most {
            (most, at) = (off, round);
        }
    }
    (most, at)
}

#[test]
fn transient_off_tracking() {
    // The low-speed path of the FHWA Truck Size and Weight Study, Figure C1 (41 ft radius, 90 degrees), and a 21 ft
    // radius; values by fourth-order integration of the tractrix (class of method: Sayers, TRR 1052, 1986).
    for (radius, wheelbase, degrees, want, at) in [
        (41.0, 11.0, 90.0, 1.4934, Some(75.7)),
        (41.0, 20.0, 90.0, 4.7464, Some(69.1)),
        (21.0, 11.0, 90.0, 2.7675, None),
        (21.0, 11.0, 180.0, 3.0811, None),
    ] {
        let (off, round) = off_tracking(radius * FT, wheelbase * FT, degrees);
        let steady = Turning::of_front_axle(radius * FT, wheelbase * FT).unwrap().off_tracking();
        assert!(off <= steady, "{radius} {wheelbase} {degrees}");
        assert!((off / FT - want).abs() < 1e-3, "{radius} {wheelbase} {degrees}: {}", off / FT);
        assert!(at.is_none_or(|at| (round - at).abs() < 0.2), "{radius} {wheelbase} {degrees}: {round}");
    }
    let (a, _) = off_tracking(21.0 * FT, 11.0 * FT, 60.0);
    let (b, _) = off_tracking(21.0 * FT, 11.0 * FT, 120.0);
    assert!(a < b, "grows with the angle");
    let (double, _) = off_tracking(42.0 * FT, 22.0 * FT, 60.0);
    assert!((double - 2.0 * a).abs() < 0.5, "scales with every length");
}

#[test]
fn part_normals_look_outward() {
    let part = Part::new(
        PartOf::Body,
        vec![P2::new(0.0, 0.0), P2::new(2.0, 0.0), P2::new(2.0, 1.0), P2::new(0.0, 1.0)],
    );
    assert_eq!(part.normals[0], V2::new(0.0, -1.0));
    assert_eq!(part.normals[1], V2::new(1.0, 0.0));
}
