//! How far a thing is from the box round a target's face, its needs taken off.

use crate::geometry::{P2, Polygon};
use crate::layout::{Band, Halo};

/// What the box round a face finds of one thing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HaloGap {
    /// The larger of sideways and vertical clearance, each less its need; below zero inside the box.
    pub have: f64,
    /// On the face's edge, and on the thing.
    pub witness: (P2, P2),
}

/// Measures the part of an outline that lies inside the box's depth; `None` when no part does.
pub fn halo_gap(halo: &Halo, outline: &[P2], z: Band) -> Option<HaloGap> {
    let local: Vec<P2> = outline.iter().map(|p| halo.frame.to_local(*p)).collect();
    let (back, front) = (halo.size.back - halo.behind, halo.size.front + halo.ahead);
    let part = clip_below(&clip_above(&local, back), front);
    let bounds = |f: fn(&P2) -> f64| {
        part.iter().map(f).fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), v| (lo.min(v), hi.max(v)))
    };
    let ((x0, x1), (right, left)) = (bounds(|p| p.x), bounds(|p| p.y));
    // what only touches the box's front or back has no part inside
    let wall_along = outline.len() == 2 && (local[0].x - local[1].x).abs() < crate::geometry::NOISE_MM;
    let inside = if wall_along { x0 > back && x1 < front } else { x1 - x0 > crate::geometry::NOISE_MM };
    if part.is_empty() || !inside {
        return None;
    }
    let half = halo.size.half_width;
    let (to_left, to_right) = (right - half, -half - left);
    let beside = to_left.max(to_right) - halo.beside;
    let above = z.lo - (halo.lower + halo.size.height) - halo.above;
    let below = halo.lower - z.hi - halo.below;
    let x = ((x0 + x1) / 2.0).clamp(halo.size.back, halo.size.front);
    let (face, thing) = if to_left >= to_right { (half, right) } else { (-half, left) };
    let at = |y: f64| halo.frame.to_world(P2::new(x, y));
    Some(HaloGap { have: beside.max(above).max(below), witness: (at(face), at(thing)) })
}

/// The same for a thing in plan.
pub fn halo_gap_to(halo: &Halo, outline: &Polygon, z: Band) -> Option<HaloGap> {
    halo_gap(halo, outline.points(), z)
}

fn clip_above(points: &[P2], x: f64) -> Vec<P2> {
    clip(points, |p| p.x - x)
}

fn clip_below(points: &[P2], x: f64) -> Vec<P2> {
    clip(points, |p| x - p.x)
}

/// The part of a closed run of points where `inside` is not below zero.
fn clip(points: &[P2], inside: impl Fn(&P2) -> f64) -> Vec<P2> {
    let mut kept = Vec::with_capacity(points.len() + 2);
    for i in 0..points.len() {
        let (a, b) = (points[i], points[(i + 1) % points.len()]);
        let (da, db) = (inside(&a), inside(&b));
        if da >= 0.0 {
            kept.push(a);
        }
        if (da < 0.0) != (db < 0.0) {
            kept.push(a + (b - a) * (da / (da - db)));
        }
    }
    kept
}
