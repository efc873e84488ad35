//! How far it is from a spot to the ground outside, round what is in the way: the search's sense of direction.
//!
//! A disc that fits inside the body about the rear axle is rolled over a coarse grid, so the distance is never much
//! more than the vehicle's own.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::course::Course;
use crate::geometry::{P2, V2};

/// Side of a cell, mm.
const CELL: f64 = 200.0;

#[derive(Clone, Debug)]
pub struct Guide {
    min: P2,
    nx: usize,
    ny: usize,
    /// Tenths of a cell; `u32::MAX` where there is no way.
    steps: Vec<u32>,
}

impl Guide {
    /// A disc of radius `core` must leave the doorway until its middle is `clear` mm outside.
    pub fn new(course: &Course, core: f64, clear: f64) -> Guide {
        let size = course.bounds.size();
        let count = |mm: f64| (mm / CELL).ceil().max(1.0) as usize + 1;
        let (nx, ny) = (count(size.x), count(size.y));
        let mut guide = Guide { min: course.bounds.min, nx, ny, steps: vec![u32::MAX; nx * ny] };
        // the middle of a cell stands for all of it
        let radius = (core - CELL * std::f64::consts::FRAC_1_SQRT_2).max(0.0);
        let blocked: Vec<bool> = (0..nx * ny).map(|i| course.disc_blocked(guide.middle(i), radius)).collect();
        let mut open = BinaryHeap::new();
        for i in (0..nx * ny).filter(|i| !blocked[*i]) {
            let p = guide.middle(i);
            if course.gate.outside(p) >= clear && course.gate.beside(p).abs() <= course.gate.width / 2.0 {
                guide.steps[i] = 0;
                open.push(Reverse((0, i)));
            }
        }
        while let Some(Reverse((cost, i))) = open.pop() {
            if cost > guide.steps[i] {
                continue;
            }
            for (j, step) in neighbours(nx, ny, i) {
                if !blocked[j] && cost + step < guide.steps[j] {
                    guide.steps[j] = cost + step;
                    open.push(Reverse((cost + step, j)));
                }
            }
        }
        guide
    }

    /// A way of about this length is needed from here, mm; `None`: there is none, or `p` is off the grid.
    pub fn from(&self, p: P2) -> Option<f64> {
        /// The grid's eight directions overrate a slanting way by up to a twelfth.
        const SLANT: f64 = 0.92;
        let cell = (p - self.min) / CELL;
        let (x, y) = (cell.x.floor(), cell.y.floor());
        if x < 0.0 || y < 0.0 || x >= self.nx as f64 || y >= self.ny as f64 {
            return None;
        }
        let steps = self.steps[y as usize * self.nx + x as usize];
        (steps != u32::MAX).then(|| f64::from(steps) / 10.0 * CELL * SLANT)
    }

    fn middle(&self, i: usize) -> P2 {
        self.min + V2::new((i % self.nx) as f64 + 0.5, (i / self.nx) as f64 + 0.5) * CELL
    }
}

/// The eight cells round one, with the way to each in tenths of a cell.
fn neighbours(nx: usize, ny: usize, i: usize) -> impl Iterator<Item = (usize, u32)> {
    let (x, y) = ((i % nx) as i64, (i / nx) as i64);
    let around = [
        (1, 0, 10),
        (-1, 0, 10),
        (0, 1, 10),
        (0, -1, 10),
        (1, 1, 14),
        (1, -1, 14),
        (-1, 1, 14),
        (-1, -1, 14),
    ];
    around.into_iter().filter_map(move |(dx, dy, step)| {
        let (x, y) = (x + dx, y + dy);
        let on = x >= 0 && y >= 0 && x < nx as i64 && y < ny as i64;
        on.then(|| (y as usize * nx + x as usize, step))
    })
}
