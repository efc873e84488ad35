//! Hand cases, and random solids against an independent crate (parry3d, convex polyhedra and cylinders).

use std::f64::consts::TAU;

use parry3d_f64::math::{Pose, Vector};
use parry3d_f64::query;
use parry3d_f64::shape::{ConvexPolyhedron, Cylinder, Shape as Solid};
use proptest::prelude::*;

use super::*;
use crate::geometry::{Polygon, V2};

/// From the origin 1000 high to a face 600 x 800 at y 4000, x -300 to 300, z 600 to 1400.
fn view() -> Pyramid {
    let corner = |x: f64, z: f64| P3::new(x, 4000.0, z);
    let face = [(-300.0, 600.0), (300.0, 600.0), (300.0, 1400.0), (-300.0, 1400.0)];
    Pyramid::new(P3::new(0.0, 0.0, 1000.0), face.map(|(x, z)| corner(x, z)).to_vec())
}

fn rect(x: f64, y: f64, w: f64, d: f64) -> Shape {
    Shape::rect(P2::new(x, y), V2::new(w, d), 0.0).unwrap()
}

#[test]
fn what_stands_between_the_corners_is_seen() {
    let all = (0.0, 3000.0);
    for (case, shape, z, share) in [
        ("a handle 20 thick before the lens", rect(8.0, 30.0, 20.0, 20.0), all, 20.0 / 4000.0),
        ("a round one beside the middle", Shape::round(P2::new(70.0, 2000.0), 20.0).unwrap(), all, 0.4975),
        ("a rod across, between middle and edge", rect(0.0, 3000.0, 2000.0, 20.0), (1150.0, 1170.0), 0.7475),
        ("a lamp inside", rect(60.0, 3000.0, 20.0, 20.0), (1100.0, 1120.0), 0.7475),
        ("nearer to the lens than it is wide", rect(0.0, 100.0, 500.0, 100.0), all, 50.0 / 4000.0),
    ] {
        let thing = Upright::Prism(&shape, z);
        assert!(view().is_entered(&thing), "{case}");
        let (have, at) = view().entered_at(&thing).unwrap();
        assert!((have - share).abs() < 1e-6, "{case}: {have}");
        assert!((at.y - share * 4000.0).abs() < 0.1 && shape.bounds().grow(0.1).contains(at), "{case}: {at}");
        assert_eq!((view().gap(&thing).mm, view().at_least(&thing)), (0.0, 0.0), "{case}");
    }
    // only the rod's own rays would miss it: none of the five lines meets the lamp
    let lamp = rect(60.0, 3000.0, 20.0, 20.0);
    assert!(view().edges().all(|ray| ray.through(&lamp, (1100.0, 1120.0)).is_none()));
}

#[test]
fn what_stands_outside_has_its_distance() {
    // the upper side rises by 400 in 4000, the left by 300 in 4000
    let (up, side) = (4000.0 / 4000f64.hypot(400.0), 4000.0 / 4000f64.hypot(300.0));
    for (case, shape, z, mm) in [
        (
            "over it: a beam's lower edge at y 2000",
            rect(0.0, 1950.0, 3000.0, 100.0),
            (1230.0, 1300.0),
            30.0 * up,
        ),
        ("over it without end", rect(0.0, 1950.0, 3000.0, 100.0), (1230.0, f64::INFINITY), 30.0 * up),
        ("beside it, at y 2000", rect(210.0, 1950.0, 100.0, 100.0), (0.0, f64::INFINITY), 10.0 * side),
        ("touching", rect(200.0, 1950.0, 100.0, 100.0), (0.0, 2000.0), 0.0),
        ("behind the face", rect(0.0, 4055.0, 100.0, 100.0), (900.0, 1000.0), 5.0),
        ("behind and above it", rect(0.0, 4053.0, 100.0, 100.0), (1404.0, 1500.0), 5.0),
        ("behind the sensor", rect(0.0, -60.0, 100.0, 100.0), (0.0, 2000.0), 10.0),
    ] {
        let thing = Upright::Prism(&shape, z);
        let gap = view().gap(&thing);
        assert!((gap.mm - mm).abs() < 1e-6, "{case}: {gap:?} not {mm}");
        assert!(((gap.on_ray - gap.on_thing).norm() - mm).abs() < 1e-6, "{case}: {gap:?}");
        assert_eq!(view().entered_at(&thing), None, "{case}");
        assert!(view().at_least(&thing) <= mm + 1e-9, "{case}");
    }
    let drum = Shape::round(P2::new(0.0, 2000.0), 100.0).unwrap();
    // its rim's nearest point is at y 2050, where the upper side is 1205 high
    let above = view().gap(&Upright::Prism(&drum, (1225.0, 1300.0)));
    assert!((above.mm - 20.0 * up).abs() < 1e-6, "{above:?}");
}

#[test]
fn sheets_and_single_points() {
    let wall = |y: f64| Upright::Sheet(P2::new(-3000.0, y), P2::new(3000.0, y), (0.0, f64::INFINITY));
    assert!(view().is_entered(&wall(3990.0)) && !view().is_entered(&wall(4000.0)));
    assert!((view().gap(&wall(4020.0)).mm - 20.0).abs() < 1e-9);
    // a narrow one, between the edges; a door's lintel over all of it, and 10 lower
    let narrow = Upright::Sheet(P2::new(90.0, 2000.0), P2::new(100.0, 2000.0), (0.0, 2000.0));
    assert!(view().is_entered(&narrow));
    let lintel = |z: f64| Upright::Sheet(P2::new(-3000.0, 4000.0), P2::new(3000.0, 3900.0), (z, 9000.0));
    assert!(!view().is_entered(&lintel(1400.0)) && view().is_entered(&lintel(1350.0)));
    let line = Pyramid::new(P3::new(0.0, 0.0, 1000.0), vec![P3::new(0.0, 4000.0, 1000.0)]);
    let (post, z) = (rect(0.0, 2000.0, 200.0, 200.0), (0.0, 1500.0));
    let (share, at) = line.entered_at(&Upright::Prism(&post, z)).unwrap();
    assert!((share - 0.475).abs() < 1e-6 && (at.y - 1900.0).abs() < 1e-2);
    assert!((line.gap(&Upright::Prism(&rect(130.0, 2000.0, 200.0, 200.0), z)).mm - 30.0).abs() < 1e-9);
    assert!(line.is_entered(&wall(2000.0)) && !line.is_entered(&wall(4000.0)));
}

/// Distance from the prism's pieces by the independent crate, and by how much they overlap.
fn by_parry(corners: &[P3], shape: &Shape, z: (f64, f64)) -> (f64, f64) {
    let v = |p: &P3| Vector::new(p.x, p.y, p.z);
    let pyramid = ConvexPolyhedron::from_convex_hull(&corners.iter().map(v).collect::<Vec<_>>()).unwrap();
    let (mut least, mut deep) = (f64::INFINITY, 0.0f64);
    let mut hold = |pose: Pose, solid: &dyn Solid| {
        let d = query::distance(&Pose::IDENTITY, &pyramid, &pose, solid).unwrap();
        least = least.min(d.distance);
        if let Some(c) = query::contact(&Pose::IDENTITY, &pyramid, &pose, solid, 0.0).unwrap() {
            deep = deep.max(-c.dist);
        }
    };
    if shape.radius() > 0.0 {
        let c = shape.pieces()[0][0];
        // its axis is y
        let pose = Pose::new(Vector::new(c.x, c.y, (z.0 + z.1) / 2.0), Vector::new(TAU / 4.0, 0.0, 0.0));
        hold(pose, &Cylinder::new((z.1 - z.0) / 2.0, shape.radius()));
    } else {
        for piece in shape.pieces() {
            let corners: Vec<Vector> =
                piece.iter().flat_map(|p| [z.0, z.1].map(|z| Vector::new(p.x, p.y, z))).collect();
            hold(Pose::IDENTITY, &ConvexPolyhedron::from_convex_hull(&corners).unwrap());
        }
    }
    (least, deep)
}

/// An apex and a face as wide and as high as told, turned and tilted, its middle away from the apex.
fn held_against_parry(
    (apex, middle): (P3, P3),
    (w, h, turn, tilt): (f64, f64, f64, f64),
    shape: &Shape,
    z: (f64, f64),
) -> Result<(), TestCaseError> {
    let across = V3::new(turn.cos(), turn.sin(), 0.0) * (w / 2.0);
    let up = V3::new(-turn.sin() * tilt.sin(), turn.cos() * tilt.sin(), tilt.cos()) * (h / 2.0);
    let face = [-across - up, across - up, across + up, up - across].map(|d| middle + d).to_vec();
    // parry's hulls want some body
    let square = across.cross(&up).normalize();
    prop_assume!(square.dot(&(middle - apex)).abs() > 50.0);
    let corners: Vec<P3> = std::iter::once(apex).chain(face.clone()).collect();
    let (theirs, deep) = by_parry(&corners, shape, z);
    let pyramid = Pyramid::new(apex, face);
    let thing = Upright::Prism(shape, z);
    let ours = pyramid.gap(&thing);
    // the crate's own iteration stops at about a thousandth of a millimetre on bodies of metres
    prop_assert!((ours.mm - theirs).abs() < 1e-2, "{} against {theirs}", ours.mm);
    prop_assert!(pyramid.at_least(&thing) <= ours.mm + 1e-9);
    if pyramid.is_entered(&thing) {
        prop_assert!(theirs < 1e-2 && ours.mm == 0.0);
        let (share, _) = pyramid.entered_at(&thing).unwrap();
        prop_assert!(pyramid.first(share + 1e-9).is_entered(&thing));
        prop_assert!(share < 1e-4 || !pyramid.first(share - 1e-4).is_entered(&thing));
    } else {
        prop_assert!(deep < 1e-2, "overlap by {deep} not seen");
    }
    Ok(())
}

fn point() -> impl Strategy<Value = P3> {
    (-3000.0..3000.0f64, -3000.0..3000.0f64, -500.0..2500.0f64).prop_map(|(x, y, z)| P3::new(x, y, z))
}

fn band() -> impl Strategy<Value = (f64, f64)> {
    (0.0..1500.0f64, 10.0..1500.0f64).prop_map(|(lo, high)| (lo, lo + high))
}

fn face() -> impl Strategy<Value = (f64, f64, f64, f64)> {
    (100.0..1500.0f64, 100.0..1500.0f64, 0.0..TAU, -1.6..1.6f64)
}

proptest! {
    #![proptest_config(crate::seeds::cases(600))]

    #[test]
    fn random_boxes(a in point(), b in point(), f in face(), z in band(), x in -900.0..900.0f64, w in 20.0..900.0f64, d in 20.0..900.0f64, turn in 0.0..TAU) {
        let shape = Shape::rect(P2::new(x, -x), V2::new(w, d), turn).unwrap();
        held_against_parry((a, b), f, &shape, z)?;
    }

    #[test]
    fn random_drums(a in point(), b in point(), f in face(), z in band(), x in -900.0..900.0f64, d in 20.0..2000.0f64) {
        let shape = Shape::round(P2::new(x, x / 2.0), d).unwrap();
        held_against_parry((a, b), f, &shape, z)?;
    }

    #[test]
    fn random_stars(a in point(), b in point(), f in face(), z in band(), radii in prop::collection::vec(200.0..2000.0f64, 3..9)) {
        let n = radii.len() as f64;
        let ring = radii.iter().enumerate().map(|(i, r)| {
            let at = i as f64 / n * TAU;
            P2::new(r * at.cos(), r * at.sin())
        });
        held_against_parry((a, b), f, &Shape::polygon(Polygon::new(ring.collect()).unwrap()), z)?;
    }
}
