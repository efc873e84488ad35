//! Values marked GEOS were computed by GEOS 3.14.1 and checked by hand.

use std::f64::consts::{PI, TAU};

use geo::{Area, BooleanOps};
use proptest::prelude::*;

use super::*;
use crate::geometry::polygon::to_geo;
use crate::geometry::{Frame, Polygon, rotate};

fn shape(points: &[(f64, f64)]) -> Shape {
    let points = points.iter().map(|p| P2::new(p.0, p.1)).collect();
    Shape::polygon(Polygon::new(points).unwrap())
}

fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> Shape {
    shape(&[(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
}

fn l_shape() -> Shape {
    shape(&[(0.0, 0.0), (6.0, 0.0), (6.0, 2.0), (2.0, 2.0), (2.0, 6.0), (0.0, 6.0)])
}

fn check(g: Gap, mm: f64) {
    assert!((g.mm - mm).abs() <= 1e-9, "{g:?}, expected {mm}");
    assert!(((g.b - g.a).norm() - g.mm.abs()).abs() < 1e-9, "{g:?}");
}

#[test]
fn agrees_with_geos_apart_and_touching() {
    let cases = [
        ("1 touching edge", rect(0.0, 0.0, 4.0, 2.0), rect(4.0, 1.0, 6.0, 3.0), 0.0),
        ("1b touching corner", rect(0.0, 0.0, 4.0, 2.0), rect(4.0, 2.0, 6.0, 4.0), 0.0),
        ("3 in the notch of an L", l_shape(), rect(3.0, 3.0, 5.0, 5.0), 1.0),
        (
            "4 rotated rectangle",
            rect(0.0, 0.0, 5.0, 2.0),
            shape(&[(6.0, 3.0), (9.0, 7.0), (7.4, 8.2), (4.4, 4.2)]),
            1.4,
        ),
        (
            "5 nearly parallel",
            rect(0.0, 0.0, 10.0, 1.0),
            shape(&[(0.0, 1.001), (10.0, 1.0000001), (10.0, 2.0), (0.0, 2.0)]),
            1.00000000058e-7,
        ),
    ];
    for (name, a, b, mm) in cases {
        for g in [gap(&a, &b), gap(&b, &a)] {
            assert!((g.mm - mm).abs() <= 1e-9, "case {name}: {g:?}, expected {mm}");
            check(g, mm);
        }
    }
    let g = gap(&rect(0.0, 0.0, 5.0, 2.0), &shape(&[(6.0, 3.0), (9.0, 7.0), (7.4, 8.2), (4.4, 4.2)]));
    assert!((g.a - P2::new(5.0, 2.0)).norm() < 1e-9 && (g.b - P2::new(5.84, 3.12)).norm() < 1e-9);
}

#[test]
fn a_thing_in_a_hole_is_measured_to_the_holes_wall() {
    // GEOS case 2: distance 1. A holed square is four bars here, since shapes have no holes.
    let bars = [
        rect(0.0, 0.0, 10.0, 3.0),
        rect(0.0, 7.0, 10.0, 10.0),
        rect(0.0, 3.0, 3.0, 7.0),
        rect(7.0, 3.0, 10.0, 7.0),
    ];
    let thing = rect(4.0, 4.0, 6.0, 6.0);
    let least = bars.iter().map(|b| gap(b, &thing).mm).fold(f64::INFINITY, f64::min);
    assert_eq!(least, 1.0);
}

#[test]
fn overlaps_by_hand() {
    // Cases 5b, 6 and 7 are overlaps in GEOS, which gives them distance 0; the depths are worked out by hand.
    let a = rect(0.0, 0.0, 10.0, 1.0);
    let b = shape(&[(0.0, 1.000001), (10.0, 0.999999), (10.0, 2.0), (0.0, 2.0)]);
    let g = gap(&a, &b);
    assert!(g.mm < 0.0 && (g.mm + 1e-6).abs() < 1e-9, "{g:?}");
    check(gap(&rect(0.0, 0.0, 10.0, 2.0), &rect(9.999, 0.5, 12.0, 1.5)), -0.001);
    check(gap(&rect(0.0, 0.0, 10.0, 10.0), &rect(4.0, 4.0, 6.0, 6.0)), -6.0);
    let g = gap(&rect(4.0, 4.5, 6.0, 6.0), &rect(0.0, 0.0, 10.0, 10.0));
    check(g, -5.5);
    assert!((g.b - g.a - V2::new(0.0, 5.5)).norm() < 1e-9, "{g:?}");
}

#[test]
fn a_car_a_board_and_a_wall() {
    // GEOS cases 9 and 10, in mm: the car turned by one degree about its front axle.
    let car = rect(-950.0, -925.0, 3850.0, 925.0);
    let turned = car.place(&Frame::new(P2::origin(), 1f64.to_radians()));
    let board = rect(5300.0, -600.0, 5340.0, 600.0);
    let wall = rect(-3000.0, 1500.0, 9000.0, 1600.0);
    check(gap(&car, &board), 1450.0);
    check(gap(&turned, &board), 1438.721340467);
    check(gap(&car, &wall), 575.0);
    check(gap(&turned, &wall), 507.949117197);
}

#[test]
fn point_to_octagon() {
    // Documentation of the geo crate, EuclideanDistance example; GEOS gives the same.
    let octagon = shape(&[
        (5.0, 1.0),
        (4.0, 2.0),
        (4.0, 3.0),
        (5.0, 4.0),
        (6.0, 4.0),
        (7.0, 3.0),
        (7.0, 2.0),
        (6.0, 1.0),
    ]);
    check(point_gap(P2::new(2.5, 0.5), &octagon), 2.1213203435596424);
    check(point_gap(P2::new(5.5, 2.5), &octagon), -2f64.sqrt());
    let round = Shape::round(P2::new(1.0, 1.0), 4.0).unwrap();
    check(point_gap(P2::new(1.0, 6.0), &round), 3.0);
    check(point_gap(P2::new(1.0, 2.0), &round), -1.0);
    check(point_gap(P2::new(1.0, 1.0), &round), -2.0);
    check(point_gap(P2::new(3.0, 3.0), &l_shape()), 1.0);
    check(point_gap(P2::new(1.0, 1.0), &l_shape()), -1.0);
}

#[test]
fn circles() {
    let round = |x: f64, y: f64, d: f64| Shape::round(P2::new(x, y), d).unwrap();
    check(gap(&round(0.0, 0.0, 4.0), &round(6.0, 8.0, 6.0)), 5.0);
    check(gap(&round(0.0, 0.0, 4.0), &round(3.0, 0.0, 6.0)), -2.0);
    check(gap(&round(1.0, 1.0, 4.0), &round(1.0, 1.0, 6.0)), -5.0);
    let r = rect(0.0, 0.0, 10.0, 4.0);
    check(gap(&r, &round(13.0, 8.0, 6.0)), 2.0);
    check(gap(&r, &round(12.0, 2.0, 6.0)), -1.0);
    check(gap(&r, &round(8.0, 2.0, 6.0)), -5.0);
    check(gap(&round(10.0, 2.0, 6.0), &r), -3.0);
    let g = gap(&round(12.0, 2.0, 6.0), &r);
    assert!((g.a - P2::new(9.0, 2.0)).norm() < 1e-9 && (g.b - P2::new(10.0, 2.0)).norm() < 1e-9);
    // A circle of radius 1.5 low in the corner of the L's notch: it must leave both arms, so by hand its centre
    // goes from (3, 3) to (3.5, 3.5).
    check(gap(&round(3.0, 3.0, 3.0), &l_shape()), -0.5f64.hypot(0.5));
    // Over the L's outer corner the way out is round the corner: centre at distance 1 beyond it.
    check(gap(&round(-0.6, -0.8, 3.0), &l_shape()), -0.5);
}

#[test]
fn depth_where_the_shape_has_a_notch() {
    // By hand. A slot 4 wide and 6 deep in a block; a bar 2 wide stands in it and reaches 1 into its floor.
    let block = shape(&[
        (0.0, 0.0),
        (12.0, 0.0),
        (12.0, 8.0),
        (8.0, 8.0),
        (8.0, 2.0),
        (4.0, 2.0),
        (4.0, 8.0),
        (0.0, 8.0),
    ]);
    check(gap(&rect(5.0, 1.0, 7.0, 7.0), &block), -1.0);
    // A bar wider than the slot must be lifted out of it.
    let g = gap(&rect(3.0, 5.0, 9.0, 9.0), &block);
    check(g, -3.0);
    assert!((g.b - g.a - V2::new(0.0, 3.0)).norm() < 1e-9, "{g:?}");
    // A bar exactly as wide as the slot may sink into it: 1 sideways.
    check(gap(&rect(5.0, 3.0, 9.0, 7.0), &block), -1.0);
    // Two notched shapes.
    let hook = shape(&[(5.0, 1.5), (7.0, 1.5), (7.0, 20.0), (3.0, 20.0), (3.0, 9.0), (5.0, 9.0)]);
    check(gap(&hook, &block), -0.5);
    check(gap(&block, &hook), -0.5);
}

#[test]
fn at_least() {
    let a = rect(0.0, 0.0, 10.0, 10.0);
    for (b, limit, yes) in [
        (rect(13.0, 14.0, 20.0, 20.0), 5.0, true),
        (rect(13.0, 14.0, 20.0, 20.0), 5.0 + 2e-6, false),
        (rect(10.0, 0.0, 20.0, 20.0), 0.0, true),
        (rect(9.0, 0.0, 20.0, 20.0), 0.0, false),
        (rect(9.0, 0.0, 20.0, 20.0), -1.0, true),
        (rect(8.0, 0.0, 20.0, 20.0), -1.0, false),
        (rect(11.0, 0.0, 20.0, 20.0), -1.0, true),
    ] {
        assert_eq!(gap_at_least(&a, &b, limit), yes, "{:?} {limit}", b.bounds());
    }
}

#[test]
fn deep_overlap_with_a_very_jagged_shape_ends() {
    let jagged: Vec<P2> = (0..600)
        .map(|i| {
            let r = if i % 2 == 0 { 3000.0 } else { 2900.0 };
            Frame::new(P2::origin(), i as f64 / 600.0 * TAU).to_world(P2::new(r, 0.0))
        })
        .collect();
    let jagged = Shape::polygon(Polygon::new(jagged).unwrap());
    let other = l_shape().place(&Frame::new(P2::new(2500.0, 100.0), 0.3));
    let start = std::time::Instant::now();
    let g = gap(&other, &jagged);
    assert!(start.elapsed().as_secs_f64() < 10.0, "{:?}", start.elapsed());
    assert!(g.mm < -300.0 && g.mm > -510.0, "{g:?}");
    assert!(gap(&other.shifted(g.b - g.a), &jagged).mm > -1e-4);
}

fn any_rect() -> impl Strategy<Value = Shape> {
    (-3000.0..3000.0f64, -3000.0..3000.0f64, 50.0..2500.0f64, 50.0..2500.0f64, 0.0..PI)
        .prop_map(|(x, y, w, d, t)| Shape::rect(P2::new(x, y), V2::new(w, d), t).unwrap())
}

fn any_star() -> impl Strategy<Value = Shape> {
    (prop::collection::vec(300.0..2500.0f64, 4..10), -2000.0..2000.0f64, -2000.0..2000.0f64).prop_map(
        |(radii, x, y)| {
            let n = radii.len() as f64;
            let ring = radii
                .iter()
                .enumerate()
                .map(|(i, r)| P2::new(x, y) + rotate(V2::x(), i as f64 / n * TAU) * *r);
            Shape::polygon(Polygon::new(ring.collect()).unwrap())
        },
    )
}

fn any_round() -> impl Strategy<Value = Shape> {
    (-3000.0..3000.0f64, -3000.0..3000.0f64, 50.0..2500.0f64)
        .prop_map(|(x, y, d)| Shape::round(P2::new(x, y), d).unwrap())
}

fn any_shape() -> impl Strategy<Value = Shape> {
    prop_oneof![any_rect(), any_star(), any_round()]
}

/// Do the shapes share area? By the crate's boolean operations, which `gap` does not use; for circles by distance
/// from the other's outline.
fn share_area(a: &Shape, b: &Shape) -> bool {
    match (a.radius() > 0.0, b.radius() > 0.0) {
        (true, _) => point_gap(a.pieces()[0][0], b).mm < a.radius() - 1e-4,
        (false, true) => share_area(b, a),
        _ => {
            let common = to_geo(a.outline().points()).intersection(&to_geo(b.outline().points()));
            common.unsigned_area() > 1e-6
        }
    }
}

proptest! {
    #![proptest_config(crate::seeds::cases(300))]

    #[test]
    fn symmetric_and_the_witnesses_hold(a in any_shape(), b in any_shape()) {
        let (g, h) = (gap(&a, &b), gap(&b, &a));
        prop_assert!((g.mm - h.mm).abs() < 1e-6, "{g:?} {h:?}");
        prop_assert!(((g.b - g.a).norm() - g.mm.abs()).abs() < 1e-6, "{g:?}");
        prop_assert!(point_gap(g.a, &a).mm.abs() < 1e-6, "a on A: {g:?}");
        prop_assert!(point_gap(g.b, &b).mm.abs() < 1e-6, "b on B: {g:?}");
        // Apart or overlapping: moving A by b - a makes them touch.
        let moved = gap(&a.shifted(g.b - g.a), &b);
        prop_assert!(moved.mm.abs() < 2e-6, "{g:?} then {moved:?}");
        prop_assert!(g.mm.abs() < 0.01 || (g.mm < 0.0) == share_area(&a, &b), "{g:?}");
    }

    #[test]
    fn no_shorter_shift_parts_them(a in any_shape(), b in any_shape(), ways in prop::collection::vec((0.0..TAU, 0.0..1.0f64), 30)) {
        let g = gap(&a, &b);
        if g.mm > -5.0 {
            return Ok(());
        }
        for (angle, part) in ways {
            let shift = rotate(V2::x(), angle) * (-g.mm - 1.0) * part.sqrt();
            prop_assert!(share_area(&a.shifted(shift), &b), "{g:?} but {shift:?} parts them");
        }
    }

    #[test]
    fn at_a_known_distance(w in 10.0..900.0f64, d in 10.0..900.0f64, v in 10.0..900.0f64, u in 10.0..900.0f64,
        off in -800.0..800.0f64, aside in -1.0..1.0f64, turn in 0.0..TAU) {
        // Two boxes side by side; B's near side faces A's far side and shares a stretch of it.
        let f = Frame::new(P2::new(1200.0, -700.0), turn);
        let a = Shape::rect(P2::origin(), V2::new(w, d), 0.0).unwrap().place(&f);
        let x = (w + v) / 2.0 + off;
        if x <= 0.0 {
            return Ok(());
        }
        let y = aside * (d + u) / 2.0;
        let b = Shape::rect(P2::new(x, y), V2::new(v, u), 0.0).unwrap().place(&f);
        let sideways = y.abs() - (d + u) / 2.0;
        let expected = if off >= 0.0 { off } else { off.max(sideways) };
        prop_assert!((gap(&a, &b).mm - expected).abs() < 1e-9);
        prop_assert_eq!(gap_at_least(&a, &b, expected), true);
        prop_assert_eq!(gap_at_least(&a, &b, expected + 1e-5), false);
    }

    #[test]
    fn distance_agrees_with_every_pair_of_sides(a in any_star(), b in any_star()) {
        if share_area(&a, &b) {
            return Ok(());
        }
        let pairs = a.outline().edges().flat_map(|(p, q)| {
            b.outline().edges().map(move |(r, s)| crate::geometry::segment_gap(p, q, r, s).mm)
        });
        let least = pairs.fold(f64::INFINITY, f64::min);
        prop_assert!((gap(&a, &b).mm - least).abs() < 1e-6);
    }
}
