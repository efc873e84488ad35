//! The whole answer to a job's siting.

use std::sync::Arc;

use super::change::{self, Tried};
use super::choose::{self, Choice};
use super::even::even;
use super::heading::{HeadingFound, closely, each_heading};
use super::progress::{Progress, Stopped};
use super::short::{Shortfall, shortfall};
use super::site::{Place, Site, miss, way_count};
use super::stands::{self, Stand};
use super::turn::{self, Swing};
use super::whole;
use crate::checks::{Finding, Judgement, Outcome, Verdict, check_driven};
use crate::driving::drive_in;
use crate::files::Unread;
use crate::geometry::NOISE_MM;
use crate::layout::{Layout, Stance};
use crate::model::bay::Bay;
use crate::model::{Bundle, Fault};
use crate::units::norm_deg;

/// What is asked.
#[derive(Clone, Debug, PartialEq)]
pub struct Ask {
    /// Degrees, each tried.
    pub headings: Vec<f64>,
    /// Other bays the job might be done in.
    pub bays: Vec<OtherBay>,
}

/// A bay the job might be done in instead.
#[derive(Clone, Debug, PartialEq)]
pub struct OtherBay {
    /// As the job would name its file.
    pub path: String,
    pub bay: Arc<Bay>,
}

/// What was left out of a search, and why.
#[derive(Clone, Debug, PartialEq)]
pub enum Note {
    /// Shortfall and several places were looked for at so many of all headings.
    Closely { of: usize, all: usize },
    /// So many groups of setups: places were found one after the other.
    OneByOne(usize),
    /// Bays beside the job's.
    Unread(Unread),
}

/// Everything siting found.
#[derive(Clone, Debug)]
pub struct Siting {
    /// The job as it was searched, free values chosen.
    pub layout: Layout,
    /// Values of the procedures chosen so that slack is largest.
    pub chosen: Vec<(Arc<str>, f64)>,
    pub headings: Vec<HeadingFound>,
    pub best: Option<Best>,
    /// What all rules say at the best place; where nothing fits, at the place that misses by least, and that it does not fit.
    pub judgement: Option<Judgement>,
    /// Only where nothing fits.
    pub shortfall: Option<Shortfall>,
    /// Only where nothing fits: each change tried alone, best first.
    pub changes: Vec<Tried>,
    /// The fewest places to stand that serve every setup that can be served, in order.
    pub poses: Vec<Stand>,
    /// Setups no pose serves, by index.
    pub unserved: Vec<usize>,
    /// What the reader should know about how the answer was found.
    pub notes: Vec<Note>,
}

/// The deepest pose of all headings.
#[derive(Clone, Debug)]
pub struct Best {
    pub place: Place,
    /// The same in whole 5 mm, where what is to spare allows it and the rules find the same there; else as above.
    pub proposed: Place,
    /// How far the heading may be off before a plan rule fails.
    pub swing: Swing,
    /// What the other rules find there: failures and unknowns.
    pub also: Vec<Finding>,
    /// Where the floor is best among the places of that heading, and its margin there, mm; where a procedure asks for a
    /// level floor.
    pub floor: Option<(Stance, f64)>,
}

/// Why there is no answer.
#[derive(Clone, Debug, PartialEq)]
pub enum Halted {
    Stopped,
    /// The job cannot be laid out.
    Faults(Vec<Fault>),
}

impl From<Stopped> for Halted {
    fn from(_: Stopped) -> Halted {
        Halted::Stopped
    }
}

impl From<Vec<Fault>> for Halted {
    fn from(faults: Vec<Fault>) -> Halted {
        Halted::Faults(faults)
    }
}

impl Ask {
    /// Nose in and backed in.
    pub fn usual() -> Ask {
        Ask { headings: vec![0.0, 180.0], bays: Vec::new() }
    }

    /// Every `step` degrees all round, from 0.
    pub fn sweep(step: f64) -> Ask {
        let count = (360.0 / step).ceil().clamp(1.0, 3600.0) as usize;
        Ask { headings: (0..count).map(|i| i as f64 * step).collect(), bays: Vec::new() }
    }
}

/// Finds where the job's vehicle can stand.
pub fn find(bundle: &Bundle, ask: &Ask, progress: &Progress) -> Result<Siting, Halted> {
    find_among(bundle, ask, &mut ask.bays.iter().cloned(), progress)
}

/// The same with the other bays taken one by one, and only where nothing fits.
pub fn find_among(
    bundle: &Bundle,
    ask: &Ask,
    bays: &mut dyn Iterator<Item = OtherBay>,
    progress: &Progress,
) -> Result<Siting, Halted> {
    let mut headings: Vec<f64> =
        ask.headings.iter().map(|h| norm_deg(*h)).filter(|h| h.is_finite()).collect();
    let mut seen: Vec<f64> = Vec::new();
    headings.retain(|h| {
        let new = !seen.iter().any(|s| s == h);
        seen.push(*h);
        new
    });
    progress.expect(headings.len() + 2);
    let (site, chosen) = ready(bundle, &headings, progress)?;
    progress.step();
    let found = each_heading(&site, &headings, progress)?;
    let mut best: Option<Place> = None;
    for place in found.iter().filter_map(|f| f.best) {
        if best.is_none_or(|b| place.slack > b.slack + NOISE_MM) {
            best = Some(place);
        }
    }
    let closely = closely(&found);
    let mut notes = Vec::new();
    if closely.len() < found.len() && best.is_none() {
        notes.push(Note::Closely { of: closely.len(), all: found.len() });
    }
    let (poses, unserved) = match best {
        Some(place) => (vec![stands::all_at(&site, place)], Vec::new()),
        None => {
            let served = stands::fewest(&site, &closely, progress, None)?;
            notes.extend(served.note);
            (served.stands, served.unserved)
        }
    };
    let (mut shortfall, changes) = match best {
        Some(_) => (None, Vec::new()),
        None => (
            shortfall(&site, &closely, progress)?,
            change::changes(&site, &headings, &closely, bays, (&poses, &unserved), progress)?,
        ),
    };
    if let Some(short) = shortfall.as_mut().filter(|s| s.binding.is_empty()) {
        let misses = found.iter().filter(|f| f.heading == short.heading).filter_map(|f| f.miss.as_ref());
        short.binding.extend(misses.filter_map(|m| m.1.clone()));
    }
    let (best, judgement) = match best {
        None => (None, None),
        Some(place) => {
            let judgement = judged_at(&site, place.stance, progress);
            let best = Best {
                place,
                proposed: whole::proposed(&site, place, &judgement, progress),
                swing: turn::swing(&site, place.stance, progress)?,
                also: also(&judgement),
                floor: best_floor(&site, place.stance, &found, progress),
            };
            (Some(best), Some(judgement))
        }
    };
    progress.step();
    let mut siting = Siting {
        layout: site.layout,
        chosen,
        headings: found,
        best,
        judgement,
        shortfall,
        changes,
        poses,
        unserved,
        notes,
    };
    if siting.judgement.is_none()
        && let Some((least, _)) = siting.judged()
    {
        let nowhere = check_driven(&siting.layout.at(least.stance), None);
        siting.judgement = Some(Judgement { verdict: Verdict::DoesNotFit, ..nowhere });
    }
    Ok(siting)
}

/// The deepest pose over nose in and backed in: where a job without a pose is judged.
pub fn best_pose(bundle: &Bundle, progress: &Progress) -> Result<Option<Place>, Halted> {
    let headings = Ask::usual().headings;
    let (site, _) = ready(bundle, &headings, progress)?;
    Ok(site.best(&headings, progress)?)
}

/// Where a job without a pose is judged: the deepest pose, or, where nothing fits, the one that misses by least
/// (none when there is no floor at all).
pub fn judged_pose(bundle: &Bundle, progress: &Progress) -> Result<(Option<Place>, bool), Halted> {
    let headings = Ask::usual().headings;
    let (site, _) = ready(bundle, &headings, progress)?;
    if let Some(place) = site.best(&headings, progress)? {
        return Ok((Some(place), true));
    }
    let mut least: Option<Place> = None;
    for space in headings.iter().flat_map(|h| site.spaces_near(*h)) {
        if let Some((at, slack)) = miss(&space, progress)?
            && least.is_none_or(|l| slack > l.slack + NOISE_MM)
        {
            let stance = Stance { x: at.x, y: at.y, heading: space.heading };
            least = Some(Place { stance, slack });
        }
    }
    Ok((least, false))
}

/// A job to search, with the free values that were chosen.
pub(super) type Ready = (Site, Vec<(Arc<str>, f64)>);

/// The job with its free values chosen, in the first combination of ways with which it fits somewhere; else the first.
pub(super) fn ready(bundle: &Bundle, headings: &[f64], progress: &Progress) -> Result<Ready, Halted> {
    let mut first = None;
    let mut n = 0;
    loop {
        let Choice { bundle, chosen } = choose::choose(bundle, n, headings, progress)?;
        let site = Site::with_way(&bundle, n)?;
        n += 1;
        let count = way_count(&site.layout);
        if count == 1 || site.best(headings, progress)?.is_some() {
            return Ok((site, chosen));
        }
        let first = first.get_or_insert((site, chosen));
        if n >= count {
            return Ok(first.clone());
        }
    }
}

fn best_floor(
    site: &Site,
    stance: Stance,
    found: &[HeadingFound],
    progress: &Progress,
) -> Option<(Stance, f64)> {
    let region = found.iter().find(|h| h.heading == stance.heading)?;
    even(&site.layout.at(stance), &region.allowed.rings, &|| progress.is_stopped())?.best
}

/// What all rules find at a pose; with the way in, where the job asks for it.
pub(super) fn judged_at(site: &Site, stance: Stance, progress: &Progress) -> Judgement {
    let at = site.layout.at(stance);
    let asked = at.bundle.job.drive_in;
    let driven = asked.then(|| drive_in(&at, &|| progress.is_stopped())).flatten();
    check_driven(&at, driven.as_ref())
}

/// What fails or is not known.
fn also(judgement: &Judgement) -> Vec<Finding> {
    let tells = |f: &&Finding| matches!(f.outcome, Outcome::Fail | Outcome::Movable | Outcome::Unknown);
    judgement.findings.iter().filter(tells).cloned().collect()
}
