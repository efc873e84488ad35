//! How far a thing is from the box round a target's face, its needs taken off.

use crate::geometry::{NOISE_MM, P2, Shape, V2};
use crate::layout::{Band, Halo};

/// What the box round a face finds of one thing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HaloGap {
    /// The larger of sideways and vertical clearance, each less its need; below zero inside the box.
    pub have: f64,
    /// On the face's edge, and on the thing.
    pub witness: (P2, P2),
}

/// A piece of a thing in plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Span<'a> {
    /// A convex piece, or the two ends of a wall.
    Ring(&'a [P2]),
    /// A round thing: its middle and its radius.
    Disc(P2, f64),
}

/// The pieces a thing's sideways reach is taken from.
pub fn spans(shape: &Shape) -> impl Iterator<Item = Span<'_>> {
    let radius = shape.radius();
    shape.pieces().iter().map(move |p| if radius > 0.0 { Span::Disc(p[0], radius) } else { Span::Ring(p) })
}

/// Measures the part of a thing that lies inside the box's depth; `None` when no part does. A thing with a hollow is
/// measured to its nearest arm: the box may lie in it.
pub fn halo_gap<'a>(halo: &Halo, pieces: impl IntoIterator<Item = Span<'a>>, z: Band) -> Option<HaloGap> {
    let gaps = arms(halo, pieces).into_iter().map(|arm| arm_gap(halo, &arm, z));
    gaps.reduce(|least, gap| if gap.have < least.have { gap } else { least })
}

/// The shifts of the box, each along one of its axes and each just far enough, that may take a thing out of it in plan.
pub fn ways_out<'a>(halo: &Halo, pieces: &[Span<'a>], out: &mut Vec<V2>) {
    let half = halo.size.half_width + halo.beside;
    let depth = depth(halo);
    for arm in arms(halo, pieces.iter().copied()).iter().filter(|arm| arm.right < half && arm.left > -half) {
        let across = halo.frame.y();
        out.extend([across * (arm.right - half), across * (arm.left + half)]);
    }
    let beside = pieces.iter().filter_map(|p| reach(halo, *p, UNBOUNDED, (-half, half)));
    if let Some(all) = beside.reduce(|a, b| a.and(&b)) {
        out.extend([halo.frame.x * (all.front - depth.0), halo.frame.x * (all.back - depth.1)]);
    }
}

const UNBOUNDED: (f64, f64) = (f64::NEG_INFINITY, f64::INFINITY);

/// Behind and before the face: from, to along its axis.
fn depth(halo: &Halo) -> (f64, f64) {
    (halo.size.back - halo.behind, halo.size.front + halo.ahead)
}

/// The parts of a thing inside the box's depth, as they lie beside each other; what joins sideways is one.
fn arms<'a>(halo: &Halo, pieces: impl IntoIterator<Item = Span<'a>>) -> Vec<Extent> {
    let depth = depth(halo);
    let inside = |e: &Extent| e.front > depth.0 + NOISE_MM && e.back < depth.1 - NOISE_MM;
    let parts = pieces.into_iter().filter_map(|piece| reach(halo, piece, depth, UNBOUNDED));
    // what only touches the box's front or back has no part inside
    let mut arms: Vec<Extent> = parts.filter(inside).collect();
    arms.sort_by(|a, b| a.right.total_cmp(&b.right));
    arms.dedup_by(|next, last| {
        let joins = next.right <= last.left + NOISE_MM;
        if joins {
            *last = last.and(next);
        }
        joins
    });
    arms
}

/// How far something reaches inside the box's depth: along the target's axis, and to its left.
#[derive(Clone, Copy)]
struct Extent {
    back: f64,
    front: f64,
    right: f64,
    left: f64,
}

impl Extent {
    fn and(&self, other: &Extent) -> Extent {
        Extent {
            back: self.back.min(other.back),
            front: self.front.max(other.front),
            right: self.right.min(other.right),
            left: self.left.max(other.left),
        }
    }
}

/// How far the part of a piece between these limits, along the box's axis and to its left, reaches.
fn reach(halo: &Halo, piece: Span, deep: (f64, f64), aside: (f64, f64)) -> Option<Extent> {
    match piece {
        Span::Disc(middle, radius) => {
            let p = halo.frame.to_local(middle);
            let (right, left) = cap(p.y, p.x, radius, deep)?;
            let (back, front) = cap(p.x, p.y, radius, aside)?;
            let extent = Extent { back: back.max(deep.0), front: front.min(deep.1), right, left };
            (extent.back <= extent.front).then_some(extent)
        }
        Span::Ring(ring) => {
            let local: Vec<P2> = ring.iter().map(|p| halo.frame.to_local(*p)).collect();
            let limits = [(0, 1.0, deep.0), (0, -1.0, deep.1), (1, 1.0, aside.0), (1, -1.0, aside.1)];
            let bounded = limits.into_iter().filter(|(_, _, limit)| limit.is_finite());
            let part =
                bounded.fold(local, |part, (axis, sign, limit)| clip(&part, |p| (p[axis] - limit) * sign));
            let point = |p: &P2| Extent { back: p.x, front: p.x, right: p.y, left: p.y };
            part.iter().map(point).reduce(|a, b| a.and(&b))
        }
    }
}

/// The reach along one axis, about `along`, of the part of a disc that lies within limits across it.
fn cap(along: f64, across: f64, radius: f64, limits: (f64, f64)) -> Option<(f64, f64)> {
    let off = across.max(limits.0).min(limits.1) - across;
    (off.abs() <= radius).then(|| {
        let half = ((radius - off) * (radius + off)).sqrt();
        (along - half, along + half)
    })
}

fn arm_gap(halo: &Halo, arm: &Extent, z: Band) -> HaloGap {
    let half = halo.size.half_width;
    let (to_left, to_right) = (arm.right - half, -half - arm.left);
    let beside = to_left.max(to_right) - halo.beside;
    let above = z.lo - (halo.lower + halo.size.height) - halo.above;
    let below = halo.lower - z.hi - halo.below;
    let x = ((arm.back + arm.front) / 2.0).clamp(halo.size.back, halo.size.front);
    let (face, thing) = if to_left >= to_right { (half, arm.right) } else { (-half, arm.left) };
    let at = |y: f64| halo.frame.to_world(P2::new(x, y));
    HaloGap { have: beside.max(above).max(below), witness: (at(face), at(thing)) }
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Frame, Polygon, Shape};
    use crate::layout::setup::FaceSize;

    /// A face 600 wide at the origin that looks along x, with 400 asked on every side.
    fn halo() -> Halo {
        let size = FaceSize {
            half_width: 300.0,
            back: -40.0,
            front: 0.0,
            height: 800.0,
            flat: false,
            has_front: true,
        };
        let corners = [(-440.0, -700.0), (400.0, -700.0), (400.0, 700.0), (-440.0, 700.0)];
        Halo {
            frame: Frame::new(P2::origin(), 0.0),
            size,
            lower: 30.0,
            beside: 400.0,
            above: 400.0,
            below: 400.0,
            behind: 400.0,
            ahead: 400.0,
            outline: Polygon::new(corners.map(|(x, y)| P2::new(x, y)).to_vec()).unwrap(),
        }
    }

    fn have(outline: &[(f64, f64)]) -> Option<f64> {
        let outline = Polygon::new(outline.iter().map(|(x, y)| P2::new(*x, *y)).collect()).unwrap();
        let shape = Shape::polygon(outline);
        halo_gap(&halo(), spans(&shape), Band::ALL).map(|g| g.have)
    }

    /// Arms on both sides of the face, joined at `back`; the left arm begins at `left`, the right one 900 off.
    fn fork(back: f64, left: f64) -> [(f64, f64); 8] {
        [
            (back - 200.0, -1200.0),
            (600.0, -1200.0),
            (600.0, -900.0),
            (back, -900.0),
            (back, left),
            (600.0, left),
            (600.0, 1200.0),
            (back - 200.0, 1200.0),
        ]
    }

    #[test]
    fn a_hollow_thing_round_the_face_is_measured_to_its_nearest_arm() {
        for (left, want) in [(701.0, 1.0), (700.0, 0.0), (699.0, -1.0)] {
            let found = have(&fork(-900.0, left)).unwrap();
            assert!((found - want).abs() < 1e-9, "{left}: {found}");
        }
    }

    #[test]
    fn where_its_back_lies_inside_the_depth_it_is_one_thing() {
        // from 1200 on one side to 1200 on the other: out again after 1200 + 700
        let found = have(&fork(-200.0, 701.0)).unwrap();
        assert!((found + 1900.0).abs() < 1e-9, "{found}");
    }

    #[test]
    fn beyond_the_depth_there_is_no_part_of_it() {
        assert_eq!(have(&[(400.0, -100.0), (900.0, -100.0), (900.0, 100.0), (400.0, 100.0)]), None);
    }
}
