//! Cutting parallel lines to the inside of an outline, even-odd.

use crate::geometry::{P2, V2};

/// The stretches of the endless line through `at` along `dir` (length 1) that lie inside the closed ring, as distances
/// from `at`, in order. `cuts` is scratch space, so that many lines can be cut without allocating.
pub fn spans_along<'c>(
    ring: &[P2],
    at: P2,
    dir: V2,
    cuts: &'c mut Vec<f64>,
) -> impl Iterator<Item = (f64, f64)> + 'c {
    cuts.clear();
    let off = |p: P2| dir.x * (p.y - at.y) - dir.y * (p.x - at.x);
    let along = |p: P2| dir.x * (p.x - at.x) + dir.y * (p.y - at.y);
    let mut last = ring.last().copied();
    for &b in ring {
        if let Some(a) = last {
            let (u, v) = (off(a), off(b));
            if (u > 0.0) != (v > 0.0) {
                cuts.push(along(a) + (along(b) - along(a)) * u / (u - v));
            }
        }
        last = Some(b);
    }
    cuts.sort_unstable_by(f64::total_cmp);
    cuts.chunks_exact(2).map(|c| (c[0], c[1]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_notched_outline_gives_two_stretches() {
        let ring =
            [(0.0, 0.0), (9.0, 0.0), (9.0, 6.0), (6.0, 6.0), (6.0, 3.0), (3.0, 3.0), (3.0, 6.0), (0.0, 6.0)]
                .map(|(x, y)| P2::new(x, y));
        let mut cuts = Vec::new();
        let across = V2::new(1.0, 0.0);
        let at = |y: f64, cuts: &mut Vec<f64>| {
            spans_along(&ring, P2::new(-1.0, y), across, cuts).collect::<Vec<_>>()
        };
        assert_eq!(at(4.0, &mut cuts), [(1.0, 4.0), (7.0, 10.0)]);
        assert_eq!(at(1.0, &mut cuts), [(1.0, 10.0)]);
        assert!(at(7.0, &mut cuts).is_empty());
    }
}
