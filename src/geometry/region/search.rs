//! The point of some convex parts outside a region that is farthest from it.
//!
//! The distance to one edge is convex, so over a convex part it is greatest at a corner, and so is any mean of the
//! distances to two edges; the distance to the region is the least of all. Parts are split, the most promising
//! first, until these bounds show that nothing is farther than what was found.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

use super::{Edge, RegionGap, point_edge};
use crate::geometry::clip::cut;
use crate::geometry::{Gap, NOISE_MM, P2, V2};

/// How much farther a part may be than the answer, mm.
const CLOSE_MM: f64 = 0.003;
/// How far a point may lie beyond a circle and still be taken, mm.
const BEYOND_MM: f64 = 0.003;
/// A part with more corners is cut in two before it is rounded off.
const MANY_CORNERS: usize = 8;
/// Parts looked at before the answer so far must do.
const ENOUGH: usize = 50_000;

/// The farthest point so far. `counted` and `skipped` are the region's edges; a point as near to a skipped edge as
/// to any other does not count.
pub(super) struct Search {
    counted: Vec<Edge>,
    skipped: Vec<Edge>,
    /// The circle that holds the points that count, where the shape is one.
    circle: Option<(P2, f64)>,
    best: Option<RegionGap>,
}

/// A convex part with a bound on how far outside its points are.
struct Part {
    bound: f64,
    corners: Vec<P2>,
}

impl Search {
    pub(super) fn new(counted: Vec<Edge>, skipped: Vec<Edge>) -> Search {
        Search { counted, skipped, circle: None, best: None }
    }

    /// Takes no points beyond this circle, and rounds the parts off along it.
    pub(super) fn round_off(&mut self, centre: P2, radius: f64) {
        self.circle = Some((centre, radius));
    }

    /// The farthest point taken, with `mm` negative.
    pub(super) fn best(self) -> Option<RegionGap> {
        self.best
    }

    /// Takes a point outside the region when it counts and is farther than the best.
    pub(super) fn offer(&mut self, p: P2) {
        if self.beyond_circle(p).is_some() {
            return;
        }
        let Some((mm, e, foot)) = self.nearest(p) else {
            return;
        };
        if mm > self.reached() + NOISE_MM {
            self.best = Some(RegionGap { mm: -mm, label: e.label, on_shape: p, on_edge: foot });
        }
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

    /// Searches convex parts that lie outside the region.
    pub(super) fn run(&mut self, parts: Vec<Vec<P2>>) {
        let parts = self.cut_at_corners(parts);
        parts.iter().flatten().for_each(|p| self.offer(*p));
        let mut open = BinaryHeap::new();
        for corners in parts {
            self.push(&mut open, corners);
        }
        for _ in 0..ENOUGH {
            let Some(part) = open.pop() else { return };
            if part.bound <= self.reached() + CLOSE_MM {
                return;
            }
            let few = part.corners.len() <= MANY_CORNERS;
            let beyond = part.corners.iter().find_map(|p| self.beyond_circle(*p));
            if let Some((at, out)) = beyond.filter(|_| few) {
                if let (Some(rounded), _) = cut(&part.corners, at, out) {
                    rounded.iter().for_each(|p| self.offer(*p));
                    self.push(&mut open, rounded);
                }
                continue;
            }
            for half in self.split(part.corners) {
                self.push(&mut open, half);
            }
        }
    }

    fn push(&mut self, open: &mut BinaryHeap<Part>, corners: Vec<P2>) {
        if let [a, b, c] = corners[..] {
            self.offer_ridges([a, b, c]);
        }
        let bound = self.bound(&corners);
        if bound > self.reached() + CLOSE_MM {
            open.push(Part { bound, corners });
        }
    }

    /// For a point beyond the circle, where the circle is nearest to it and the way out.
    fn beyond_circle(&self, p: P2) -> Option<(P2, V2)> {
        let (centre, radius) = self.circle?;
        let out = (p - centre).try_normalize(radius + BEYOND_MM)?;
        Some((centre + out * radius, out))
    }

    /// How far outside the farthest point so far is.
    fn reached(&self) -> f64 {
        self.best.map_or(0.0, |b| -b.mm)
    }

    /// The part cut from corner to corner, a triangle across its longest side.
    fn split(&mut self, corners: Vec<P2>) -> [Vec<P2>; 2] {
        let n = corners.len();
        if n > 3 {
            let far = corners[n / 2..].iter().chain(&corners[..1]).copied().collect();
            return [corners[..=n / 2].to_vec(), far];
        }
        let side = |i: usize| (corners[(i + 1) % 3] - corners[i]).norm_squared();
        let i = (0..3).max_by(|i, j| side(*i).total_cmp(&side(*j))).unwrap_or(0);
        let (a, b, c) = (corners[i], corners[(i + 1) % 3], corners[(i + 2) % 3]);
        let middle = nalgebra::center(&a, &b);
        self.offer(middle);
        [vec![a, middle, c], vec![middle, b, c]]
    }

    /// The parts cut square to the edges at the ends of skipped ones. What counts ends there, and the distances on
    /// both sides differ so little that splitting alone would not find the line.
    fn cut_at_corners(&self, mut parts: Vec<Vec<P2>>) -> Vec<Vec<P2>> {
        for corner in self.skipped.iter().flat_map(|e| [e.a, e.b]) {
            let meets = |e: &&Edge| (e.a - corner).norm().min((e.b - corner).norm()) <= NOISE_MM;
            let meeting = self.skipped.iter().chain(&self.counted).filter(meets);
            for along in meeting.filter_map(|e| (e.b - e.a).try_normalize(0.0)) {
                let halves = parts.iter().map(|p| cut(p, corner, along));
                parts = halves.flat_map(|(behind, beyond)| behind.into_iter().chain(beyond)).collect();
            }
        }
        parts
    }

    /// No point of the part that counts is farther from the region than this.
    fn bound(&self, corners: &[P2]) -> f64 {
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

    /// Offers the points of the triangle's sides that are about as near to one edge as to another: there the
    /// distance to the region is greatest, where not at a corner.
    fn offer_ridges(&mut self, t: [P2; 3]) {
        for i in 0..3 {
            let (p, q) = (t[i], t[(i + 1) % 3]);
            let (Some(d), Some(e)) = (self.any_nearest(p), self.any_nearest(q)) else {
                return;
            };
            let lead = |v: P2| point_edge(v, &e).mm - point_edge(v, &d).mm;
            let (at_p, at_q) = (lead(p), lead(q));
            if at_p > 0.0 && at_q < 0.0 {
                self.offer(p + (q - p) * (at_p / (at_p - at_q)));
            }
        }
    }

    /// Is the skipped edge as near to every point of the part as any edge that counts?
    fn always_nearer(&self, corners: &[P2], skipped: &Edge) -> bool {
        let most = most(corners, skipped);
        let sum = corners.iter().fold(V2::zeros(), |sum, p| sum + p.coords);
        let centre = P2::from(sum / corners.len() as f64);
        let reach = corners.iter().map(|p| (p - centre).norm()).fold(0.0, f64::max);
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

    fn edges(&self) -> impl Iterator<Item = &Edge> {
        self.counted.iter().chain(&self.skipped)
    }

    fn any_nearest(&self, p: P2) -> Option<Edge> {
        let far = |e: &Edge| point_edge(p, e).mm;
        let mut best: Option<(f64, &Edge)> = None;
        for e in self.edges() {
            let mm = far(e);
            if best.is_none_or(|b| mm < b.0) {
                best = Some((mm, e));
            }
        }
        best.map(|b| *b.1)
    }
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

impl Ord for Part {
    fn cmp(&self, o: &Part) -> Ordering {
        self.bound.total_cmp(&o.bound)
    }
}

impl PartialOrd for Part {
    fn partial_cmp(&self, o: &Part) -> Option<Ordering> {
        Some(self.cmp(o))
    }
}

impl PartialEq for Part {
    fn eq(&self, o: &Part) -> bool {
        self.cmp(o) == Ordering::Equal
    }
}

impl Eq for Part {}
