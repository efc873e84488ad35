//! Where it may be worth placing the vehicle, and after which change: what `find` finds out on its way, without
//! the regions, the tolerance of the heading and the shortfall. Nothing here is judged by all rules yet.

use super::change::{self, Tried};
use super::find::{Halted, OtherBay, Siting, ready};
use super::progress::Progress;
use super::site::{Place, at_all, miss, place};
use crate::geometry::NOISE_MM;
use crate::layout::Stance;
use crate::model::Bundle;

/// Places and changes worth trying.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Openings {
    /// The deepest place of each heading at which the plan rules let the vehicle stand; where no heading has one, of each
    /// the place that misses by least.
    pub places: Vec<Place>,
    /// Only where nothing fits: single changes with the place they open.
    pub changes: Vec<Tried>,
}

impl Siting {
    /// What of this answer is worth trying.
    pub fn openings(&self) -> Openings {
        let fit: Vec<Place> = self.headings.iter().filter_map(|h| h.best).collect();
        let missed =
            || -> Vec<Place> { self.headings.iter().filter_map(|h| h.miss.as_ref()).map(|m| m.0).collect() };
        Openings {
            places: if fit.is_empty() { missed() } else { fit },
            changes: self.changes.iter().filter(|t| t.place.is_some()).cloned().collect(),
        }
    }

    /// Where a job without a pose is judged, and whether it fits there: the best place of all, or where nothing fits the one
    /// that misses by least.
    pub fn judged(&self) -> Option<(Place, bool)> {
        if let Some(best) = &self.best {
            return Some((best.place, true));
        }
        let mut least: Option<Place> = None;
        for place in self.headings.iter().filter_map(|h| h.miss.as_ref()).map(|m| m.0) {
            if least.is_none_or(|l| place.slack > l.slack + NOISE_MM) {
                least = Some(place);
            }
        }
        least.map(|place| (place, false))
    }
}

/// The headings looked at for a vehicle that stands at `heading`: its own, nose in and backed in.
pub fn headings_of(heading: f64) -> Vec<f64> {
    let mut headings = vec![heading];
    headings.extend([0.0, 180.0].into_iter().filter(|h| (h - heading).rem_euclid(360.0) != 0.0));
    headings
}

/// What is worth trying for a job at some headings. Other bays are taken one by one, and only where nothing fits.
pub fn openings(
    bundle: &Bundle,
    headings: &[f64],
    bays: &mut dyn Iterator<Item = OtherBay>,
    progress: &Progress,
) -> Result<Openings, Halted> {
    let (site, _) = ready(bundle, headings, progress)?;
    let (mut fit, mut missed): (Vec<Place>, Vec<Place>) = (Vec::new(), Vec::new());
    for heading in headings {
        let mut best: Option<Place> = None;
        let mut least: Option<Place> = None;
        for space in site.spaces(*heading) {
            if let Some(found) = place(*heading, &at_all(&space, progress)?) {
                if best.is_none_or(|b| found.slack > b.slack + NOISE_MM) {
                    best = Some(found);
                }
            } else if best.is_none()
                && let Some((at, slack)) = miss(&space, progress)?
                && least.is_none_or(|l| slack > l.slack)
            {
                least = Some(Place { stance: Stance { x: at.x, y: at.y, heading: *heading }, slack });
            }
        }
        fit.extend(best);
        missed.extend(least);
    }
    if !fit.is_empty() {
        return Ok(Openings { places: fit, changes: Vec::new() });
    }
    let mut changes = change::here(&site, headings, headings, progress)?;
    changes.extend(change::elsewhere(bundle, headings, bays, progress)?);
    Ok(Openings { places: missed, changes: changes.into_iter().filter(|t| t.place.is_some()).collect() })
}
