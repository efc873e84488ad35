//! The gap between two shapes: plan distance, or minus the shortest shift that parts them.

use super::{NOISE_MM, P2, Shape, V2, convex::apart_gap, convex::convex_gap, convex::foot, depth::depth};

/// What boxes farther apart than this hold needs no test for overlap, mm.
const APART_MM: f64 = 0.001;

/// A signed plan distance and where it was measured. `a` lies on A, `b` on B.
///
/// Apart: `mm` is the distance and `a`, `b` the two nearest points. Touching: 0. Overlapping: `mm` is minus the
/// length of the shortest shift that takes A off B; `a` is the point of A deepest in B and `b` where that point
/// must go, so that `b - a` is the shift.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gap {
    pub mm: f64,
    pub a: P2,
    pub b: P2,
}

/// The gap between two shapes, within 1e-6 mm. For shapes in several pieces that overlap, the depth is the
/// distance from the origin to the edge of the union of the pieces' Minkowski differences.
pub fn gap(a: &Shape, b: &Shape) -> Gap {
    let (ra, rb) = (a.radius(), b.radius());
    if let ([p], [q]) = (a.pieces(), b.pieces()) {
        let apart = a.bounds().distance(&b.bounds()) > APART_MM;
        return if apart { apart_gap(p, q, ra, rb) } else { convex_gap(p, q, ra, rb) };
    }
    let mut best: Option<Gap> = None;
    for (p, p_bounds) in a.pieces().iter().zip(a.piece_bounds()) {
        for (q, q_bounds) in b.pieces().iter().zip(b.piece_bounds()) {
            let room = p_bounds.distance(q_bounds);
            if best.is_some_and(|g| g.mm <= room) {
                continue;
            }
            let g = if room > APART_MM { apart_gap(p, q, ra, rb) } else { convex_gap(p, q, ra, rb) };
            if best.is_none_or(|o| g.mm < o.mm) {
                best = Some(g);
            }
        }
    }
    match best {
        Some(g) if g.mm >= -NOISE_MM => g,
        _ => depth(a.pieces(), b.pieces(), ra, rb),
    }
}

/// Is the gap at least `limit`, within noise? Looks at the bounding boxes first.
pub fn gap_at_least(a: &Shape, b: &Shape, limit: f64) -> bool {
    let room = a.bounds().distance(&b.bounds());
    // Boxes at distance 0 may still overlap, so they say nothing about a limit of 0 or less.
    (room > 0.0 && room >= limit - NOISE_MM) || gap(a, b).mm >= limit - NOISE_MM
}

/// The gap between a point and a shape; inside, minus the way to the nearest point of its outline.
pub fn point_gap(p: P2, s: &Shape) -> Gap {
    if s.radius() > 0.0 {
        let core = s.pieces()[0][0];
        let d = p - core;
        let out = d.try_normalize(0.0).unwrap_or(V2::x());
        return Gap { mm: d.norm() - s.radius(), a: p, b: core + out * s.radius() };
    }
    let mut best = Gap { mm: f64::INFINITY, a: p, b: p };
    for (a, b) in s.outline().edges() {
        let q = foot(p, a, b);
        let mm = (q - p).norm();
        if mm < best.mm {
            best = Gap { mm, a: p, b: q };
        }
    }
    if best.mm > 0.0 && s.outline().contains(p) {
        best.mm = -best.mm;
    }
    best
}

#[cfg(test)]
mod tests;
