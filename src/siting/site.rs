//! A job made ready to be searched: what stays in pieces, what was accepted as needs.

use super::accepted::Relaxed;
use super::deepest::{Deepest, deepest};
use super::fixed::combinations;
use super::maker::{Couples, Turned};
use super::progress::{Progress, Stopped};
use super::region::{Allowed, allowed};
use super::space::Space;
use super::still::Stills;
use crate::geometry::{NOISE_MM, P2};
use crate::layout::{Layout, Stance, Way};
use crate::model::{Bundle, Fault};

/// One job in one bay with all figures it has.
#[derive(Clone, Debug)]
pub struct Site {
    pub layout: Layout,
    pub stills: Stills,
    pub relaxed: Relaxed,
    /// Setups that are not done, another way of their procedure being taken.
    pub idle: Vec<usize>,
}

/// A pose and how far inside the allowed ones it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    pub stance: Stance,
    /// Distance to the nearest pose at which a plan rule fails, mm.
    pub slack: f64,
}

impl Place {
    /// The slack in whole millimetres, rounded down but for noise.
    pub fn slack_down(&self) -> f64 {
        (self.slack + 1e-3).floor()
    }
}

impl Site {
    /// The job with the first way of each procedure, or the one it names.
    pub fn new(bundle: &Bundle) -> Result<Site, Vec<Fault>> {
        Site::with_way(bundle, 0)
    }

    /// The job with the n-th combination of ways; the last where there are fewer.
    pub fn with_way(bundle: &Bundle, n: usize) -> Result<Site, Vec<Fault>> {
        Ok(Site::of(Layout::new(bundle)?, n))
    }

    /// A job that is laid out already, with the n-th combination of ways.
    pub fn of(layout: Layout, n: usize) -> Site {
        let mut ways = ways(&layout);
        let n = n.min(ways.len() - 1);
        Site {
            stills: Stills::new(&layout.stage, &layout.bundle),
            relaxed: Relaxed::new(&layout),
            layout,
            idle: ways.swap_remove(n),
        }
    }

    /// What keeps the vehicle off at a heading: one space, or one for each way in which the bay may hold its targets.
    /// None when the bay cannot hold them at this heading.
    pub fn spaces(&self, heading: f64) -> Vec<Space> {
        self.spaces_of(heading, None)
    }

    /// The same without the obstacles that no pose of the domain meets. Depths and the region inside the domain are the
    /// same; outside it, and where the bay is thought larger, the others count too.
    pub fn spaces_near(&self, heading: f64) -> Vec<Space> {
        self.cast(heading, None, true)
    }

    /// All obstacles of some holds alone.
    pub fn spaces_of(&self, heading: f64, only: Option<&[bool]>) -> Vec<Space> {
        self.cast(heading, only, false)
    }

    fn cast(&self, heading: f64, only: Option<&[bool]>, near: bool) -> Vec<Space> {
        let layout = self.layout.at(Stance { x: 0.0, y: 0.0, heading });
        let space = |fixings: Vec<_>| Space::new(self.turned(&layout), &fixings, only, near);
        combinations(&layout, &self.stills, &self.idle).into_iter().map(space).collect()
    }

    /// What turns with the vehicle and what it is held off; `None` where the bay decides places.
    pub(super) fn couples(&self, heading: f64) -> Option<(Couples, Space)> {
        let layout = self.layout.at(Stance { x: 0.0, y: 0.0, heading });
        let free =
            matches!(combinations(&layout, &self.stills, &self.idle).as_slice(), [only] if only.is_empty());
        free.then(|| Couples::new(self.turned(&layout)))
    }

    fn turned<'a>(&'a self, layout: &'a Layout) -> Turned<'a> {
        Turned { layout, stills: &self.stills, relaxed: &self.relaxed, idle: &self.idle }
    }

    /// Setups that are done, by index.
    pub fn setups(&self) -> impl Iterator<Item = usize> + '_ {
        (0..self.layout.setups.len()).filter(|s| !self.idle.contains(s))
    }

    /// The deepest allowed pose over some headings, the first of equals.
    pub fn best(&self, headings: &[f64], progress: &Progress) -> Result<Option<Place>, Stopped> {
        let mut best: Option<Place> = None;
        for heading in headings {
            for space in self.spaces_near(*heading) {
                let found = at_all(&space, progress)?;
                if let Some(place) = place(*heading, &found)
                    && best.is_none_or(|b| place.slack > b.slack + NOISE_MM)
                {
                    best = Some(place);
                }
            }
        }
        Ok(best)
    }

    /// The greatest depth over some headings; below zero where nothing fits.
    pub fn depth(&self, headings: &[f64], progress: &Progress) -> Result<f64, Stopped> {
        let mut most = f64::NEG_INFINITY;
        for heading in headings {
            for space in self.spaces_near(*heading) {
                let found = match at_all(&space, progress)?.best {
                    Some(best) => Some(best),
                    None => miss(&space, progress)?,
                };
                most = most.max(found.map_or(f64::NEG_INFINITY, |b| b.1));
            }
        }
        Ok(most)
    }
}

/// More combinations of ways than this are not tried.
const MOST_WAYS: usize = 32;

/// How many combinations of ways a job has.
pub(super) fn way_count(layout: &Layout) -> usize {
    ways(layout).len()
}

/// The setups left undone by each combination of ways, in the order of the ways; the job's own way where it names one.
fn ways(layout: &Layout) -> Vec<Vec<usize>> {
    let all = &layout.rig.ways;
    let mut procedures: Vec<usize> = all.iter().map(|w| w.procedure).collect();
    procedures.dedup();
    let mut combinations: Vec<Vec<usize>> = vec![Vec::new()];
    for p in procedures {
        let of_it: Vec<&Way> = all.iter().filter(|w| w.procedure == p).collect();
        let named: Vec<&Way> = of_it.iter().filter(|w| w.named).copied().collect();
        let choices = if named.is_empty() { &of_it } else { &named };
        let idle = |taken: &Way| -> Vec<usize> {
            let listed = of_it.iter().flat_map(|w| w.setups.iter().copied());
            listed.filter(|s| !taken.setups.contains(s)).collect()
        };
        combinations = combinations
            .iter()
            .flat_map(|done| choices.iter().map(|w| done.iter().copied().chain(idle(w)).collect()))
            .take(MOST_WAYS)
            .collect();
    }
    combinations
}

/// The deepest pose of a space and how deep it is; none where nothing is allowed.
pub fn deepest_of(space: &Space, progress: &Progress) -> Result<Option<(P2, f64)>, Stopped> {
    Ok(at_all(space, progress)?.best)
}

/// The region of a space.
pub fn allowed_of(space: &Space, progress: &Progress) -> Result<Allowed, Stopped> {
    allowed(space, &space.all(), space.domain, progress)
}

/// The deepest pose that serves every setup.
pub(super) fn at_all(space: &Space, progress: &Progress) -> Result<Deepest, Stopped> {
    deepest(space, &space.all(), space.domain, -NOISE_MM, progress)
}

/// Where nothing fits: the pose at which the least margin is greatest, and that margin.
pub(super) fn miss(space: &Space, progress: &Progress) -> Result<Option<(P2, f64)>, Stopped> {
    let mut domain = space.domain;
    // A rig larger than the floor: somewhere between touching either end.
    for axis in 0..2 {
        if domain.min[axis] > domain.max[axis] {
            std::mem::swap(&mut domain.min[axis], &mut domain.max[axis]);
        }
    }
    Ok(deepest(space, &space.all(), domain, f64::NEG_INFINITY, progress)?.best)
}

pub(super) fn place(heading: f64, found: &Deepest) -> Option<Place> {
    found
        .best
        .map(|(at, depth)| Place { stance: Stance { x: at.x, y: at.y, heading }, slack: depth.max(0.0) })
}
