//! By how much the bay is short along the vehicle and across it.

use super::between::Between;
use super::grow::{self, Growth};
use super::progress::{Progress, Stopped};
use super::site::Site;
use crate::geometry::{NOISE_MM, V2};
use crate::layout::Stance;

/// A side of the vehicle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Beside {
    Right,
    Left,
}

/// By how much the bay is short.
#[derive(Clone, Debug, PartialEq)]
pub struct Shortfall {
    pub heading: f64,
    pub along: Option<f64>,
    pub across: Option<f64>,
    /// Toward which side of the vehicle growing across is least.
    pub across_side: Option<Beside>,
    pub binding: Vec<Between>,
    pub across_binding: Vec<Between>,
}

/// By how much the bay is short, at the heading that is least short along, the first of equals.
pub(super) fn shortfall(
    site: &Site,
    headings: &[f64],
    progress: &Progress,
) -> Result<Option<Shortfall>, Stopped> {
    let vehicle = &site.layout.bundle.vehicle;
    let middle = vehicle.front_overhang - vehicle.length / 2.0;
    let mut least: Option<Shortfall> = None;
    for space in headings.iter().flat_map(|h| site.spaces(*h)) {
        let heading = space.heading;
        let frame = Stance { x: 0.0, y: 0.0, heading }.frame();
        let (ahead, left) = (frame.x, frame.y());
        let grown = |way: V2, middle: f64| grow::growth(&space, &site.stills, way, middle, progress);
        let along = grown(ahead, middle)?;
        let mut across: Option<(Growth, Beside)> = None;
        for (way, side) in [(-left, Beside::Right), (left, Beside::Left)] {
            if let Some(g) = grown(way, 0.0)?
                && across.as_ref().is_none_or(|a| g.mm < a.0.mm - NOISE_MM)
            {
                across = Some((g, side));
            }
        }
        let stage = &site.layout.stage;
        let between =
            |g: Option<&Growth>| g.map_or_else(Vec::new, |g| grow::between(&space, stage, &g.binding));
        let across_binding = between(across.as_ref().map(|a| &a.0));
        let mut binding = between(along.as_ref());
        if binding.is_empty() {
            binding.clone_from(&across_binding);
        }
        let one = Shortfall {
            heading,
            along: along.map(|g| g.mm),
            across: across.as_ref().map(|a| a.0.mm),
            across_side: across.map(|a| a.1),
            binding,
            across_binding,
        };
        let rank = |s: &Shortfall| (s.along.unwrap_or(f64::INFINITY), s.across.unwrap_or(f64::INFINITY));
        if least.as_ref().is_none_or(|l| {
            rank(&one).0 < rank(l).0 - NOISE_MM
                || rank(&one).0 <= rank(l).0 && rank(&one).1 < rank(l).1 - NOISE_MM
        }) {
            least = Some(one);
        }
    }
    Ok(least)
}
