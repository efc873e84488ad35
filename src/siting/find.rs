//! The whole answer to a job's siting.

use std::sync::Arc;

use super::change::{self, Tried};
use super::choose::{self, Choice};
use super::grow::{self, Growth};
use super::progress::{Progress, Stopped};
use super::region::Allowed;
use super::site::{Place, Site, allowed_of, at_all, miss, place, way_count};
use super::stands::{self, Stand};
use super::turn::{self, Swing};
use crate::checks::pairs::Cx;
use crate::checks::{Finding, Outcome, RULES, check};
use crate::geometry::{NOISE_MM, V2};
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

/// Everything siting found.
#[derive(Clone, Debug)]
pub struct Siting {
    /// The job as it was searched, free values chosen.
    pub layout: Layout,
    /// Values of the procedures chosen so that slack is largest.
    pub chosen: Vec<(Arc<str>, f64)>,
    pub headings: Vec<HeadingFound>,
    pub best: Option<Best>,
    /// Only where nothing fits.
    pub shortfall: Option<Shortfall>,
    /// Only where nothing fits: each change tried alone, best first.
    pub changes: Vec<Tried>,
    /// The fewest places to stand that serve every setup that can be served, in order.
    pub poses: Vec<Stand>,
    /// Setups no pose serves, by index.
    pub unserved: Vec<usize>,
    /// What the reader should know about how the answer was found.
    pub notes: Vec<String>,
}

/// What was found at one heading.
#[derive(Clone, Debug, PartialEq)]
pub struct HeadingFound {
    pub heading: f64,
    pub allowed: Allowed,
    pub best: Option<Place>,
    /// Where nothing fits: the pose with the greatest least margin, its margin (below zero) and what binds there.
    pub miss: Option<(Place, String)>,
}

/// The deepest pose of all headings.
#[derive(Clone, Debug)]
pub struct Best {
    pub place: Place,
    /// How far the heading may be off before a plan rule fails.
    pub swing: Swing,
    /// What the other rules find there: failures and unknowns.
    pub also: Vec<Finding>,
}

/// By how much the bay is short.
#[derive(Clone, Debug, PartialEq)]
pub struct Shortfall {
    pub heading: f64,
    pub along: Option<f64>,
    pub across: Option<f64>,
    /// Toward which side growing across is least: "right" or "left" of the vehicle.
    pub across_side: Option<&'static str>,
    pub binding: Vec<String>,
    pub across_binding: Vec<String>,
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
        Ask {
            headings: vec![0.0, 180.0],
            bays: Vec::new(),
        }
    }

    /// Every `step` degrees all round, from 0.
    pub fn sweep(step: f64) -> Ask {
        let count = (360.0 / step).ceil().clamp(1.0, 3600.0) as usize;
        Ask {
            headings: (0..count).map(|i| i as f64 * step).collect(),
            bays: Vec::new(),
        }
    }
}

/// Headings looked at closely (shortfall, several places to stand) when many are asked.
const CLOSELY: usize = 8;

/// Finds where the job's vehicle can stand.
pub fn find(bundle: &Bundle, ask: &Ask, progress: &Progress) -> Result<Siting, Halted> {
    let mut headings: Vec<f64> = ask.headings.iter().map(|h| norm_deg(*h)).filter(|h| h.is_finite()).collect();
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
        notes.push(format!("shortfall and several places to stand were looked for at {} of {} headings", closely.len(), found.len()));
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
            change::changes(&site, &headings, &closely, ask, (&poses, &unserved), progress)?,
        ),
    };
    if let Some(short) = shortfall.as_mut().filter(|s| s.binding.is_empty()) {
        let misses = found.iter().filter(|f| f.heading == short.heading).filter_map(|f| f.miss.as_ref());
        short.binding.extend(misses.map(|m| m.1.clone()));
    }
    let best = match best {
        None => None,
        Some(place) => Some(Best {
            place,
            swing: turn::swing(&site, place.stance, progress)?,
            also: also(&site, place.stance),
        }),
    };
    progress.step();
    Ok(Siting {
        layout: site.layout,
        chosen,
        headings: found,
        best,
        shortfall,
        changes,
        poses,
        unserved,
        notes,
    })
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
    for space in headings.iter().flat_map(|h| site.spaces(*h)) {
        if let Some((at, slack)) = miss(&space, progress)?
            && least.is_none_or(|l| slack > l.slack + NOISE_MM)
        {
            let stance = Stance {
                x: at.x,
                y: at.y,
                heading: space.heading,
            };
            least = Some(Place { stance, slack });
        }
    }
    Ok((least, false))
}

/// A job to search, with the free values that were chosen.
pub type Ready = (Site, Vec<(Arc<str>, f64)>);

/// The job with its free values chosen, in the first combination of ways with which it fits somewhere; else the first.
pub fn ready(bundle: &Bundle, headings: &[f64], progress: &Progress) -> Result<Ready, Halted> {
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

/// Searches every heading, on all cores.
fn each_heading(site: &Site, headings: &[f64], progress: &Progress) -> Result<Vec<HeadingFound>, Stopped> {
    let cores = std::thread::available_parallelism().map_or(1, |n| n.get()).min(headings.len()).max(1);
    let next = std::sync::atomic::AtomicUsize::new(0);
    let work = || -> Result<Vec<(usize, HeadingFound)>, Stopped> {
        let mut own = Vec::new();
        loop {
            let i = next.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
            let Some(heading) = headings.get(i) else { return Ok(own) };
            own.push((i, at_heading(site, *heading, progress)?));
            progress.step();
        }
    };
    let mut all = Vec::new();
    if cores == 1 {
        all = work()?;
    } else {
        let parts: Vec<_> = std::thread::scope(|scope| {
            let threads: Vec<_> = (0..cores).map(|_| scope.spawn(work)).collect();
            threads.into_iter().map(|t| t.join().unwrap_or(Err(Stopped))).collect()
        });
        for part in parts {
            all.extend(part?);
        }
    }
    all.sort_by_key(|(i, _)| *i);
    Ok(all.into_iter().map(|(_, f)| f).collect())
}

fn at_heading(site: &Site, heading: f64, progress: &Progress) -> Result<HeadingFound, Stopped> {
    let mut found = HeadingFound {
        heading,
        allowed: Allowed::default(),
        best: None,
        miss: None,
    };
    let mut missed: Option<Place> = None;
    for space in site.spaces(heading) {
        if let Some(place) = place(heading, &at_all(&space, progress)?) {
            let region = allowed_of(&space, progress)?;
            found.allowed.area += region.area;
            found.allowed.rings.extend(region.rings);
            if found.best.is_none_or(|b| place.slack > b.slack + NOISE_MM) {
                found.best = Some(place);
            }
        } else if found.best.is_none()
            && let Some((at, margin)) = miss(&space, progress)?
            && missed.is_none_or(|m| margin > m.slack)
        {
            let stance = Stance {
                x: at.x,
                y: at.y,
                heading,
            };
            missed = Some(Place { stance, slack: margin });
        }
    }
    if found.best.is_none() {
        found.miss = missed.map(|place| (place, worst(site, place.stance)));
    }
    Ok(found)
}

/// The pair with the least margin among the plan rules at a pose, in words.
fn worst(site: &Site, stance: Stance) -> String {
    let there = site.layout.at(stance);
    let cx = Cx::new(&there);
    let mut findings = Vec::new();
    for rule in RULES.iter().filter(|r| r.id.is_plan()) {
        (rule.run)(&cx, &mut findings);
    }
    let counts = |f: &&Finding| f.setup.is_none_or(|s| !site.idle.contains(&s)) && f.margin.is_some();
    let worst = findings.iter().filter(counts).min_by(|a, b| a.margin.unwrap_or(0.0).total_cmp(&b.margin.unwrap_or(0.0)));
    worst.map_or_else(String::new, |f| f.items.join(" and "))
}

/// The headings worth looking at closely: the first two, then those that miss by least.
fn closely(found: &[HeadingFound]) -> Vec<f64> {
    let margin = |f: &HeadingFound| f.miss.as_ref().map_or(f64::NEG_INFINITY, |m| m.0.slack);
    let mut order: Vec<usize> = (2.min(found.len())..found.len()).collect();
    order.sort_by(|i, j| margin(&found[*j]).total_cmp(&margin(&found[*i])));
    let mut chosen: Vec<usize> = (0..2.min(found.len())).chain(order).take(CLOSELY).collect();
    chosen.sort_unstable();
    chosen.into_iter().map(|i| found[i].heading).collect()
}

/// By how much the bay is short, at the heading that is least short along, the first of equals.
fn shortfall(site: &Site, headings: &[f64], progress: &Progress) -> Result<Option<Shortfall>, Stopped> {
    let vehicle = &site.layout.bundle.vehicle;
    let middle = vehicle.front_overhang - vehicle.length / 2.0;
    let mut least: Option<Shortfall> = None;
    for space in headings.iter().flat_map(|h| site.spaces(*h)) {
        let heading = space.heading;
        let frame = Stance { x: 0.0, y: 0.0, heading }.frame();
        let (ahead, left) = (frame.x, frame.y());
        let grown = |way: V2, middle: f64| grow::growth(&space, &site.stills, way, middle, progress);
        let along = grown(ahead, middle)?;
        let mut across: Option<(Growth, &'static str)> = None;
        for (way, side) in [(-left, "right"), (left, "left")] {
            if let Some(g) = grown(way, 0.0)?
                && across.as_ref().is_none_or(|a| g.mm < a.0.mm - NOISE_MM)
            {
                across = Some((g, side));
            }
        }
        let words = |g: Option<&Growth>| g.map_or_else(Vec::new, |g| grow::words(&space, &g.binding));
        let across_binding = words(across.as_ref().map(|a| &a.0));
        let mut binding = words(along.as_ref());
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
        if least.as_ref().is_none_or(|l| rank(&one).0 < rank(l).0 - NOISE_MM || rank(&one).0 <= rank(l).0 && rank(&one).1 < rank(l).1 - NOISE_MM) {
            least = Some(one);
        }
    }
    Ok(least)
}

/// What all rules find at a pose that fails or is not known.
fn also(site: &Site, stance: Stance) -> Vec<Finding> {
    let at = site.layout.at(stance);
    check(&at).findings.into_iter().filter(|f| matches!(f.outcome, Outcome::Fail | Outcome::Movable | Outcome::Unknown)).collect()
}
