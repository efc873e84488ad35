//! The edges of a region that can be nearest to some place, and the distances to them.

use super::{Edge, point_edge};
use crate::geometry::{Gap, NOISE_MM, P2, V2};

/// Edges farther than the nearest by more than the size of a place, and this, cannot be nearest anywhere in it, mm.
const SPARE_MM: f64 = 0.001;

/// Edges that count and edges that are skipped; a point as near to a skipped edge as to any other does not count.
#[derive(Clone)]
pub(super) struct Near {
    counted: Vec<Edge>,
    skipped: Vec<Edge>,
}

impl Near {
    pub(super) fn new(counted: Vec<Edge>, skipped: Vec<Edge>) -> Near {
        Near { counted, skipped }
    }

    /// Those that can be nearest to a point of the hull of `corners`.
    pub(super) fn to(&self, corners: &[P2]) -> Near {
        let (centre, reach) = about(corners);
        let far = |edges: &[Edge]| edges.iter().map(|e| point_edge(centre, e).mm).collect::<Vec<_>>();
        let (counted, skipped) = (far(&self.counted), far(&self.skipped));
        let least = counted.iter().chain(&skipped).copied().fold(f64::INFINITY, f64::min);
        let limit = least + 2.0 * reach + SPARE_MM;
        let keep = |edges: &[Edge], far: &[f64]| {
            edges.iter().zip(far).filter(|(_, mm)| **mm <= limit).map(|(e, _)| *e).collect()
        };
        Near { counted: keep(&self.counted, &counted), skipped: keep(&self.skipped, &skipped) }
    }

    /// The same with one edge left out.
    pub(super) fn without(&self, edge: &Edge) -> Near {
        let rest = |edges: &[Edge]| edges.iter().filter(|e| *e != edge).copied().collect();
        Near { counted: rest(&self.counted), skipped: rest(&self.skipped) }
    }

    pub(super) fn counted(&self) -> &[Edge] {
        &self.counted
    }

    pub(super) fn skipped(&self) -> &[Edge] {
        &self.skipped
    }

    pub(super) fn edges(&self) -> impl Iterator<Item = &Edge> {
        self.counted.iter().chain(&self.skipped)
    }

    /// The nearest edge, the one with the lowest label of equals, and its nearest point; none when the point does
    /// not count.
    pub(super) fn nearest(&self, p: P2) -> Option<(f64, Edge, P2)> {
        let mut best: Option<(f64, Edge, P2)> = None;
        for e in &self.counted {
            let g = point_edge(p, e);
            let nearer = best.is_none_or(|(mm, b, _)| {
                g.mm < mm - NOISE_MM || (g.mm <= mm + NOISE_MM && e.label < b.label)
            });
            if nearer {
                best = Some((g.mm, *e, g.b));
            }
        }
        let gaps = self.skipped.iter().map(|e| point_edge(p, e));
        let skipped: Option<Gap> = gaps.min_by(|g, h| g.mm.total_cmp(&h.mm));
        // At a corner of both the nearest point is the same.
        let counts = |foot: P2, mm: f64| skipped.is_none_or(|s| mm < s.mm && (foot - s.b).norm() > NOISE_MM);
        best.filter(|b| counts(b.2, b.0))
    }

    /// The nearest edge of all.
    pub(super) fn any_nearest(&self, p: P2) -> Option<Edge> {
        let mut best: Option<(f64, &Edge)> = None;
        for e in self.edges() {
            let mm = point_edge(p, e).mm;
            if best.is_none_or(|b| mm < b.0) {
                best = Some((mm, e));
            }
        }
        best.map(|b| *b.1)
    }

    /// No point of the convex part that counts is farther from the region than this.
    pub(super) fn bound(&self, corners: &[P2]) -> f64 {
        if self.skipped.iter().any(|e| self.always_nearer(corners, e)) {
            return 0.0;
        }
        let bound = self.edges().map(|e| most(corners, e)).fold(f64::INFINITY, f64::min);
        let [a, b, c] = *corners else { return bound };
        let t = [a, b, c];
        let near = t.map(|p| self.any_nearest(p));
        let far = near.map(|e| e.map_or([bound; 3], |e| t.map(|p| point_edge(p, &e).mm)));
        let pairs = [(0, 1), (0, 2), (1, 2)];
        pairs.map(|(i, j)| mean_bound(far[i], far[j])).into_iter().fold(bound, f64::min)
    }

    /// Is the skipped edge as near to every point of the part as any edge that counts?
    fn always_nearer(&self, corners: &[P2], skipped: &Edge) -> bool {
        let most = most(corners, skipped);
        let (centre, reach) = about(corners);
        self.counted.iter().all(|e| {
            if point_edge(centre, e).mm - reach > most {
                return true;
            }
            // Where the nearest point is throughout an end that lies on the skipped edge too.
            let ends = [e.a, e.b].into_iter().filter(|v| point_edge(*v, skipped).mm <= NOISE_MM);
            let nearest_is = |v: P2, p: &P2| (point_edge(*p, e).b - v).norm() <= NOISE_MM;
            ends.into_iter().any(|v| corners.iter().all(|p| nearest_is(v, p)))
        })
    }
}

/// The middle of some corners and how far the farthest of them is from it.
fn about(corners: &[P2]) -> (P2, f64) {
    let sum = corners.iter().fold(V2::zeros(), |sum, p| sum + p.coords);
    let centre = P2::from(sum / corners.len() as f64);
    (centre, corners.iter().map(|p| (p - centre).norm()).fold(0.0, f64::max))
}

/// The greatest distance of a corner from the edge.
fn most(corners: &[P2], e: &Edge) -> f64 {
    corners.iter().map(|p| point_edge(*p, e).mm).fold(0.0, f64::max)
}

/// The least, over all weighted means of two distances given at three corners, of the greatest at a corner.
fn mean_bound(d: [f64; 3], e: [f64; 3]) -> f64 {
    let at = |w: f64| (0..3).map(|k| d[k] * w + e[k] * (1.0 - w)).fold(0.0, f64::max);
    let mut best = at(0.0).min(at(1.0));
    for (k, l) in [(0, 1), (0, 2), (1, 2)] {
        let (rise, start) = ((d[k] - e[k]) - (d[l] - e[l]), e[l] - e[k]);
        let w = start / rise;
        if (0.0..=1.0).contains(&w) {
            best = best.min(at(w));
        }
    }
    best
}
