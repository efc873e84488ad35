//! The greatest that the least of some planes can be over a box: the upper bound the search for the deepest pose
//! works with.

use nalgebra::{Matrix3, Vector3};

/// A plane over the middle of a box: `at + slope . d` at the offset `d`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Plane {
    pub at: f64,
    pub x: f64,
    pub y: f64,
}

/// Where the least of the planes is greatest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Top {
    /// Never less than the true greatest value.
    pub value: f64,
    pub x: f64,
    pub y: f64,
    /// Planes that hold it down; `None` for sides of the box.
    pub held: [Option<usize>; 3],
}

/// Exchanges before the bound reached so far must do: it is valid at every step.
const STEPS: usize = 24;

/// Maximises (the least plane) - `tilt` . d over |d.x| <= `half.0`, |d.y| <= `half.1`, by the dual simplex method
/// with three rows (Lemke 1954; from memory). Every step is a valid upper bound.
pub(super) fn top(planes: &[Plane], half: (f64, f64), tilt: (f64, f64)) -> Option<Top> {
    let n = planes.len();
    let row = |k: usize| match k.checked_sub(n) {
        None => (Vector3::new(-planes[k].x, -planes[k].y, 1.0), planes[k].at),
        Some(0) => (Vector3::new(1.0, 0.0, 0.0), half.0),
        Some(1) => (Vector3::new(-1.0, 0.0, 0.0), half.0),
        Some(2) => (Vector3::new(0.0, 1.0, 0.0), half.1),
        Some(_) => (Vector3::new(0.0, -1.0, 0.0), half.1),
    };
    let first = (0..n).min_by(|i, j| planes[*i].at.total_cmp(&planes[*j].at))?;
    let (gx, gy) = (planes[first].x - tilt.0, planes[first].y - tilt.1);
    let mut basis = [first, n + usize::from(gx < 0.0), n + 2 + usize::from(gy < 0.0)];
    let mut dual = Vector3::new(1.0, gx.abs(), gy.abs());
    let mut best: Option<Top> = None;
    for _ in 0..STEPS {
        let rows = basis.map(row);
        let matrix = Matrix3::from_rows(&rows.map(|r| r.0.transpose()));
        let limits = Vector3::new(rows[0].1, rows[1].1, rows[2].1);
        let Some(inverse) = matrix.try_inverse() else { break };
        let at = inverse * limits;
        let value = dual.dot(&limits);
        if best.is_none_or(|b| value <= b.value) {
            best = Some(Top {
                value,
                x: at.x.clamp(-half.0, half.0),
                y: at.y.clamp(-half.1, half.1),
                held: basis.map(|k| (k < n).then_some(k)),
            });
        }
        let over = |k: usize| {
            let (r, limit) = row(k);
            r.dot(&at) - limit
        };
        let Some(enter) = (0..n + 4).max_by(|i, j| over(*i).total_cmp(&over(*j))).filter(|k| over(*k) > 1e-9)
        else {
            break;
        };
        let weights = inverse.transpose() * row(enter).0;
        let leave = (0..3)
            .filter(|i| weights[*i] > 1e-12)
            .min_by(|i, j| (dual[*i] / weights[*i]).total_cmp(&(dual[*j] / weights[*j])));
        let Some(leave) = leave else { break };
        let step = dual[leave] / weights[leave];
        dual -= weights * step;
        dual[leave] = step;
        dual = dual.map(|y| y.max(0.0));
        basis[leave] = enter;
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plane(at: f64, x: f64, y: f64) -> Plane {
        Plane { at, x, y }
    }

    #[test]
    fn hand_cases() {
        // one plane rising to the right: its corner
        let t = top(&[plane(1.0, 1.0, 0.0)], (2.0, 3.0), (0.0, 0.0)).unwrap();
        assert!((t.value - 3.0).abs() < 1e-12 && t.x == 2.0);
        // a corridor between two walls: the middle, and the tilt picks its low end
        let corridor = [plane(1.0, 1.0, 0.0), plane(2.0, -1.0, 0.0)];
        let t = top(&corridor, (2.0, 3.0), (0.0, 1e-3)).unwrap();
        assert!((t.value - (1.5 + 3e-3)).abs() < 1e-12);
        assert!((t.x - 0.5).abs() < 1e-12 && t.y == -3.0);
        // the incircle of a triangle with right angle, legs 3 and 4: radius 1 (Euclid, Elements IV.4)
        let s = [plane(0.0, 1.0, 0.0), plane(0.0, 0.0, 1.0), plane(12.0 / 5.0, -0.8, -0.6)];
        let t = top(&s, (9.0, 9.0), (0.0, 0.0)).unwrap();
        assert!((t.value - 1.0).abs() < 1e-12 && (t.x - 1.0).abs() < 1e-12 && (t.y - 1.0).abs() < 1e-12);
        assert!(top(&[], (1.0, 1.0), (0.0, 0.0)).is_none());
    }

    #[test]
    fn never_less_than_any_point() {
        let mut seed = 1u64;
        let mut next = || {
            seed = seed.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
            (seed >> 11) as f64 / (1u64 << 53) as f64 * 2.0 - 1.0
        };
        for _ in 0..500 {
            let planes: Vec<Plane> = (0..7)
                .map(|_| {
                    let a = next() * 3.2;
                    plane(next() * 10.0, a.cos(), a.sin())
                })
                .collect();
            let half = (next().abs() * 8.0, next().abs() * 8.0);
            let t = top(&planes, half, (0.01, 0.02)).unwrap();
            let value = |x: f64, y: f64| {
                planes.iter().map(|p| p.at + p.x * x + p.y * y).fold(f64::INFINITY, f64::min)
                    - 0.01 * x
                    - 0.02 * y
            };
            assert!((value(t.x, t.y) - t.value).abs() < 1e-6, "{t:?}");
            for _ in 0..200 {
                assert!(value(next() * half.0, next() * half.1) <= t.value + 1e-9);
            }
        }
    }
}
