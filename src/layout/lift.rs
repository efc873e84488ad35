//! A vehicle on a lift: whether its tyres stand on the runways, and how far its middle is off the lift's middle line.

use std::sync::Arc;

use super::solid::Solid;
use crate::geometry::{Edge, Frame, Line, P2, Region, RegionGap, Shape, V2, gap, union_outlines};
use crate::model::Bundle;
use crate::model::bay::Lift;
use crate::model::job::Support;

/// The lift the job puts its vehicle on; `None` on the floor, or where the bay has no lift of that name.
pub fn lift_of(bundle: &Bundle) -> Option<&Lift> {
    let Support::Lift { name, .. } = &bundle.job.support else { return None };
    bundle.bay.lifts.iter().find(|l| l.name == *name)
}

/// What the n-th post of a lift is called, counted from 0.
pub fn post_name(lift: &Lift, n: usize) -> Arc<str> {
    format!("{} post {}", lift.name, n + 1).into()
}

/// The floor of a lift that tyres may stand on; `None` for a lift without runways.
pub fn runways(lift: &Lift) -> Option<Region> {
    let shapes: Vec<&Shape> = lift.runways.iter().map(|r| &r.0).collect();
    if shapes.is_empty() {
        return None;
    }
    let cells = shapes.iter().map(|s| s.outline().clone()).collect();
    let meet = shapes.iter().enumerate().any(|(i, s)| shapes[..i].iter().any(|o| gap(s, o).mm <= 0.0));
    let rings: Vec<Vec<P2>> = shapes.iter().map(|s| s.outline().points().to_vec()).collect();
    // only runways that meet need joining: that moves points by some 1e-5 mm
    let rings = if meet { union_outlines(&rings) } else { rings };
    let edges = rings.iter().enumerate().flat_map(|(label, ring)| {
        let next = ring.iter().cycle().skip(1);
        let label = u32::try_from(label).unwrap_or(u32::MAX);
        ring.iter().zip(next).map(move |(a, b)| Edge { a: *a, b: *b, label })
    });
    Some(Region::new(cells, edges.collect()))
}

/// How far inside the runways the four tyres stand: the least distance of a tyre to a runway's edge, or minus how far
/// the farthest part sticks out. With the tyre's number (front left, front right, rear left, rear right); `None`
/// without runways.
pub fn lift_margin(lift: &Lift, tyres: &[Solid]) -> Option<(usize, RegionGap)> {
    let region = runways(lift)?;
    let each = tyres.iter().enumerate();
    let gaps = each.filter_map(|(i, t)| Some((i, region.signed(&t.shape, &|_| false)?)));
    gaps.min_by(|a, b| a.1.mm.total_cmp(&b.1.mm))
}

/// The line between a lift's two sides, in whatever direction it is told first: along the runways through the middle of
/// all of them; else between the posts: square to two of them, along the longer side of four or more. `None` where
/// neither tells.
pub fn middle_line(lift: &Lift) -> Option<Line> {
    let centres = |shapes: &[crate::model::shape::PlanShape]| -> Vec<P2> {
        shapes.iter().map(|s| s.0.outline().centre()).collect()
    };
    if let Some(first) = lift.runways.first() {
        let edges = first.0.outline().edges();
        let (a, b) = edges.max_by(|x, y| (x.1 - x.0).norm().total_cmp(&(y.1 - y.0).norm()))?;
        let middle = mean(&centres(&lift.runways))?;
        return Line::through(middle, middle + (b - a));
    }
    let posts = centres(&lift.posts);
    let middle = mean(&posts)?;
    match posts[..] {
        [a, b] => Line::through(middle, middle + V2::new(a.y - b.y, b.x - a.x)),
        [_, _, _, _, ..] => {
            let scatter = posts.iter().fold(nalgebra::Matrix2::zeros(), |sum, p| {
                let d = p - middle;
                sum + d * d.transpose()
            });
            let eigen = scatter.symmetric_eigen();
            let (long, short) = (eigen.eigenvalues.imax(), eigen.eigenvalues.imin());
            let told = eigen.eigenvalues[long] > eigen.eigenvalues[short] * 1.001;
            let way = eigen.eigenvectors.column(long).into_owned();
            told.then(|| Line::through(middle, middle + way * 1000.0)).flatten()
        }
        _ => None,
    }
}

/// The middles of front and rear axle of a vehicle with these axes, mm.
pub fn axles(frame: &Frame, wheelbase: f64) -> [P2; 2] {
    [0.0, -wheelbase].map(|x| frame.to_world(P2::new(x, 0.0)))
}

/// How far a vehicle's middle line is off the lift's, mm: the larger of its two axles.
pub fn off_middle(lift: &Lift, axles: &[P2; 2]) -> Option<f64> {
    let line = middle_line(lift)?;
    let [front, rear] = axles.map(|p| line.offset(p).abs());
    Some(front.max(rear))
}

fn mean(points: &[P2]) -> Option<P2> {
    let sum = points.iter().fold(V2::zeros(), |sum, p| sum + p.coords);
    (!points.is_empty()).then(|| P2::from(sum / points.len() as f64))
}
