//! Hand cases, and random solids against an independent crate (parry3d, convex polyhedra and cylinders).

use std::f64::consts::TAU;

use parry3d_f64::math::{Pose, Vector};
use parry3d_f64::query;
use parry3d_f64::shape::{ConvexPolyhedron, Cylinder, Segment, Shape as Solid};
use proptest::prelude::*;

use super::*;
use crate::geometry::Polygon;

fn ray(a: (f64, f64, f64), b: (f64, f64, f64)) -> Ray {
    Ray { a: P3::new(a.0, a.1, a.2), b: P3::new(b.0, b.1, b.2) }
}

fn rect(x: f64, y: f64, w: f64, d: f64) -> Shape {
    Shape::rect(P2::new(x, y), V2::new(w, d), 0.0).unwrap()
}

fn poly(points: &[(f64, f64)]) -> Shape {
    Shape::polygon(Polygon::new(points.iter().map(|p| P2::new(p.0, p.1)).collect()).unwrap())
}

#[test]
fn a_post_in_the_way_and_beside_it() {
    let post = rect(0.0, 0.0, 200.0, 200.0);
    let z = (0.0, 1000.0);
    type Case = (&'static str, (f64, f64, f64), (f64, f64, f64), Option<(f64, f64)>, f64);
    let cases: [Case; 12] = [
        ("through", (-1000.0, 0.0, 500.0), (1000.0, 0.0, 500.0), Some((0.45, 0.55)), 0.0),
        ("clear by 1 mm", (-1000.0, 101.0, 500.0), (1000.0, 101.0, 500.0), None, 1.0),
        ("along its face", (-1000.0, 100.0, 500.0), (1000.0, 100.0, 500.0), None, 0.0),
        ("short by 1 mm", (-1000.0, 99.0, 500.0), (1000.0, 99.0, 500.0), Some((0.45, 0.55)), 0.0),
        ("over it", (-1000.0, 0.0, 1001.0), (1000.0, 0.0, 1001.0), None, 1.0),
        ("on its top", (-1000.0, 0.0, 1000.0), (1000.0, 0.0, 1000.0), None, 0.0),
        ("past its upper edge", (-1000.0, 103.0, 1004.0), (1000.0, 103.0, 1004.0), None, 5.0),
        ("ends before it", (-1000.0, 0.0, 500.0), (-130.0, 0.0, 500.0), None, 30.0),
        ("ends inside", (-1000.0, 0.0, 500.0), (0.0, 0.0, 500.0), Some((0.9, 1.0)), 0.0),
        ("upright beside", (103.0, 104.0, 0.0), (103.0, 104.0, 900.0), None, 5.0),
        ("upright above", (0.0, 0.0, 1500.0), (0.0, 0.0, 1007.0), None, 7.0),
        ("upright into it", (0.0, 0.0, 1500.0), (0.0, 0.0, 500.0), Some((0.5, 1.0)), 0.0),
    ];
    for (case, a, b, through, mm) in cases {
        let r = ray(a, b);
        match (r.through(&post, z), through) {
            (Some(have), Some(want)) => {
                assert!((have.0 - want.0).abs() < 1e-9 && (have.1 - want.1).abs() < 1e-9, "{case}: {have:?}");
            }
            (have, want) => assert_eq!(have, want, "{case}"),
        }
        let gap = r.gap(&post, z);
        assert!((gap.mm - mm).abs() < 1e-9, "{case}: {gap:?}");
        assert!(((gap.on_ray - gap.on_thing).norm() - mm).abs() < 1e-9, "{case}: {gap:?}");
    }
}

#[test]
fn a_post_without_end() {
    let post = rect(0.0, 0.0, 200.0, 200.0);
    let z = (0.0, f64::INFINITY);
    let high = ray((-1000.0, 0.0, 9000.0), (1000.0, 0.0, 9000.0));
    assert!(high.through(&post, z).is_some());
    let past = ray((-1000.0, 130.0, 9000.0), (1000.0, 130.0, 5000.0));
    assert_eq!(past.through(&post, z), None);
    assert!((past.gap(&post, z).mm - 30.0).abs() < 1e-9);
}

#[test]
fn the_notch_of_an_l_is_free() {
    let l = poly(&[(0.0, 0.0), (600.0, 0.0), (600.0, 200.0), (200.0, 200.0), (200.0, 600.0), (0.0, 600.0)]);
    let z = (0.0, 500.0);
    // along x + y = 810, past both ends of the L: 10 / sqrt 2 from its corners (600, 200) and (200, 600)
    let past = ray((810.0, 0.0, 100.0), (0.0, 810.0, 100.0));
    assert_eq!(past.through(&l, z), None);
    assert!((past.gap(&l, z).mm - 10.0 / 2f64.sqrt()).abs() < 1e-9);
    // inside the hull, over the inner corner (200, 200)
    let notch = ray((230.0, 260.0, 100.0), (260.0, 230.0, 100.0));
    assert_eq!(notch.through(&l, z), None);
    assert!((notch.gap(&l, z).mm - 30.0).abs() < 1e-9);
    // along the line where two convex pieces of it may meet
    assert_eq!(ray((-100.0, 200.0, 100.0), (700.0, 200.0, 100.0)).through(&l, z), Some((0.125, 0.375)));
    // through both arms: the first stretch counts
    let both = ray((-100.0, 400.0, 100.0), (700.0, 100.0, 100.0)).through(&l, z).unwrap();
    assert!((both.0 - 0.125).abs() < 1e-9);
}

#[test]
fn sheets() {
    let (a, b, z) = (P2::new(0.0, 1000.0), P2::new(2000.0, 1000.0), (0.0, 3000.0));
    let across = ray((500.0, 0.0, 1000.0), (500.0, 2000.0, 1000.0));
    assert_eq!(across.through_sheet(a, b, z), Some(0.5));
    for (case, r, mm) in [
        ("stops before it", ray((500.0, 0.0, 0.0), (500.0, 960.0, 0.0)), 40.0),
        ("ends on it", ray((500.0, 0.0, 0.0), (500.0, 1000.0, 0.0)), 0.0),
        ("runs along it", ray((100.0, 1000.0, 9.0), (900.0, 1000.0, 9.0)), 0.0),
        ("over it", ray((500.0, 0.0, 3020.0), (500.0, 2000.0, 3020.0)), 20.0),
        ("past its end", ray((2007.0, 0.0, 9.0), (2007.0, 2000.0, 9.0)), 7.0),
    ] {
        assert_eq!(r.through_sheet(a, b, z), None, "{case}");
        assert!((r.sheet_gap(a, b, z).mm - mm).abs() < 1e-9, "{case}");
    }
    assert!(across.sheet_gap(a, b, z).mm < 1e-9);
}

/// Distance of the segment from the prism's pieces by the independent crate.
fn by_parry(r: &Ray, shape: &Shape, z: (f64, f64)) -> (f64, Option<f64>) {
    let v = |p: P3| Vector::new(p.x, p.y, p.z);
    let segment = Segment::new(v(r.a), v(r.b));
    let mut least = f64::INFINITY;
    let mut hit: Option<f64> = None;
    let mut hold = |pose: Pose, solid: &dyn Solid| {
        let d = query::distance(&Pose::IDENTITY, &segment, &pose, solid).unwrap();
        least = least.min(d.distance);
        let cast = query::Ray::new(v(r.a), v(r.b) - v(r.a));
        if let Some(t) = solid.cast_ray(&pose, &cast, 1.0, true) {
            hit = Some(hit.map_or(t, |h| h.min(t)));
        }
    };
    if shape.radius() > 0.0 {
        let c = shape.pieces()[0][0];
        let middle = Vector::new(c.x, c.y, (z.0 + z.1) / 2.0);
        // its axis is y
        let pose = Pose::new(middle, Vector::new(TAU / 4.0, 0.0, 0.0));
        hold(pose, &Cylinder::new((z.1 - z.0) / 2.0, shape.radius()));
    } else {
        for piece in shape.pieces() {
            let corners: Vec<Vector> =
                piece.iter().flat_map(|p| [z.0, z.1].map(|z| Vector::new(p.x, p.y, z))).collect();
            hold(Pose::IDENTITY, &ConvexPolyhedron::from_convex_hull(&corners).unwrap());
        }
    }
    (least, hit)
}

fn held_against_parry(r: &Ray, shape: &Shape, z: (f64, f64)) -> Result<(), TestCaseError> {
    let ours = r.gap(shape, z);
    let (theirs, hit) = by_parry(r, shape, z);
    // the crate's own iteration stops at about a thousandth of a millimetre on bodies of metres
    prop_assert!((ours.mm - theirs).abs() < 5e-3, "{} against {theirs}", ours.mm);
    match (r.through(shape, z), hit) {
        (Some((t, _)), Some(h)) => prop_assert!((t - h).abs() * r.length() < 5e-3, "{t} {h}"),
        (None, Some(_)) => prop_assert!(ours.mm < 5e-3),
        (Some((from, to)), None) => prop_assert!((to - from) * r.length() < 5e-3),
        (None, None) => {}
    }
    let box_gap = r.box_gap(&shape.bounds(), z);
    prop_assert!(box_gap <= ours.mm + 1e-9);
    Ok(())
}

fn point() -> impl Strategy<Value = P3> {
    (-3000.0..3000.0f64, -3000.0..3000.0f64, -500.0..2500.0f64).prop_map(|(x, y, z)| P3::new(x, y, z))
}

fn band() -> impl Strategy<Value = (f64, f64)> {
    (0.0..1500.0f64, 10.0..1500.0f64).prop_map(|(lo, high)| (lo, lo + high))
}

proptest! {
    #![proptest_config(crate::seeds::cases(600))]

    #[test]
    fn random_stars(a in point(), b in point(), z in band(), radii in prop::collection::vec(200.0..2000.0f64, 3..9)) {
        let n = radii.len() as f64;
        let ring: Vec<(f64, f64)> = radii
            .iter()
            .enumerate()
            .map(|(i, r)| {
                let at = i as f64 / n * TAU;
                (r * at.cos(), r * at.sin())
            })
            .collect();
        held_against_parry(&Ray { a, b }, &poly(&ring), z)?;
    }

    #[test]
    fn random_boxes(a in point(), b in point(), z in band(), x in -900.0..900.0f64, w in 20.0..900.0f64, d in 20.0..900.0f64, turn in 0.0..TAU) {
        let shape = Shape::rect(P2::new(x, -x), V2::new(w, d), turn).unwrap();
        held_against_parry(&Ray { a, b }, &shape, z)?;
    }

    #[test]
    fn random_drums(a in point(), b in point(), z in band(), x in -900.0..900.0f64, d in 20.0..2000.0f64) {
        let shape = Shape::round(P2::new(x, x / 2.0), d).unwrap();
        held_against_parry(&Ray { a, b }, &shape, z)?;
    }
}
