//! The part of a shape farthest outside a region.

use super::near::Near;
use super::search::Search;
use super::{Region, RegionGap, outside_all};
use crate::geometry::shape::polygon_about;
use crate::geometry::{NOISE_MM, P2, Shape, V2};

/// Corners of the polygon about a circle with which the search begins; it rounds them off where that matters.
const CIRCLE_CORNERS: usize = 16;

type Skip<'a> = Option<&'a dyn Fn(u32) -> bool>;

impl Region {
    /// The farthest part outside with `mm` negative; none when no part that counts is outside.
    pub(super) fn farthest(&self, s: &Shape, skip: Skip) -> Option<RegionGap> {
        let skipped = |label| skip.is_some_and(|skip| skip(label));
        let (skipped, counted) = self.edges.iter().partition(|e| skipped(e.label));
        let near = Near::new(counted, skipped);
        if self.pieces.len() == 1 && skip.is_none() {
            self.beyond_convex(s, &near)
        } else {
            self.beyond_any(s, &near)
        }
    }

    /// From one convex cell the distance is convex: only corners can be farthest, and a circle reaches its radius
    /// beyond its centre.
    fn beyond_convex(&self, s: &Shape, near: &Near) -> Option<RegionGap> {
        if s.radius() == 0.0 {
            let corners: Vec<P2> = s.pieces().iter().flatten().copied().collect();
            let mut search = Search::new(near, &corners);
            corners.iter().filter(|p| !self.contains(**p)).for_each(|p| search.offer(*p));
            return search.best();
        }
        let centre = s.pieces()[0][0];
        let (mm, e, foot) = near.nearest(centre)?;
        let sign = if self.contains(centre) { -1.0 } else { 1.0 };
        let away = ((centre - foot) * sign)
            .try_normalize(NOISE_MM)
            .or_else(|| V2::new(e.b.y - e.a.y, e.a.x - e.b.x).try_normalize(0.0))?;
        Some(RegionGap {
            mm: -(s.radius() + sign * mm),
            label: e.label,
            on_shape: centre + away * s.radius(),
            on_edge: foot,
        })
    }

    fn beyond_any(&self, s: &Shape, near: &Near) -> Option<RegionGap> {
        let about: Vec<Vec<P2>>;
        let pieces = if s.radius() > 0.0 {
            about = vec![polygon_about(s.pieces()[0][0], V2::x(), s.radius(), CIRCLE_CORNERS)];
            &about
        } else {
            s.pieces()
        };
        let corners: Vec<P2> = pieces.iter().flatten().copied().collect();
        let mut search = Search::new(near, &corners);
        if s.radius() > 0.0 {
            search.round_off(s.pieces()[0][0], s.radius());
        }
        // Of parts equally far the shape's own corners come first.
        corners.iter().filter(|p| !self.contains(**p)).for_each(|p| search.offer(*p));
        let parts = pieces.iter().flat_map(|p| outside_all(p.clone(), &self.pieces)).collect();
        search.run(parts);
        search.best()
    }
}
