//! The pose deepest inside the allowed ones, by branch and bound.
//!
//! The depth at a pose is the least of many signed distances, each a convex function. Over a box a convex function
//! lies below its tangent plane in the middle raised until the four corners are below it too; the least of such
//! planes has its greatest value where a small linear program says. The bound is exact where the nearest sides are
//! straight, so boxes need not become small.

use std::cmp::Ordering;
use std::collections::BinaryHeap;
use std::rc::Rc;

use super::bound::{Plane, top};
use super::progress::{Progress, Stopped};
use super::space::Space;
use crate::geometry::{Bounds, NOISE_MM, P2, V2};

/// What the search found.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Deepest {
    /// The deepest pose, of equally deep ones the one with the smallest y, then x; none where no pose is deep enough.
    pub best: Option<(P2, f64)>,
    /// Obstacles that together show that no pose is deeper, sorted; complete only where there is no best.
    pub held_by: Vec<u32>,
}

/// Poses this much less deep than the deepest may be taken for a smaller y, mm over the whole box: "equally deep".
const EVEN_MM: f64 = 0.9;
/// The same for a smaller x.
const EVEN_X_MM: f64 = 0.05;
/// How much deeper than the answer some pose may be, mm.
const CLOSE_MM: f64 = 1e-6;
/// So many planes at most make a bound.
const PLANES: usize = 16;
/// Boxes looked at before coarser answers must do: 0.01 mm, then what was found.
const MANY: usize = 60_000;
const ENOUGH: usize = 600_000;

/// Looks through the box for the deepest pose at least `least` deep (`-NOISE_MM`: an allowed one).
pub(super) fn deepest(
    space: &Space,
    among: &[u32],
    domain: Bounds,
    least: f64,
    progress: &Progress,
) -> Result<Deepest, Stopped> {
    let size = domain.size();
    let mut hunt = Hunt {
        space,
        least,
        domain,
        tilt: V2::new(EVEN_X_MM / size.x.max(1.0), EVEN_MM / size.y.max(1.0)),
        best: None,
        held: vec![false; space.obstacles.len()],
        planes: Vec::new(),
        heap: BinaryHeap::new(),
    };
    if size.x < -NOISE_MM || size.y < -NOISE_MM || !(size.x + size.y).is_finite() {
        return Ok(hunt.answer());
    }
    let half = V2::new(size.x.max(0.0) / 2.0, size.y.max(0.0) / 2.0);
    hunt.look(domain.centre(), half, among);
    let mut looked_at = 0;
    while let Some(cell) = hunt.heap.pop() {
        looked_at += 1;
        if looked_at % 64 == 0 {
            progress.go_on()?;
        }
        let close = if looked_at > MANY { 1e-2 } else { CLOSE_MM };
        if hunt.best.is_some_and(|b| cell.most <= b.score + close) || looked_at > ENOUGH {
            break;
        }
        let (hx, hy) = (cell.half.x, cell.half.y);
        let (half, step) = if hx >= hy {
            (V2::new(hx / 2.0, hy), V2::new(hx / 2.0, 0.0))
        } else {
            (V2::new(hx, hy / 2.0), V2::new(0.0, hy / 2.0))
        };
        if hx.max(hy) < 1e-7 {
            continue;
        }
        for at in [cell.at - step, cell.at + step] {
            hunt.look(at, half, &cell.near);
        }
    }
    Ok(hunt.answer())
}

struct Hunt<'a> {
    space: &'a Space,
    least: f64,
    domain: Bounds,
    tilt: V2,
    best: Option<Best>,
    held: Vec<bool>,
    planes: Vec<(u32, f64, V2)>,
    heap: BinaryHeap<Cell>,
}

#[derive(Clone, Copy)]
struct Best {
    at: P2,
    depth: f64,
    /// The depth less the tilt: what is compared.
    score: f64,
}

struct Cell {
    /// No score in the cell is greater.
    most: f64,
    at: P2,
    half: V2,
    near: Rc<[u32]>,
}

impl Hunt<'_> {
    fn answer(self) -> Deepest {
        let held = self.held.iter().enumerate().filter(|(_, held)| **held);
        Deepest {
            best: self.best.map(|b| (b.at, if b.depth.abs() <= NOISE_MM { 0.0 } else { b.depth })),
            held_by: held.map(|(i, _)| i as u32).collect(),
        }
    }

    /// What the tilt takes off the depth at a pose: never below 0 in the domain.
    fn penalty(&self, p: P2) -> f64 {
        self.tilt.dot(&(p - self.domain.min))
    }

    fn offer(&mut self, at: P2, depth: f64) {
        let score = depth - self.penalty(at);
        if depth >= self.least && self.best.is_none_or(|b| score > b.score) {
            self.best = Some(Best { at, depth, score });
        }
    }

    /// Judges a box and keeps it when it may hold a deeper pose.
    fn look(&mut self, at: P2, half: V2, among: &[u32]) {
        let reach = half.norm();
        let lowest = self.penalty(at) - self.tilt.dot(&half);
        let floor = self.best.map_or(self.least, |b| self.least.max(b.score + lowest + CLOSE_MM));
        self.planes.clear();
        let mut depth = f64::INFINITY;
        for &i in among {
            let o = &self.space.obstacles[i as usize];
            // quick: boxes far enough apart cannot matter
            let room = (o.bounds.min.x - at.x)
                .max(at.x - o.bounds.max.x)
                .max(o.bounds.min.y - at.y)
                .max(at.y - o.bounds.max.y);
            if room > depth + 2.0 * reach {
                continue;
            }
            let (mm, out) = self.space.sides.signed(o, at);
            if mm + reach < floor {
                self.held[i as usize] = true;
                return;
            }
            depth = depth.min(mm);
            if mm <= depth + 2.0 * reach {
                self.planes.push((i, mm, out));
            }
        }
        if self.planes.is_empty() {
            return; // nothing keeps the vehicle in: no floor at all
        }
        self.planes.retain(|p| p.1 <= depth + 2.0 * reach);
        self.offer(at, depth);
        let near: Rc<[u32]> = self.planes.iter().map(|p| p.0).collect();
        // Any of the planes bound the depth; the nearest bound it best.
        if self.planes.len() > PLANES {
            self.planes.select_nth_unstable_by(PLANES, |a, b| a.1.total_cmp(&b.1));
            self.planes.truncate(PLANES);
        }
        let corners = [V2::new(-half.x, -half.y), V2::new(half.x, -half.y), half, V2::new(-half.x, half.y)];
        let planes: Vec<Plane> = self
            .planes
            .iter()
            .map(|(i, mm, out)| {
                let o = &self.space.obstacles[*i as usize];
                let above = corners.map(|c| self.space.sides.signed(o, at + c).0 - mm - out.dot(&c));
                Plane { at: mm + above.into_iter().fold(0.0, f64::max), x: out.x, y: out.y }
            })
            .collect();
        let Some(top) = top(&planes, (half.x, half.y), (self.tilt.x, self.tilt.y)) else { return };
        let most = top.value - self.penalty(at);
        let highest = self.penalty(at) + self.tilt.dot(&half);
        if most + highest < self.least {
            for k in top.held.into_iter().flatten() {
                self.held[self.planes[k].0 as usize] = true;
            }
            return;
        }
        if self.best.is_some_and(|b| most <= b.score + CLOSE_MM) {
            return;
        }
        let there = at + V2::new(top.x, top.y);
        let depth_there = self.space.depth(&near, there);
        self.offer(there, depth_there);
        if self.best.is_some_and(|b| most <= b.score + CLOSE_MM) {
            return;
        }
        self.heap.push(Cell { most, at, half, near });
    }
}

impl PartialEq for Cell {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}
impl Eq for Cell {}
impl PartialOrd for Cell {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Cell {
    fn cmp(&self, other: &Self) -> Ordering {
        let place = |c: &Cell| (c.at.y, c.at.x);
        let (a, b) = (place(self), place(other));
        self.most.total_cmp(&other.most).then(b.0.total_cmp(&a.0)).then(b.1.total_cmp(&a.1))
    }
}
