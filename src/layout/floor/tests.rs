//! Cases of floor.

use proptest::prelude::*;

use super::*;

fn field(spots: &[(f64, f64, f64)]) -> FloorField {
    FloorField::new(spots.iter().map(|s| P3::new(s.0, s.1, s.2)), None)
}

const SCATTERED: [(f64, f64, f64); 11] = [
    (120.0, 340.0, 1.5),
    (2750.0, 90.0, -4.0),
    (5380.0, 410.0, 0.8),
    (700.0, 2600.0, 3.1),
    (2400.0, 2950.0, -7.4),
    (4900.0, 2300.0, 2.2),
    (330.0, 5200.0, -1.9),
    (3100.0, 5600.0, 4.6),
    (5200.0, 5050.0, -3.3),
    (1800.0, 7700.0, 0.4),
    (4300.0, 7900.0, 6.7),
];

/// From scipy 1.17.1, LinearNDInterpolator (Qhull's Delaunay triangles): another implementation of the same surface.
const BY_SCIPY: [(f64, f64, f64); 11] = [
    (2750.0, 90.0, -4.0),
    (1000.0, 1000.0, 0.5632439889633428),
    (2600.0, 1500.0, -5.593976164680391),
    (4000.0, 1200.0, -0.59964092656558),
    (1500.0, 3500.0, -3.842850862732168),
    (3300.0, 3900.0, -4.661848739495798),
    (4700.0, 4000.0, -2.4444130127298433),
    (1200.0, 6100.0, -0.24756193782546998),
    (2900.0, 6800.0, 3.5862068965517238),
    (4500.0, 6500.0, 2.5380692167577417),
    (700.0, 700.0, 0.7914662987780846),
];

#[test]
fn heights_agree_with_another_implementation() {
    let f = field(&SCATTERED);
    for (x, y, z) in BY_SCIPY {
        let have = f.height(P2::new(x, y)).unwrap();
        assert!((have - z).abs() < 1e-9, "({x}, {y}): {have} {z}");
    }
    // outside the hull scipy says nan
    for (x, y) in [(120.0, 200.0), (5390.0, 3000.0), (3000.0, 8000.0), (f64::NAN, 0.0)] {
        assert_eq!(f.height(P2::new(x, y)), None, "({x}, {y})");
    }
    assert_eq!(f.range(), Some((-7.4, 6.7)));
}

#[test]
fn of_two_diagonals_the_one_from_the_smaller_x_then_y() {
    // a square: the diagonal runs from (0, 0) to (1000, 1000), so its middle is as high as those two
    let f = field(&[(1000.0, 1000.0, 8.0), (0.0, 1000.0, 0.0), (1000.0, 0.0, 0.0), (0.0, 0.0, 4.0)]);
    assert_eq!(f.height(P2::new(500.0, 500.0)), Some(6.0));
    // turned by an eighth: (-700, 0) has the smallest x
    let f = field(&[(0.0, -700.0, 0.0), (700.0, 0.0, 8.0), (0.0, 700.0, 0.0), (-700.0, 0.0, 4.0)]);
    assert_eq!(f.height(P2::new(0.0, 0.0)), Some(6.0));
    // eight spots on one circle of radius 65: all sides run from the first, (-63, -16)
    let ring = [
        (63.0, 16.0),
        (63.0, -16.0),
        (-63.0, 16.0),
        (-63.0, -16.0),
        (16.0, 63.0),
        (16.0, -63.0),
        (-16.0, 63.0),
        (-16.0, -63.0),
    ];
    let spots: Vec<(f64, f64, f64)> =
        ring.iter().map(|p| (p.0, p.1, if *p == (-63.0, -16.0) { 10.0 } else { 0.0 })).collect();
    let f = field(&spots);
    assert_eq!(f.triangles.len(), 6);
    assert!(f.triangles.iter().all(|t| t[0] == 0), "{:?}", f.triangles);
}

#[test]
fn too_few_spots_make_no_surface() {
    assert!(field(&[]).is_empty());
    assert_eq!(field(&[]).height(P2::origin()), None);
    for spots in [
        &[(0.0, 0.0, 3.0)][..],
        &[(0.0, 0.0, 3.0), (100.0, 0.0, 5.0)],
        &[(0.0, 0.0, 3.0), (100.0, 0.0, 5.0), (200.0, 0.0, 9.0)],
    ] {
        let f = field(spots);
        assert_eq!(f.height(P2::origin()), Some(3.0), "at a spot itself");
        assert_eq!(f.height(P2::new(50.0, 0.0)), None, "between spots on a line");
        assert!(f.contours(1.0).is_empty() && f.picture(10.0).is_none() && f.din_18202().is_empty());
        assert!(f.profile(P2::origin(), P2::new(100.0, 0.0)).is_empty());
    }
    let twice = field(&[(0.0, 0.0, 3.0), (0.0, 0.0, 5.0)]);
    assert_eq!(twice.height(P2::origin()), Some(4.0));
}

#[test]
fn contours_of_a_slope_are_straight() {
    // 1 mm in 100 mm along x
    let f = field(&[
        (0.0, 0.0, 0.0),
        (1000.0, 0.0, 10.0),
        (1000.0, 800.0, 10.0),
        (0.0, 800.0, 0.0),
        (400.0, 300.0, 4.0),
    ]);
    let lines = f.contours(2.5);
    let heights: Vec<f64> = lines.iter().map(|c| c.height).collect();
    assert_eq!(heights, [2.5, 5.0, 7.5, 10.0]);
    for c in &lines[..3] {
        assert_eq!(c.lines.len(), 1);
        let line = &c.lines[0];
        assert!(line.iter().all(|p| (p.x - c.height * 100.0).abs() < 1e-9), "{line:?}");
        let reach = (line[0].y - line[line.len() - 1].y).abs();
        assert!((reach - 800.0).abs() < 1e-9);
    }
    // a pit: one closed line round it
    let pit = field(&[
        (0.0, 0.0, 0.0),
        (900.0, 0.0, 0.0),
        (900.0, 900.0, 0.0),
        (0.0, 900.0, 0.0),
        (450.0, 400.0, -9.0),
    ]);
    let round = pit.contours(4.0);
    assert_eq!(
        round.iter().map(|c| (c.height, c.lines.len())).collect::<Vec<_>>(),
        [(-8.0, 1), (-4.0, 1), (0.0, 1)]
    );
    let line = &round[1].lines[0];
    assert_eq!(line.first(), line.last());
    assert_eq!(line.len(), 5);
    assert!(f.contours(1e-9).len() <= 401 && f.contours(f64::NAN).len() <= 401);
    assert!(
        field(&[(0.0, 0.0, 1.0), (9.0, 0.0, 1.0), (0.0, 9.0, 1.0)]).contours(1.0).is_empty(),
        "a flat floor has none"
    );
}

#[test]
fn a_profile_has_a_point_at_each_side_and_none_outside() {
    let f = field(&[
        (0.0, 0.0, 0.0),
        (1000.0, 0.0, 0.0),
        (1000.0, 1000.0, 0.0),
        (0.0, 1000.0, 0.0),
        (500.0, 500.0, -8.0),
    ]);
    let runs = f.profile(P2::new(-200.0, 250.0), P2::new(1200.0, 250.0));
    assert_eq!(runs.len(), 1);
    let want = [(200.0, 0.0), (450.0, -4.0), (950.0, -4.0), (1200.0, 0.0)];
    for (have, want) in runs[0].iter().zip(want) {
        assert!((have.0 - want.0).abs() < 1e-6 && (have.1 - want.1).abs() < 1e-9, "{runs:?}");
    }
    assert_eq!(runs[0].len(), 4);
    assert!(f.profile(P2::new(-10.0, -10.0), P2::new(-5.0, 900.0)).is_empty());
    let picture = f.picture(250.0).unwrap();
    assert_eq!((picture.columns, picture.rows), (5, 5));
    assert_eq!(picture.at(2, 2), Some(-8.0));
    assert_eq!(picture.at(1, 0), Some(0.0));
    assert!(f.picture(0.0).unwrap().heights.len() <= 260_000);
}

fn spots() -> impl Strategy<Value = Vec<(f64, f64, f64)>> {
    prop::collection::vec((0..12i32, 0..20i32, -90..90i32), 3..60).prop_map(|v| {
        v.iter().map(|s| (f64::from(s.0) * 500.0, f64::from(s.1) * 600.0, f64::from(s.2) / 10.0)).collect()
    })
}

proptest! {
    #![proptest_config(crate::seeds::cases(256))]
    /// On grids full of ties the order of the list must not matter, every height must lie between those of its
    /// triangle, and the index must find what a search through all triangles finds.
    #[test]
    fn the_order_of_the_spots_does_not_matter(spots in spots(), turn in 0usize..60, x in -100.0..6000.0f64, y in -100.0..12_000.0f64) {
        let f = field(&spots);
        let mut other = spots.clone();
        other.rotate_left(turn % spots.len());
        other.reverse();
        prop_assert_eq!(&f, &field(&other));
        let p = P2::new(x, y);
        let all: Vec<usize> = (0..f.triangles.len()).filter(|t| f.holds(*t, p)).collect();
        prop_assert_eq!(f.triangle_at(p).is_some(), !all.is_empty());
        if let Some(z) = f.height(p) {
            for t in all {
                let z_here: f64 = f.shares_in(t, p).iter().map(|(i, s)| f.spots[*i].z * s).sum();
                prop_assert!((z - z_here).abs() < 1e-6);
            }
        }
        // the triangles cover the hull once: Euler's count for a net without holes
        if !f.triangles.is_empty() {
            let used: std::collections::BTreeSet<usize> = f.triangles.iter().flatten().copied().collect();
            prop_assert_eq!(used.len() + f.triangles.len(), f.edges.len() + 1);
            prop_assert_eq!(used.len(), f.spots.len());
        }
    }

    #[test]
    fn contours_and_profiles_lie_on_the_surface(spots in spots(), step in 0.5..6.0f64) {
        let f = field(&spots);
        for c in f.contours(step) {
            for p in c.lines.iter().flatten() {
                let z = f.height(*p);
                prop_assert!(z.is_some_and(|z| (z - c.height).abs() < 1e-6), "{:?} at {:?}", z, p);
            }
        }
        let (a, b) = (P2::new(13.0, -50.0), P2::new(5500.0, 11_700.0));
        let way = (b - a).normalize();
        for (s, z) in f.profile(a, b).into_iter().flatten() {
            let on = f.height(a + way * s);
            prop_assert!(on.is_none_or(|on| (on - z).abs() < 1e-6));
        }
    }
}
