//! Off-tracking and the angles of single wheels against figures from outside.

use super::radii::FT;
use crate::driving::motion::{Pose, Segment};
use crate::driving::turning::Turning;
use crate::geometry::P2;

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
    for (radius, wheelbase, degrees, want, at, limit) in [
        (41.0, 11.0, 90.0, 1.4934, Some(75.7), 1.5032),
        (41.0, 20.0, 90.0, 4.7464, Some(69.1), 5.2089),
        (21.0, 11.0, 90.0, 2.7675, None, 3.1115),
        (21.0, 11.0, 180.0, 3.0811, None, 3.1115),
    ] {
        let (off, round) = off_tracking(radius * FT, wheelbase * FT, degrees);
        let steady = Turning::of_front_axle(radius * FT, wheelbase * FT).unwrap().off_tracking();
        assert!(off <= steady, "{radius} {wheelbase} {degrees}");
        assert!((steady / FT - limit).abs() < 6e-5, "{radius} {wheelbase}: {}", steady / FT);
        assert!((off / FT - want).abs() < 1e-4, "{radius} {wheelbase} {degrees}: {}", off / FT);
        assert!(at.is_none_or(|at| (round - at).abs() < 0.06), "{radius} {wheelbase} {degrees}: {round}");
    }
    let (a, _) = off_tracking(21.0 * FT, 11.0 * FT, 60.0);
    let (b, _) = off_tracking(21.0 * FT, 11.0 * FT, 120.0);
    assert!(a < b, "grows with the angle");
    let (double, _) = off_tracking(42.0 * FT, 22.0 * FT, 60.0);
    assert!((double - 2.0 * a).abs() < 0.5, "scales with every length");
}

/// The curve of that path: 41 ft of radius for 64.4 ft is a quarter of a circle (FHWA, Figure C1; exact 64.403 ft). The
/// straights before and after it, 60 and 105 ft, lead where they must.
#[test]
fn the_path_of_the_study() {
    let way = [(0.0, 60.0), (1.0 / 41.0, 64.403), (0.0, 105.0)];
    let mut pose = Pose { at: P2::origin(), angle: 0.0 };
    for (curvature, length) in way {
        let segment = Segment { from: pose, curvature: curvature / FT, length: length * FT };
        pose = segment.to();
        // driven back from its end it starts where it began
        assert!((segment.reversed().to().at - segment.from.at).norm() < 1e-6);
    }
    assert!((pose.angle.to_degrees() - 90.0).abs() < 1e-3, "{}", pose.angle.to_degrees());
    let (x, y) = (pose.at.x / FT, pose.at.y / FT);
    assert!((x - 101.0).abs() < 2e-3 && (y - 146.0).abs() < 2e-3, "{x} {y}");
}

/// Ackermann: cot(outer) - cot(inner) = track / wheelbase. A textbook problem (askfilo.com): wheelbase 2.6 m, track 1.5 m,
/// inner wheel at 28 degrees; the outer one at 22.141 degrees is computed from the law.
#[test]
fn the_law_of_correct_steering() {
    let (inner, outer) = (28f64.to_radians(), 22.141f64.to_radians());
    let mut vehicle = super::bays::vehicle("turning_circle: 20000");
    vehicle.wheelbase = 2600.0;
    (vehicle.track.front, vehicle.track.rear) = (1500.0, 1500.0);
    // the circle the outer edge of the outer front tyre stays inside
    vehicle.turning_circle = Some(2.0 * (2600.0 / outer.sin() + vehicle.tyre.width / 2.0));
    let turning = Turning::of(&vehicle).unwrap();
    let wheel = |left: f64| (2600.0 / turning.reach(P2::new(2600.0, left))).asin();
    assert!((wheel(750.0).to_degrees() - 28.0).abs() < 1e-3, "{}", wheel(750.0).to_degrees());
    assert!((wheel(-750.0).to_degrees() - 22.141).abs() < 1e-9);
    assert!((1.0 / wheel(-750.0).tan() - 1.0 / wheel(750.0).tan() - 1.5 / 2.6).abs() < 1e-9);
    assert!((turning.radius - (2600.0 / inner.tan() + 750.0)).abs() < 0.3);
}
