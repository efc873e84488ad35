//! The floor as surveyed: spot heights, a surface of triangles through them, and what can be read off it.
//!
//! The triangles are Delaunay's; where four spots lie on one circle, the diagonal from the spot with the smaller x,
//! then y, is taken, so that the same spots give the same floor in whatever order they are listed. Heights are linear
//! over each triangle. Outside the spots' hull nothing is known.

use std::collections::BTreeMap;

use spade::{DelaunayTriangulation, HasPosition, Point2, Triangulation};

use crate::geometry::{Bounds, NOISE_MM, P2, P3};

mod bands;
mod contours;
mod diagonal;
pub mod flatness;
mod picture;
mod ties;

pub use bands::{Scale, slice};
pub use contours::Contour;
pub use picture::{Picture, Profile};

/// Heights above the survey's datum, mm, over the bay's plan.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FloorField {
    /// Sorted by x, then y; spots at one place are one, at their mean height.
    spots: Vec<P3>,
    /// Anticlockwise, as indices into the spots.
    triangles: Vec<[usize; 3]>,
    /// Each edge once, lower index first.
    edges: Vec<(usize, usize)>,
    index: Index,
    /// Standard error of one reading of the instrument, mm.
    pub reading_error: Option<f64>,
}

/// The height at a place as a sum of spot heights, each with its share.
pub type Shares = [(usize, f64); 3];

impl FloorField {
    pub fn new(spots: impl IntoIterator<Item = P3>, reading_error: Option<f64>) -> FloorField {
        let spots = merged(spots.into_iter().collect());
        let triangles = ties::settle(&spots, delaunay(&spots));
        let mut edges: Vec<(usize, usize)> = triangles
            .iter()
            .flat_map(|t| [(t[0], t[1]), (t[1], t[2]), (t[2], t[0])])
            .map(|(a, b)| (a.min(b), a.max(b)))
            .collect();
        edges.sort_unstable();
        edges.dedup();
        let index = Index::new(&spots, &triangles);
        FloorField { spots, triangles, edges, index, reading_error }
    }

    /// No survey was given.
    pub fn is_empty(&self) -> bool {
        self.spots.is_empty()
    }

    /// The spots, sorted by x, then y.
    pub fn spots(&self) -> &[P3] {
        &self.spots
    }

    pub fn triangles(&self) -> impl Iterator<Item = [P3; 3]> + '_ {
        self.triangles.iter().map(|t| t.map(|i| self.spots[i]))
    }

    /// The sides of the triangles, in plan.
    pub fn edges(&self) -> impl Iterator<Item = (P2, P2)> + '_ {
        self.edges.iter().map(|(a, b)| (self.spots[*a].xy(), self.spots[*b].xy()))
    }

    /// Height of the floor; `None` where it is not known.
    pub fn height(&self, p: P2) -> Option<f64> {
        let shares = self.shares(p)?;
        Some(shares.iter().map(|(i, share)| self.spots[*i].z * share).sum())
    }

    /// The spots the height at a place rests on, and their shares, which add up to 1.
    pub fn shares(&self, p: P2) -> Option<Shares> {
        if let Some(t) = self.triangle_at(p) {
            return Some(self.shares_in(t, p));
        }
        // too few spots for a surface, or p just on one
        let on = self.spots.iter().position(|s| (s.xy() - p).norm() <= NOISE_MM)?;
        Some([(on, 1.0), (on, 0.0), (on, 0.0)])
    }

    /// The lowest and the highest spot.
    pub fn range(&self) -> Option<(f64, f64)> {
        let mut heights = self.spots.iter().map(|s| s.z);
        let first = heights.next()?;
        Some(heights.fold((first, first), |(lo, hi), z| (lo.min(z), hi.max(z))))
    }

    /// The box about all spots, in plan.
    pub fn bounds(&self) -> Bounds {
        Bounds::of(self.spots.iter().map(|s| s.xy()))
    }

    /// Standard error of a sum of spot heights: s = e * sqrt(sum of squares of the spots' factors), where e is the
    /// reading error and a spot that comes in twice counts once with the sum of its factors (readings independent,
    /// first order, which for sums is exact). `None` without a reading error.
    pub fn error_of(&self, terms: impl IntoIterator<Item = (usize, f64)>) -> Option<f64> {
        let reading = self.reading_error?;
        let mut factors: BTreeMap<usize, f64> = BTreeMap::new();
        for (spot, factor) in terms {
            *factors.entry(spot).or_default() += factor;
        }
        Some(reading * factors.values().map(|f| f * f).sum::<f64>().sqrt())
    }

    fn triangle_at(&self, p: P2) -> Option<usize> {
        self.index.near(p).iter().copied().find(|t| self.holds(*t, p))
    }

    /// Whether a place lies in a triangle or, within noise, on its side.
    fn holds(&self, t: usize, p: P2) -> bool {
        let c = self.triangles[t].map(|i| self.spots[i].xy());
        (0..3).all(|i| {
            let (a, b) = (c[i], c[(i + 1) % 3]);
            twice_area(a, b, p) >= -NOISE_MM * (b - a).norm()
        })
    }

    fn shares_in(&self, t: usize, p: P2) -> Shares {
        self.shares_over(self.triangles[t], p)
    }

    /// Shares of three spots in the plane through them.
    fn shares_over(&self, corners: [usize; 3], p: P2) -> Shares {
        let [a, b, c] = corners.map(|i| self.spots[i].xy());
        let whole = twice_area(a, b, c);
        let parts = [twice_area(b, c, p), twice_area(c, a, p), twice_area(a, b, p)];
        [0, 1, 2].map(|i| (corners[i], parts[i] / whole))
    }
}

/// Sorted by x, then y; spots at one place become one at their mean height.
fn merged(mut spots: Vec<P3>) -> Vec<P3> {
    spots.retain(|s| s.x.is_finite() && s.y.is_finite() && s.z.is_finite());
    spots.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)).then(a.z.total_cmp(&b.z)));
    let mut out: Vec<P3> = Vec::with_capacity(spots.len());
    for same in spots.chunk_by(|a, b| a.x == b.x && a.y == b.y) {
        let z = same.iter().map(|s| s.z).sum::<f64>() / same.len() as f64;
        out.push(P3::new(same[0].x, same[0].y, z));
    }
    out
}

struct Site {
    at: Point2<f64>,
    spot: usize,
}

impl HasPosition for Site {
    type Scalar = f64;
    fn position(&self) -> Point2<f64> {
        self.at
    }
}

/// Delaunay's triangles, anticlockwise; none for spots on one line.
fn delaunay(spots: &[P3]) -> Vec<[usize; 3]> {
    let site = |(spot, s): (usize, &P3)| Site { at: Point2::new(s.x, s.y), spot };
    let sites = spots.iter().enumerate().map(site).collect();
    let Ok(net) = DelaunayTriangulation::<Site>::bulk_load(sites) else { return Vec::new() };
    let faces = net.inner_faces();
    let mut triangles: Vec<[usize; 3]> = faces.map(|f| f.vertices().map(|v| v.data().spot)).collect();
    triangles.sort_unstable();
    triangles
}

fn twice_area(a: P2, b: P2, c: P2) -> f64 {
    (b - a).perp(&(c - a))
}

/// Which triangles are near a place: buckets over the spots' box.
#[derive(Clone, Debug, Default, PartialEq)]
struct Index {
    min: P2,
    cell: f64,
    columns: usize,
    rows: usize,
    buckets: Vec<Vec<usize>>,
}

impl Index {
    fn new(spots: &[P3], triangles: &[[usize; 3]]) -> Index {
        if triangles.is_empty() {
            return Index::default();
        }
        let all = Bounds::of(spots.iter().map(|s| s.xy()));
        let size = all.max - all.min;
        let cell = (size.x * size.y / triangles.len() as f64).sqrt().max(size.amax() / 500.0).max(1.0);
        let mut index = Index {
            min: all.min,
            cell,
            columns: (size.x / cell) as usize + 1,
            rows: (size.y / cell) as usize + 1,
            buckets: Vec::new(),
        };
        index.buckets = vec![Vec::new(); index.columns * index.rows];
        for (t, corners) in triangles.iter().enumerate() {
            let b = Bounds::of(corners.map(|i| spots[i].xy())).grow(2.0 * NOISE_MM);
            let (from, to) = (index.place(b.min), index.place(b.max));
            for row in from.1..=to.1 {
                for column in from.0..=to.0 {
                    index.buckets[row * index.columns + column].push(t);
                }
            }
        }
        index
    }

    /// Column and row, kept inside the box.
    fn place(&self, p: P2) -> (usize, usize) {
        // a cast from f64 stops at 0 and at the largest integer
        let at = |v: f64, n: usize| ((v / self.cell) as usize).min(n - 1);
        (at(p.x - self.min.x, self.columns), at(p.y - self.min.y, self.rows))
    }

    fn near(&self, p: P2) -> &[usize] {
        if self.buckets.is_empty() || !(p.x.is_finite() && p.y.is_finite()) {
            return &[];
        }
        let (column, row) = self.place(p);
        &self.buckets[row * self.columns + column]
    }
}

#[cfg(test)]
mod tests;
