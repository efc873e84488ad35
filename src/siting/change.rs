//! Single changes that might open a bay in which nothing fits, each tried alone.

use std::sync::Arc;

use super::deepest::deepest;
use super::find::{Halted, OtherBay, ready};
use super::progress::Progress;
use super::site::{self, Place, Site, at_all};
use super::stands::{self, Stand};
use super::still::Item;
use crate::geometry::NOISE_MM;
use crate::model::bay::Bay;
use crate::model::job::{Job, Support};
use crate::model::{Bundle, List, Name};
use crate::units::norm_deg;

/// One change of the job.
#[derive(Clone, Debug, PartialEq)]
pub enum Change {
    /// Get a movable fixture out of the way.
    Clear(Arc<str>),
    /// Open a door.
    Open(Arc<str>),
    /// Drive in the other way round.
    TurnRound,
    /// Move the vehicle between procedures; with an index: between the setups of that procedure too.
    Move(Option<usize>),
    /// Use another bay: its file as the job would name it.
    UseBay(String, Arc<Bay>),
}

/// A change and what comes of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Tried {
    pub change: Change,
    /// Where the vehicle then stands; none when it still fits nowhere. Of several places the one with least slack.
    pub place: Option<Place>,
    /// After a move: all the places.
    pub stands: Vec<Stand>,
}

/// Tries every single change, best slack first, then in order.
pub(super) fn changes(
    site: &Site,
    headings: &[f64],
    closely: &[f64],
    bays: &mut dyn Iterator<Item = OtherBay>,
    (stands, unserved): (&[Stand], &[usize]),
    progress: &Progress,
) -> Result<Vec<Tried>, Halted> {
    let bundle = &site.layout.bundle;
    let mut tried = here(site, headings, closely, progress)?;
    tried.extend(moves(site, closely, stands, unserved, progress)?);
    tried.extend(elsewhere(bundle, headings, bays, progress)?);
    tried.sort_by(|a, b| slack(b).total_cmp(&slack(a)));
    Ok(tried)
}

/// The same job in each of the other bays.
pub(super) fn elsewhere(
    bundle: &Bundle,
    headings: &[f64],
    bays: &mut dyn Iterator<Item = OtherBay>,
    progress: &Progress,
) -> Result<Vec<Tried>, Halted> {
    let mut tried = Vec::new();
    for other in bays {
        let bay = &other.bay;
        let Some(job) = in_bay(&bundle.job, bay, &other.path) else { continue };
        tried.push(Tried {
            change: Change::UseBay(other.path.clone(), bay.clone()),
            place: place(bundle, job, Some(bay), headings, progress)?,
            stands: Vec::new(),
        });
    }
    Ok(tried)
}

/// The changes after which the whole job is done in one place of this bay: things cleared, doors opened, turned round.
pub(super) fn here(
    site: &Site,
    headings: &[f64],
    closely: &[f64],
    progress: &Progress,
) -> Result<Vec<Tried>, Halted> {
    let bundle = &site.layout.bundle;
    let mut tried = cleared(site, closely, progress)?;
    let doors = bundle.bay.doorways.iter().filter(|d| !bundle.job.doors_open.contains(&d.name));
    for door in doors {
        let mut job = (*bundle.job).clone();
        job.doors_open.push(door.name.clone());
        tried.push(Tried {
            change: Change::Open(door.name.text.clone()),
            place: place(bundle, job, None, headings, progress)?,
            stands: Vec::new(),
        });
    }
    let round: Vec<f64> =
        headings.iter().map(|h| norm_deg(h + 180.0)).filter(|h| !headings.contains(h)).collect();
    if !round.is_empty() {
        tried.push(Tried {
            change: Change::TurnRound,
            place: site.best(&round, progress)?,
            stands: Vec::new(),
        });
    }
    Ok(tried)
}

fn slack(t: &Tried) -> f64 {
    t.place.map_or(f64::NEG_INFINITY, |p| p.slack)
}

/// Each movable fixture cleared. One that takes no part in showing that nothing fits cannot help, and is not tried.
fn cleared(site: &Site, headings: &[f64], progress: &Progress) -> Result<Vec<Tried>, Halted> {
    let things = &site.layout.stage.things;
    let mut places: Vec<Option<Place>> = vec![None; things.len()];
    for space in headings.iter().flat_map(|h| site.spaces_near(*h)) {
        let item = |o: u32| space.holds[space.obstacles[o as usize].hold as usize].item;
        let mut takes_part: Vec<usize> = at_all(&space, progress)?
            .held_by
            .into_iter()
            .filter_map(|o| match item(o) {
                Item::Thing(t) if things[t].movable => Some(t),
                _ => None,
            })
            .collect();
        takes_part.sort_unstable();
        takes_part.dedup();
        progress.expect(takes_part.len());
        for t in takes_part {
            let left: Vec<u32> = space.all().into_iter().filter(|o| item(*o) != Item::Thing(t)).collect();
            let found = deepest(&space, &left, space.domain, -NOISE_MM, progress)?;
            progress.step();
            if let Some(place) = site::place(space.heading, &found)
                && places[t].is_none_or(|p| place.slack > p.slack + NOISE_MM)
            {
                places[t] = Some(place);
            }
        }
    }
    let movable = things.iter().enumerate().filter(|(_, t)| t.movable);
    Ok(movable
        .map(|(i, t)| Tried { change: Change::Clear(t.name.clone()), place: places[i], stands: Vec::new() })
        .collect())
}

/// Moving between procedures, and between the setups of each procedure that does not allow it.
fn moves(
    site: &Site,
    headings: &[f64],
    stands: &[Stand],
    unserved: &[usize],
    progress: &Progress,
) -> Result<Vec<Tried>, Halted> {
    let layout = &site.layout;
    let least = |stands: &[Stand]| stands.iter().map(|s| s.place).min_by(|a, b| a.slack.total_cmp(&b.slack));
    let mut tried = Vec::new();
    if unserved.is_empty() && stands.len() > 1 {
        tried.push(Tried { change: Change::Move(None), place: least(stands), stands: stands.to_vec() });
    }
    for (p, procedure) in layout.bundle.procedures.iter().enumerate() {
        let count = site.setups().filter(|s| layout.setups[*s].procedure == p).count();
        if count < 2 || procedure.may_move_between_setups {
            continue;
        }
        let served = stands::fewest(site, headings, progress, Some(p))?;
        let fits = served.unserved.is_empty();
        tried.push(Tried {
            change: Change::Move(Some(p)),
            place: least(&served.stands).filter(|_| fits),
            stands: served.stands,
        });
    }
    Ok(tried)
}

/// Where the vehicle stands in a changed job; none when nowhere, or when it cannot be laid out.
fn place(
    bundle: &Bundle,
    job: Job,
    bay: Option<&Arc<Bay>>,
    headings: &[f64],
    progress: &Progress,
) -> Result<Option<Place>, Halted> {
    progress.expect(1);
    let changed = Bundle { job: Arc::new(job), bay: bay.unwrap_or(&bundle.bay).clone(), ..bundle.clone() };
    let found = match ready(&changed, headings, progress) {
        Ok((site, _)) => site.best(headings, progress)?,
        Err(Halted::Faults(_)) => None,
        Err(stopped) => return Err(stopped),
    };
    progress.step();
    Ok(found)
}

/// The job in another bay: its doors, cleared things and pose mean nothing there. None when it needs a lift that the
/// bay has not.
fn in_bay(job: &Job, bay: &Bay, path: &str) -> Option<Job> {
    if let Support::Lift { name, .. } = &job.support
        && !bay.lifts.iter().any(|l| l.name == *name)
    {
        return None;
    }
    let known = |names: &List<Name>, known: &dyn Fn(&Name) -> bool| {
        names.iter().filter(|n| known(n)).cloned().collect()
    };
    Some(Job {
        bay: path.into(),
        pose: crate::model::Pose::Anywhere,
        doors_open: known(&job.doors_open, &|n| bay.doorways.iter().any(|d| d.name == *n)),
        cleared: known(&job.cleared, &|n| bay.fixtures.iter().any(|f| f.name == *n)),
        accepted: List::default(),
        enter_by: job.enter_by.clone().filter(|n| bay.doorways.iter().any(|d| d.name == *n)),
        ..job.clone()
    })
}
