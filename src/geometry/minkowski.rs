//! Minkowski differences of convex pieces.

use super::{P2, V2, cross};

/// A minus B = {a - b}, for convex A and B given anticlockwise, as an anticlockwise ring: the sides of A and of
/// B turned half round, merged by direction. A single point and a segment (two points) count as convex; an empty
/// A or B gives an empty ring.
pub fn minkowski_difference(a: &[P2], b: &[P2]) -> Vec<P2> {
    let turned: Vec<P2> = b.iter().map(|p| P2::from(-p.coords)).collect();
    let (Some(start_a), Some(start_b)) = (lowest(a), lowest(&turned)) else {
        return Vec::new();
    };
    let sides = |ring: &[P2]| if ring.len() > 1 { ring.len() } else { 0 };
    let (n, m) = (sides(a), sides(&turned));
    let point = |ring: &[P2], start: usize, i: usize| ring[(start + i) % ring.len()];
    let side = |ring: &[P2], start: usize, i: usize| point(ring, start, i + 1) - point(ring, start, i);
    let mut out = Vec::with_capacity((n + m).max(1));
    let (mut i, mut j) = (0, 0);
    loop {
        out.push(point(a, start_a, i) + point(&turned, start_b, j).coords);
        if i == n && j == m {
            break;
        }
        let order = if i == n {
            1.0
        } else if j == m {
            -1.0
        } else {
            turn_order(side(a, start_a, i), side(&turned, start_b, j))
        };
        if order <= 0.0 {
            i += 1;
        }
        if order >= 0.0 {
            j += 1;
        }
    }
    if out.len() > 1 {
        out.pop();
    }
    out
}

/// Index of the lowest point, the leftmost of equals.
fn lowest(ring: &[P2]) -> Option<usize> {
    (0..ring.len()).min_by(|i, j| {
        let (p, q) = (ring[*i], ring[*j]);
        p.y.total_cmp(&q.y).then(p.x.total_cmp(&q.x))
    })
}

/// Negative when direction `u` comes before `v` going anticlockwise from +x, 0 when they are the same.
fn turn_order(u: V2, v: V2) -> f64 {
    let lower = |d: V2| d.y < 0.0 || (d.y == 0.0 && d.x < 0.0);
    match (lower(u), lower(v)) {
        (false, true) => -1.0,
        (true, false) => 1.0,
        _ => -cross(u, v),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::twice_area;

    fn ring(points: &[(f64, f64)]) -> Vec<P2> {
        points.iter().map(|p| P2::new(p.0, p.1)).collect()
    }

    fn same_ring(a: &[P2], b: &[P2]) -> bool {
        a.len() == b.len()
            && (0..b.len()).any(|s| (0..b.len()).all(|i| (a[i] - b[(i + s) % b.len()]).norm() < 1e-12))
    }

    #[test]
    fn sums_agree_with_geos() {
        let rect = ring(&[(0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (0.0, 2.0)]);
        // GEOS: rectangle and diamond, area 22, an octagon. The diamond is its own reflection.
        let diamond = ring(&[(0.0, -1.0), (1.0, 0.0), (0.0, 1.0), (-1.0, 0.0)]);
        let octagon = ring(&[
            (0.0, -1.0),
            (4.0, -1.0),
            (5.0, 0.0),
            (5.0, 2.0),
            (4.0, 3.0),
            (0.0, 3.0),
            (-1.0, 2.0),
            (-1.0, 0.0),
        ]);
        let sum = minkowski_difference(&rect, &diamond);
        assert!(same_ring(&sum, &octagon), "{sum:?}");
        assert!((twice_area(&sum) / 2.0 - 22.0).abs() < 1e-12);
        // GEOS: the rectangle swept along (3, 1), area 18, a hexagon.
        let hexagon = ring(&[(0.0, 0.0), (4.0, 0.0), (7.0, 1.0), (7.0, 3.0), (3.0, 3.0), (0.0, 2.0)]);
        for path in [ring(&[(0.0, 0.0), (-3.0, -1.0)]), ring(&[(-3.0, -1.0), (0.0, 0.0)])] {
            let swept = minkowski_difference(&rect, &path);
            assert!(same_ring(&swept, &hexagon), "{swept:?}");
            assert!((twice_area(&swept) / 2.0 - 18.0).abs() < 1e-12);
        }
    }

    #[test]
    fn points_and_segments_are_convex_too() {
        let p = ring(&[(5.0, 1.0)]);
        let s = ring(&[(0.0, 0.0), (2.0, 0.0)]);
        let up = ring(&[(0.0, 0.0), (0.0, 3.0)]);
        assert_eq!(minkowski_difference(&p, &p), ring(&[(0.0, 0.0)]));
        assert!(same_ring(&minkowski_difference(&s, &p), &ring(&[(-5.0, -1.0), (-3.0, -1.0)])));
        assert!(same_ring(&minkowski_difference(&s, &s), &ring(&[(-2.0, 0.0), (2.0, 0.0)])));
        assert!(same_ring(
            &minkowski_difference(&s, &up),
            &ring(&[(0.0, -3.0), (2.0, -3.0), (2.0, 0.0), (0.0, 0.0)])
        ));
        // A flat side in two parts, and the same directions in the other piece.
        let parted = ring(&[(0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0)]);
        let d = minkowski_difference(&parted, &s);
        assert!((twice_area(&d) / 2.0 - 4.0).abs() < 1e-12, "{d:?}");
        assert!(minkowski_difference(&[], &s).is_empty());
    }
}
