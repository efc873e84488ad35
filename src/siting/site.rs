//! A job made ready to be searched: what stays in pieces, what was accepted as needs.

use super::accepted::Relaxed;
use super::deepest::{Deepest, deepest};
use super::progress::{Progress, Stopped};
use super::space::Space;
use super::still::Stills;
use crate::geometry::{NOISE_MM, P2};
use crate::layout::{Layout, Stance};
use crate::model::{Bundle, Fault};

/// One job in one bay with all figures it has.
#[derive(Clone, Debug)]
pub struct Site {
    pub layout: Layout,
    pub stills: Stills,
    pub relaxed: Relaxed,
}

/// A pose and how far inside the allowed ones it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    pub stance: Stance,
    /// Distance to the nearest pose at which a plan rule fails, mm.
    pub slack: f64,
}

impl Site {
    pub fn new(bundle: &Bundle) -> Result<Site, Vec<Fault>> {
        let layout = Layout::new(bundle)?;
        Ok(Site {
            stills: Stills::new(&layout.stage),
            relaxed: Relaxed::new(&layout),
            layout,
        })
    }

    pub fn space(&self, heading: f64) -> Space {
        Space::new(&self.layout, &self.stills, &self.relaxed, heading)
    }

    /// The deepest allowed pose over some headings, the first of equals.
    pub fn best(&self, headings: &[f64], progress: &Progress) -> Result<Option<Place>, Stopped> {
        let mut best: Option<Place> = None;
        for heading in headings {
            let space = self.space(*heading);
            let found = at_all(&space, progress)?;
            if let Some(place) = place(*heading, &found)
                && best.is_none_or(|b| place.slack > b.slack + NOISE_MM)
            {
                best = Some(place);
            }
        }
        Ok(best)
    }

    /// The greatest depth over some headings; below zero where nothing fits.
    pub fn depth(&self, headings: &[f64], progress: &Progress) -> Result<f64, Stopped> {
        let mut most = f64::NEG_INFINITY;
        for heading in headings {
            let space = self.space(*heading);
            let found = match at_all(&space, progress)?.best {
                Some(best) => Some(best),
                None => miss(&space, progress)?,
            };
            most = most.max(found.map_or(f64::NEG_INFINITY, |b| b.1));
        }
        Ok(most)
    }
}

/// The deepest pose that serves every setup.
pub fn at_all(space: &Space, progress: &Progress) -> Result<Deepest, Stopped> {
    deepest(space, &space.all(), space.domain, -NOISE_MM, progress)
}

/// Where nothing fits: the pose at which the least margin is greatest, and that margin.
pub fn miss(space: &Space, progress: &Progress) -> Result<Option<(P2, f64)>, Stopped> {
    let mut domain = space.domain;
    // A rig larger than the floor: somewhere between touching either end.
    for axis in 0..2 {
        if domain.min[axis] > domain.max[axis] {
            std::mem::swap(&mut domain.min[axis], &mut domain.max[axis]);
        }
    }
    Ok(deepest(space, &space.all(), domain, f64::NEG_INFINITY, progress)?.best)
}

pub fn place(heading: f64, found: &Deepest) -> Option<Place> {
    found.best.map(|(at, depth)| Place {
        stance: Stance {
            x: at.x,
            y: at.y,
            heading,
        },
        slack: depth.max(0.0),
    })
}
