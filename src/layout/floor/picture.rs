//! Heights on a grid, for a picture; heights along a line, for a profile.

use crate::geometry::P2;

use super::FloorField;

/// Heights on a square grid over the surveyed area.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// The place of the first height.
    pub min: P2,
    /// Between neighbours, mm.
    pub pitch: f64,
    pub columns: usize,
    pub rows: usize,
    /// Row by row, x growing fastest; `None` where the floor is not known.
    pub heights: Vec<Option<f64>>,
}

impl Picture {
    /// The height in a column and row.
    pub fn at(&self, column: usize, row: usize) -> Option<f64> {
        self.heights.get(row * self.columns + column).copied().flatten()
    }
}

/// The known stretches of a line: points (mm from its start, height), joined by straight lines.
pub type Profile = Vec<Vec<(f64, f64)>>;

/// Points of a picture at most.
const MOST: f64 = 250_000.0;

impl FloorField {
    /// Heights every `pitch` mm; a pitch that is not above 0 or would give more than 250 000 heights is widened.
    pub fn picture(&self, pitch: f64) -> Option<Picture> {
        if self.triangles.is_empty() {
            return None;
        }
        let bounds = self.bounds();
        let size = bounds.max - bounds.min;
        let least = (size.x * size.y / MOST).sqrt().max(size.amax() / MOST).max(1e-3);
        let pitch = if pitch.is_finite() { pitch.max(least) } else { least };
        let count = |mm: f64| (mm / pitch + 1e-9) as usize + 1;
        let (columns, rows) = (count(size.x), count(size.y));
        let place = |column: usize, row: usize| {
            bounds.min + crate::geometry::V2::new(column as f64 * pitch, row as f64 * pitch)
        };
        let heights = (0..rows)
            .flat_map(|row| (0..columns).map(move |column| (column, row)))
            .map(|(column, row)| self.height(place(column, row)))
            .collect();
        Some(Picture { min: bounds.min, pitch, columns, rows, heights })
    }

    /// The floor along the line from `a` to `b`, exact: a point wherever the line crosses a side of a triangle.
    pub fn profile(&self, a: P2, b: P2) -> Profile {
        let way = b - a;
        let length = way.norm();
        let mut stops = vec![0.0, 1.0];
        for (p, q) in self.edges() {
            let edge = q - p;
            let cross = way.perp(&edge);
            if cross != 0.0 {
                let (t, s) = ((p - a).perp(&edge) / cross, (p - a).perp(&way) / cross);
                if (-1e-9..=1.0 + 1e-9).contains(&s) && 0.0 < t && t < 1.0 {
                    stops.push(t);
                }
            }
        }
        stops.sort_by(f64::total_cmp);
        let mut runs: Profile = Vec::new();
        let mut open = false;
        for w in stops.windows(2).filter(|w| (w[1] - w[0]) * length > 1e-9) {
            let Some(t) = self.triangle_at(a + way * ((w[0] + w[1]) / 2.0)) else {
                open = false;
                continue;
            };
            let height = |at: f64| {
                let shares = self.shares_in(t, a + way * at);
                (at * length, shares.iter().map(|(i, s)| self.spots[*i].z * s).sum())
            };
            match runs.last_mut().filter(|_| open) {
                Some(run) => run.push(height(w[1])),
                None => runs.push(vec![height(w[0]), height(w[1])]),
            }
            open = true;
        }
        runs
    }
}
