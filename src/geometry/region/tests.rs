//! Cases of region.

use std::cell::Cell;
use std::f64::consts::TAU;

use proptest::prelude::*;

use super::*;
use crate::geometry::{Bounds, rotate, segment_gap};

thread_local! {
    /// How often the distance of a point to an edge was taken.
    pub(super) static LOOKS: Cell<u64> = const { Cell::new(0) };
}

fn polygon(points: &[(f64, f64)]) -> Polygon {
    Polygon::new(points.iter().map(|p| P2::new(p.0, p.1)).collect()).unwrap()
}

fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> Shape {
    Shape::polygon(polygon(&[(x0, y0), (x1, y0), (x1, y1), (x0, y1)]))
}

/// One cell, its sides labelled 0, 1, 2...
fn walled(points: &[(f64, f64)]) -> Region {
    let cell = polygon(points);
    let edges = cell.edges().zip(0..).map(|((a, b), label)| Edge { a, b, label }).collect();
    Region::new(vec![cell], edges)
}

fn floor() -> Region {
    walled(&[(0.0, 0.0), (5500.0, 0.0), (5500.0, 12000.0), (0.0, 12000.0)])
}

/// The floor with an open door from x 1000 to 4500 (`apron` the corners' x) and an apron 4000 deep.
/// Labels: 0 the wall beside the door, 1 to 3 the other walls, 10 the apron's edges.
fn with_apron(from: f64, to: f64) -> Region {
    let floor = polygon(&[(0.0, 0.0), (5500.0, 0.0), (5500.0, 12000.0), (0.0, 12000.0)]);
    let apron = polygon(&[(from, -4000.0), (to, -4000.0), (to, 0.0), (from, 0.0)]);
    let edge =
        |a: (f64, f64), b: (f64, f64), label| Edge { a: P2::new(a.0, a.1), b: P2::new(b.0, b.1), label };
    let mut edges = vec![
        edge((0.0, 0.0), (1000.0, 0.0), 0),
        edge((4500.0, 0.0), (5500.0, 0.0), 0),
        edge((5500.0, 0.0), (5500.0, 12000.0), 1),
        edge((5500.0, 12000.0), (0.0, 12000.0), 2),
        edge((0.0, 12000.0), (0.0, 0.0), 3),
        edge((from, 0.0), (from, -4000.0), 10),
        edge((from, -4000.0), (to, -4000.0), 10),
        edge((to, -4000.0), (to, 0.0), 10),
    ];
    if from > 1000.0 {
        edges.push(edge((1000.0, 0.0), (from, 0.0), 0));
    }
    Region::new(vec![floor, apron], edges)
}

fn all(_: u32) -> bool {
    false
}

fn check(r: &Region, s: &Shape, mm: f64, label: u32) -> RegionGap {
    let g = r.signed(s, &all).unwrap();
    assert!((g.mm - mm).abs() <= 1e-3 && g.label == label, "{g:?}, expected {mm} at {label}");
    assert!(((g.on_edge - g.on_shape).norm() - g.mm.abs()).abs() < 1e-6, "{g:?}");
    g
}

#[test]
fn in_a_rectangle() {
    let r = floor();
    check(&r, &rect(1000.0, 1000.0, 3000.0, 5500.0), 1000.0, 0);
    check(&r, &rect(1000.0, 1000.5, 3000.0, 5500.0), 1000.0, 3);
    check(&r, &rect(0.0, 0.0, 5500.0, 12000.0), 0.0, 0);
    check(&r, &Shape::round(P2::new(5000.0, 6000.0), 600.0).unwrap(), 200.0, 1);
    // Hanging out, over one wall, over two at a corner, and wholly outside.
    let g = check(&r, &rect(1000.0, -210.0, 3000.0, 5500.0), -210.0, 0);
    assert_eq!((g.on_shape.y, g.on_edge.y), (-210.0, 0.0));
    check(&r, &rect(5000.0, -300.0, 5900.0, 5500.0), -500.0, 0);
    check(&r, &rect(6000.0, 1000.0, 6500.0, 2000.0), -1000.0, 1);
    // Circles: over a wall, over a corner from within and from without.
    let round = |x, y| Shape::round(P2::new(x, y), 600.0).unwrap();
    check(&r, &round(2000.0, 100.0), -200.0, 0);
    check(&r, &round(2000.0, -100.0), -400.0, 0);
    check(&r, &round(2000.0, 0.0), -300.0, 0);
    check(&r, &round(5500.0 + 30.0, -40.0), -350.0, 0);
    // Within noise of the wall is not outside.
    assert!(r.signed(&rect(-5e-7, 1.0, 10.0, 2.0), &all).unwrap().mm > -NOISE_MM);
}

#[test]
fn skipping_edges() {
    let r = floor();
    let inside = rect(100.0, 1000.0, 3000.0, 5500.0);
    let g = r.signed(&inside, &|l| l == 3).unwrap();
    assert_eq!((g.mm, g.label), (1000.0, 0));
    assert_eq!(r.signed(&inside, &|_| true), None);
    // Through the left wall by 400: with that wall left out the next nearest counts.
    let out = rect(-400.0, 1000.0, 3000.0, 5500.0);
    assert_eq!(r.signed(&out, &all).unwrap().mm, -400.0);
    let g = r.signed(&out, &|l| l == 3).unwrap();
    assert_eq!((g.mm, g.label), (1000.0, 0));
    // Through two walls: with the deeper one left out, the parts nearest to the other count.
    let corner = rect(-400.0, -100.0, 3000.0, 5500.0);
    let g = r.signed(&corner, &|l| l == 3).unwrap();
    // Beyond the corner itself both are equally near, which does not count.
    assert_eq!((g.mm, g.label), (-100.0, 0));
}

#[test]
fn in_an_l() {
    let r = walled(&[
        (0.0, 0.0),
        (6000.0, 0.0),
        (6000.0, 2000.0),
        (2000.0, 2000.0),
        (2000.0, 6000.0),
        (0.0, 6000.0),
    ]);
    assert_eq!(r.area(), 20e6);
    check(&r, &rect(500.0, 500.0, 1500.0, 5000.0), 500.0, 0);
    // Round the inner corner, which is nearest.
    check(&r, &Shape::round(P2::new(1400.0, 1200.0), 1000.0).unwrap(), 500.0, 2);
    // Across the inner corner: the farthest part is the shape's own corner; the other wall is further.
    check(&r, &rect(1000.0, 1000.0, 2500.0, 2300.0), -300.0, 2);
    check(&r, &rect(1000.0, 1000.0, 2300.0, 2500.0), -300.0, 3);
    // A bar that bridges the notch: farthest in the middle, on no corner. At (4000, 4000) from both walls 2000.
    let bar = Shape::rect(P2::new(3950.0, 3950.0), V2::new(7000.0, 100.0 * 2f64.sqrt()), -TAU / 8.0).unwrap();
    check(&r, &bar, -2000.0, 2);
    // A circle over the inner corner: by hand its farthest part from both walls lies on the diagonal.
    let round = Shape::round(P2::new(2000.0, 2000.0), 1000.0).unwrap();
    let g = r.signed(&round, &all).unwrap();
    assert!((g.mm + 500.0 / 2f64.sqrt()).abs() < 0.01, "{g:?}");
}

#[test]
fn a_pocket_in_the_floor_is_measured_in_its_middle() {
    // A stair box 1000 wide and 3000 deep cut into the floor, wholly covered by the shape, which stays inside the
    // floor otherwise. In the box the farthest points lie 500 from both sides, nearest to the upper of its ends.
    let r = walled(&[
        (0.0, 0.0),
        (9000.0, 0.0),
        (9000.0, 9000.0),
        (5000.0, 9000.0),
        (5000.0, 6000.0),
        (4000.0, 6000.0),
        (4000.0, 9000.0),
        (0.0, 9000.0),
    ]);
    check(&r, &rect(3000.0, 5000.0, 6000.0, 8000.0), -500.0, 3);
    check(&r, &rect(3000.0, 5000.0, 6000.0, 6400.0), -400.0, 4);
}

#[test]
fn through_an_open_door() {
    let r = with_apron(1000.0, 4500.0);
    assert_eq!(r.area(), 5500.0 * 12000.0 + 3500.0 * 4000.0);
    // A car half in the doorway: its sides are nearest to the jambs, which the apron's edge shares.
    check(&r, &rect(1300.0, -2000.0, 3200.0, 2500.0), 300.0, 0);
    // Too wide for the door: outside it reaches farthest beyond the apron's side.
    check(&r, &rect(700.0, -2000.0, 3200.0, 2500.0), -300.0, 10);
    // Off the apron's end.
    check(&r, &rect(1300.0, -4100.0, 3200.0, 400.0), -100.0, 10);
    // With the wall beside the door left out there is still the apron's edge.
    let g = r.signed(&rect(1300.0, -2000.0, 3200.0, 2500.0), &|l| l == 0).unwrap();
    assert_eq!((g.mm, g.label), (300.0, 10));
}

#[test]
fn an_apron_wider_than_its_door_leaves_a_thin_wall() {
    let r = with_apron(200.0, 5300.0);
    let wide = rect(700.0, -2000.0, 3200.0, 2500.0);
    // All of it is on floor or apron, but the wall from x 0 to 1000 passes 300 into it.
    check(&r, &wide, -300.0, 0);
    let g = r.signed(&wide, &|l| l == 0).unwrap();
    assert_eq!((g.mm, g.label), (500.0, 10));
    // A car turned in the doorway is nearest to the corner of a jamb.
    let car = Shape::rect(P2::new(2750.0, 500.0), V2::new(1900.0, 4500.0), 0.2).unwrap();
    let g = check(&r, &car, 1750.0 * 0.2f64.cos() - 500.0 * 0.2f64.sin() - 950.0, 0);
    assert_eq!(g.on_edge, P2::new(4500.0, 0.0));
    // The same for a shape in several pieces, which must come off as a whole.
    let l = polygon(&[
        (700.0, -2000.0),
        (3200.0, -2000.0),
        (3200.0, 2500.0),
        (2500.0, 2500.0),
        (2500.0, -500.0),
        (700.0, -500.0),
    ]);
    check(&r, &Shape::polygon(l.clone()), 500.0, 0);
    let up: Vec<P2> = l.points().iter().map(|p| p + V2::new(0.0, 1000.0)).collect();
    check(&r, &Shape::polygon(Polygon::new(up).unwrap()), -300.0, 0);
    check(&r, &Shape::round(P2::new(1200.0, 0.0), 1000.0).unwrap(), -300.0, 0);
}

#[test]
fn equally_near_edges_give_the_lowest_label() {
    let r = Region::new(floor().cells().to_vec(), floor().edges().iter().rev().copied().collect());
    check(&r, &rect(1000.0, 1000.0, 4500.0, 11000.0), 1000.0, 0);
}

/// The distance of a point to the union of the cells, by the cells themselves.
fn outside(r: &Region, p: P2) -> f64 {
    if r.contains(p) {
        return 0.0;
    }
    let sides = r.cells().iter().flat_map(Polygon::edges);
    sides.map(|(a, b)| segment_gap(p, p, a, b).mm).fold(f64::INFINITY, f64::min)
}

proptest! {
    #![proptest_config(crate::seeds::cases(120))]

    #[test]
    fn farthest_part_agrees_with_a_fine_grid(
        radii in prop::collection::vec(800.0..4000.0f64, 3..9),
        (x, y, w, d, turn) in (-4000.0..4000.0f64, -4000.0..4000.0f64, 100.0..3000.0f64, 100.0..3000.0f64, 0.0..TAU),
        round in any::<bool>(),
    ) {
        let n = radii.len() as f64;
        let ring: Vec<P2> = radii.iter().enumerate().map(|(i, r)| P2::origin() + rotate(V2::x(), i as f64 / n * TAU) * *r).collect();
        let Ok(cell) = Polygon::new(ring) else { return Ok(()) };
        let edges: Vec<Edge> = cell.edges().zip(0..).map(|((a, b), label)| Edge { a, b, label }).collect();
        let r = Region::new(vec![cell], edges);
        let at = P2::new(x, y);
        let s = if round { Shape::round(at, w).unwrap() } else { Shape::rect(at, V2::new(w, d), turn).unwrap() };
        let g = r.signed(&s, &all).unwrap();
        let Bounds { min, .. } = s.bounds();
        let size = s.bounds().size();
        let steps = 150;
        let mut grid = 0.0f64;
        for i in 0..=steps {
            for j in 0..=steps {
                let p = min + V2::new(size.x * i as f64 / steps as f64, size.y * j as f64 / steps as f64);
                if s.contains(p) {
                    grid = grid.max(outside(&r, p));
                }
            }
        }
        let cell = size.norm() / steps as f64;
        if g.mm < 0.0 {
            prop_assert!(grid <= -g.mm + 0.01 && -g.mm <= grid + cell, "{g:?}, grid {grid}");
            prop_assert!((outside(&r, g.on_shape) + g.mm).abs() < 1e-6 || round);
        } else {
            prop_assert!(grid <= 1e-6, "{g:?}, grid {grid}");
            let least = r.edges().iter().map(|e| edge_gap(&s, e).mm).fold(f64::INFINITY, f64::min);
            prop_assert!((g.mm - least).abs() < 1e-6);
        }
    }

    #[test]
    fn parts_beyond_a_skipped_edge_do_not_count(
        (x, y, w, d, turn) in (-500.0..6000.0f64, -500.0..12500.0f64, 100.0..3000.0f64, 100.0..6000.0f64, 0.0..TAU),
        left_out in 0..4u32,
    ) {
        let r = floor();
        let s = Shape::rect(P2::new(x, y), V2::new(w, d), turn).unwrap();
        let g = r.signed(&s, &|l| l == left_out).unwrap();
        let (min, size) = (s.bounds().min, s.bounds().size());
        let steps = 150;
        let mut grid = 0.0f64;
        for i in 0..=steps {
            for j in 0..=steps {
                let p = min + V2::new(size.x * i as f64 / steps as f64, size.y * j as f64 / steps as f64);
                if r.contains(p) || !s.contains(p) {
                    continue;
                }
                let least = |out: bool| {
                    let edges = r.edges().iter().filter(|e| (e.label == left_out) == out);
                    edges.map(|e| point_edge(p, e).mm).fold(f64::INFINITY, f64::min)
                };
                if least(false) < least(true) - 1e-9 {
                    grid = grid.max(least(false));
                }
            }
        }
        let cell = size.norm() / steps as f64;
        prop_assert!(g.label != left_out);
        if grid > 0.0 {
            prop_assert!(g.mm <= -grid + 0.01 && -g.mm <= grid + 2.0 * cell, "{g:?}, grid {grid}");
        }
    }
}

#[test]
fn twice_the_corners_take_no_more_than_twice_the_looks() {
    // walls of teeth, and of niches, all round a hall: a box that stands out of it, and a round thing
    let looks = |n: usize, deep: f64, along: usize| {
        let at = |i: usize| {
            let (sin, cos) = (i as f64 / n as f64 * TAU).sin_cos();
            let r = if (i / along).is_multiple_of(2) { 9000.0 } else { 9000.0 - deep };
            (r * cos, r * sin)
        };
        let hall = walled(&(0..n).map(at).collect::<Vec<_>>());
        let box_out = Shape::rect(P2::new(8000.0, 2000.0), V2::new(3000.0, 3000.0), 0.3).unwrap();
        let round_out = Shape::round(P2::new(8500.0, 2000.0), 700.0).unwrap();
        LOOKS.with(|n| n.set(0));
        for shape in [&box_out, &round_out] {
            assert!(hall.signed(shape, &|_| false).unwrap().mm < -50.0);
            assert!(hall.signed(shape, &|label| label < 5).unwrap().mm < -50.0);
        }
        LOOKS.with(Cell::get)
    };
    for (deep, along) in [(200.0, 1), (400.0, 2)] {
        let (few, many) = (looks(1000, deep, along), looks(2000, deep, along));
        assert!(many as f64 <= 2.5 * few as f64, "deep {deep}: {few} looks at 1000, {many} at 2000");
    }
}
