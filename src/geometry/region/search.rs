//! The point of some convex parts outside a region that is farthest from it.
//!
//! The distance to one edge is convex, so over a convex part it is greatest at a corner, and so is any mean of the
//! distances to two edges; the distance to the region is the least of all. Parts are split, the most promising
//! first, until these bounds show that nothing is farther than what was found.

use std::cmp::Ordering;
use std::collections::BinaryHeap;
use std::rc::Rc;

use super::near::Near;
use super::{Edge, RegionGap, point_edge};
use crate::geometry::clip::cut;
use crate::geometry::{Bounds, NOISE_MM, P2, V2};

/// How much farther a part may be than the answer, mm.
const CLOSE_MM: f64 = 0.003;
/// How far a point may lie beyond a circle and still be taken, mm.
const BEYOND_MM: f64 = 0.003;
/// A part with more corners is cut in two before it is rounded off.
const MANY_CORNERS: usize = 8;
/// Parts looked at before the answer so far must do.
const ENOUGH: usize = 50_000;

/// The farthest point so far.
pub(super) struct Search {
    near: Rc<Near>,
    /// The circle that holds the points that count, where the shape is one.
    circle: Option<(P2, f64)>,
    best: Option<RegionGap>,
}

/// A convex part with a bound on how far outside its points are, and the edges they can be nearest to.
struct Part {
    bound: f64,
    corners: Vec<P2>,
    near: Rc<Near>,
}

impl Search {
    /// A search among the points of the hull of `all`.
    pub(super) fn new(near: &Near, all: &[P2]) -> Search {
        Search { near: Rc::new(near.to(all)), circle: None, best: None }
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
        let near = self.near.clone();
        self.offer_among(&near, p);
    }

    fn offer_among(&mut self, near: &Near, p: P2) {
        if self.beyond_circle(p).is_some() {
            return;
        }
        let Some((mm, e, foot)) = near.nearest(p) else {
            return;
        };
        if mm > self.reached() + NOISE_MM {
            self.best = Some(RegionGap { mm: -mm, label: e.label, on_shape: p, on_edge: foot });
        }
    }

    /// Searches convex parts that lie outside the region.
    pub(super) fn run(&mut self, parts: Vec<Vec<P2>>) {
        let parts = self.cut_at_corners(parts);
        let mut nears = Vec::with_capacity(parts.len());
        near_each(&self.near, &parts, &mut (0..parts.len()).collect::<Vec<_>>(), &mut nears);
        nears.sort_unstable_by_key(|(i, _)| *i);
        let parts: Vec<(Rc<Near>, Vec<P2>)> =
            nears.into_iter().zip(parts).map(|((_, near), corners)| (near, corners)).collect();
        for (near, corners) in &parts {
            corners.iter().for_each(|p| self.offer_among(near, *p));
        }
        let mut open = BinaryHeap::new();
        for (near, corners) in parts {
            self.push(&mut open, corners, near);
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
                    rounded.iter().for_each(|p| self.offer_among(&part.near, *p));
                    self.push(&mut open, rounded, part.near);
                }
                continue;
            }
            for half in self.split(part.corners, &part.near) {
                let near = Rc::new(part.near.to(&half));
                self.push(&mut open, half, near);
            }
        }
    }

    fn push(&mut self, open: &mut BinaryHeap<Part>, corners: Vec<P2>, near: Rc<Near>) {
        if let [a, b, c] = corners[..] {
            self.offer_ridges([a, b, c], &near);
        }
        let bound = near.bound(&corners);
        if bound > self.reached() + CLOSE_MM {
            open.push(Part { bound, corners, near });
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
    fn split(&mut self, corners: Vec<P2>, near: &Near) -> [Vec<P2>; 2] {
        let n = corners.len();
        if n > 3 {
            let far = corners[n / 2..].iter().chain(&corners[..1]).copied().collect();
            return [corners[..=n / 2].to_vec(), far];
        }
        let side = |i: usize| (corners[(i + 1) % 3] - corners[i]).norm_squared();
        let i = (0..3).max_by(|i, j| side(*i).total_cmp(&side(*j))).unwrap_or(0);
        let (a, b, c) = (corners[i], corners[(i + 1) % 3], corners[(i + 2) % 3]);
        let middle = nalgebra::center(&a, &b);
        self.offer_among(near, middle);
        [vec![a, middle, c], vec![middle, b, c]]
    }

    /// The parts cut square to the edges at the ends of skipped ones. What counts ends there, and the distances on
    /// both sides differ so little that splitting alone would not find the line.
    fn cut_at_corners(&self, mut parts: Vec<Vec<P2>>) -> Vec<Vec<P2>> {
        for corner in self.near.skipped().iter().flat_map(|e| [e.a, e.b]) {
            let meets = |e: &&Edge| (e.a - corner).norm().min((e.b - corner).norm()) <= NOISE_MM;
            let meeting = self.near.edges().filter(meets);
            for along in meeting.filter_map(|e| (e.b - e.a).try_normalize(0.0)) {
                let halves = parts.iter().map(|p| cut(p, corner, along));
                parts = halves.flat_map(|(behind, beyond)| behind.into_iter().chain(beyond)).collect();
            }
        }
        parts
    }

    /// Offers the points of the triangle's sides that are about as near to one edge as to another: there the
    /// distance to the region is greatest, where not at a corner.
    fn offer_ridges(&mut self, t: [P2; 3], near: &Near) {
        let nearest = t.map(|p| near.any_nearest(p));
        for i in 0..3 {
            let (p, q) = (t[i], t[(i + 1) % 3]);
            let (Some(d), Some(e)) = (nearest[i], nearest[(i + 1) % 3]) else {
                return;
            };
            let lead = |v: P2| point_edge(v, &e).mm - point_edge(v, &d).mm;
            let (at_p, at_q) = (lead(p), lead(q));
            if at_p > 0.0 && at_q < 0.0 {
                self.offer_among(near, p + (q - p) * (at_p / (at_p - at_q)));
            }
        }
    }
}

/// For each of some parts the edges that can be nearest to it. The parts are halved again and again by where they lie,
/// so that not every edge is held against every part.
fn near_each(near: &Near, parts: &[Vec<P2>], which: &mut [usize], out: &mut Vec<(usize, Rc<Near>)>) {
    let corners: Vec<P2> = which.iter().flat_map(|i| &parts[*i]).copied().collect();
    let near = near.to(&corners);
    if let [one] = *which {
        out.push((one, Rc::new(near)));
    } else if !which.is_empty() {
        let axis = Bounds::of(&corners).size().imax();
        let place = |i: &usize| parts[*i].first().map_or(0.0, |p| p[axis]);
        which.sort_unstable_by(|i, j| place(i).total_cmp(&place(j)));
        let (low, high) = which.split_at_mut(which.len() / 2);
        near_each(&near, parts, low, out);
        near_each(&near, parts, high, out);
    }
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
