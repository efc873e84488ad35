//! What is free on a line of poses, and how far apart what stays and what moves leave the vehicle.

use super::Met;
use crate::geometry::NOISE_MM;

/// What two sorted lists leave free of a range.
pub(super) fn free(a: &[Met], b: &[Met], range: (f64, f64)) -> Vec<(f64, f64)> {
    let mut gaps = Vec::new();
    let mut at = range.0;
    let (mut i, mut j) = (0, 0);
    while i < a.len() || j < b.len() {
        let first = match (a.get(i), b.get(j)) {
            (Some(x), Some(y)) if x.from <= y.from => {
                i += 1;
                x
            }
            (Some(x), None) => {
                i += 1;
                x
            }
            (_, Some(y)) => {
                j += 1;
                y
            }
            (None, None) => break,
        };
        if first.from > range.1 {
            break;
        }
        if first.from >= at - NOISE_MM {
            gaps.push((at, first.from.max(at)));
        }
        at = at.max(first.to);
    }
    if at <= range.1 {
        gaps.push((at, range.1));
    }
    gaps
}

/// The least `at - before` with `at` in one of `stay`, `before` in one of `go`, not past each other and not on both
/// sides of anything swept. Growth, at, before.
pub(super) fn pair(stay: &[(f64, f64)], go: &[(f64, f64)], swept: &[Met]) -> Option<(f64, f64, f64)> {
    let mut best: Option<(f64, f64, f64)> = None;
    for &(p0, p1) in stay {
        for &(q0, q1) in go.iter().rev() {
            if q0 > p1 {
                continue;
            }
            if q1 >= p0 {
                // They meet: no growth, wherever nothing swept is in the way.
                let range = (p0.max(q0), p1.min(q1));
                let gaps = free(swept, &[], range);
                if let Some(gap) = gaps.first() {
                    return Some((0.0, gap.0, gap.0));
                }
                continue;
            }
            let growth = p0 - q1;
            if best.is_some_and(|b| growth >= b.0) {
                break;
            }
            if swept.iter().all(|m| p0 <= m.from + NOISE_MM || q1 >= m.to - NOISE_MM) {
                best = Some((growth, p0, q1));
            }
        }
    }
    best
}
