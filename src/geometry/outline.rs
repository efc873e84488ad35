//! Is a list of points the outline of one simple area?

use std::fmt;

use super::{Bounds, NOISE_MM, P2, convex::segment_gap, twice_area};

/// Why a list of points is not the outline of an area. Stored indices count from 0, the sentence from 1;
/// side n runs from point n to the next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OutlineFault {
    /// Fewer than three points: how many there are.
    TooFew(usize),
    /// This point has a coordinate that is not a finite number.
    NotFinite(usize),
    /// This point is the same as the one before it; 0 when the last repeats the first.
    Repeated(usize),
    /// These two sides cross or touch.
    Crosses(usize, usize),
    /// All points lie on one line, or a size is zero or negative.
    NoArea,
}

impl fmt::Display for OutlineFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            OutlineFault::TooFew(n) => write!(f, "the outline has {n} points and needs at least 3"),
            OutlineFault::NotFinite(i) => write!(f, "point {} is not a finite number", i + 1),
            OutlineFault::Repeated(0) => {
                write!(
                    f,
                    "the last point repeats point 1; the outline closes by itself, so leave the last point out"
                )
            }
            OutlineFault::Repeated(i) => write!(f, "point {} repeats point {i}", i + 1),
            OutlineFault::Crosses(i, j) => write!(f, "side {} crosses side {}", i + 1, j + 1),
            OutlineFault::NoArea => write!(f, "the outline encloses no area"),
        }
    }
}

impl std::error::Error for OutlineFault {}

/// Refuses points that are not the outline of one simple area.
pub(super) fn check(points: &[P2]) -> Result<(), OutlineFault> {
    let n = points.len();
    if let Some(i) = points.iter().position(|p| !(p.x.is_finite() && p.y.is_finite())) {
        return Err(OutlineFault::NotFinite(i));
    }
    if n < 3 {
        return Err(OutlineFault::TooFew(n));
    }
    let repeats = |i: &usize| (points[*i] - points[(i + n - 1) % n]).norm() <= NOISE_MM;
    if let Some(i) = (1..n).chain([0]).find(repeats) {
        return Err(OutlineFault::Repeated(i));
    }
    let bounds = Bounds::of(points);
    if on_one_line(points) || !bounds.size().norm().is_finite() {
        return Err(OutlineFault::NoArea);
    }
    if let Some((i, j)) = first_crossing(points) {
        return Err(OutlineFault::Crosses(i, j));
    }
    if twice_area(points).abs() <= NOISE_MM * bounds.size().norm() {
        return Err(OutlineFault::NoArea);
    }
    Ok(())
}

/// Do all points lie within noise of one line?
fn on_one_line(points: &[P2]) -> bool {
    let far = points.iter().max_by(|a, b| (*a - points[0]).norm().total_cmp(&(*b - points[0]).norm()));
    let Some(line) = far.and_then(|f| super::Line::through(points[0], *f)) else {
        return true;
    };
    points.iter().all(|p| line.offset(*p).abs() <= NOISE_MM)
}

/// The crossing pair of sides with the smallest numbers, found by sweeping along the axis in which the
/// sides are shorter, so that few are open at a time.
fn first_crossing(points: &[P2]) -> Option<(usize, usize)> {
    let n = points.len();
    let side = |i: usize| (points[i], points[(i + 1) % n]);
    let extent = |k: usize| (0..n).map(|i| (side(i).1[k] - side(i).0[k]).abs()).sum::<f64>();
    let size = Bounds::of(points).size();
    let k = if extent(0) * size.y <= extent(1) * size.x { 0 } else { 1 };
    let span = |i: usize, k: usize| {
        let (a, b) = side(i);
        (a[k].min(b[k]) - NOISE_MM, a[k].max(b[k]) + NOISE_MM)
    };
    let mut order: Vec<usize> = (0..n).collect();
    order.sort_by(|a, b| span(*a, k).0.total_cmp(&span(*b, k).0));
    let mut open: Vec<(usize, f64, f64, f64)> = Vec::new();
    let mut found: Option<(usize, usize)> = None;
    for i in order {
        let (from, to) = span(i, k);
        let (low, high) = span(i, 1 - k);
        open.retain(|o| from <= o.1);
        for &(j, _, other_low, other_high) in &open {
            if low <= other_high && other_low <= high && sides_cross(points, i, j) {
                let pair = (i.min(j), i.max(j));
                found = Some(found.map_or(pair, |f| f.min(pair)));
            }
        }
        open.push((i, to, low, high));
    }
    found
}

/// Do two sides meet other than at a point they share as neighbours?
fn sides_cross(points: &[P2], i: usize, j: usize) -> bool {
    let n = points.len();
    let (a, b) = (points[i], points[(i + 1) % n]);
    let (c, d) = (points[j], points[(j + 1) % n]);
    let near = |p: P2, q: P2, r: P2| segment_gap(p, p, q, r).mm <= NOISE_MM;
    if (i + 1) % n == j {
        near(a, c, d) || near(d, a, b)
    } else if (j + 1) % n == i {
        near(c, a, b) || near(b, c, d)
    } else {
        segment_gap(a, b, c, d).mm <= NOISE_MM
    }
}
