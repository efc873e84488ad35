//! Every heading asked for: its region, its deepest pose, or where it misses by least.

use super::between::Between;
use super::progress::{Progress, Stopped};
use super::region::Allowed;
use super::site::{Place, Site, allowed_of, at_all, miss, place};
use crate::checks::pairs::Cx;
use crate::checks::{Finding, RULES, RuleId};
use crate::geometry::NOISE_MM;
use crate::layout::Stance;

/// What was found at one heading.
#[derive(Clone, Debug, PartialEq)]
pub struct HeadingFound {
    pub heading: f64,
    pub allowed: Allowed,
    pub best: Option<Place>,
    /// Where nothing fits: the pose with the greatest least margin, its margin (below zero) and what binds there.
    pub miss: Option<(Place, Option<Between>)>,
}

/// Headings looked at closely (shortfall, several places to stand) when many are asked.
const CLOSELY: usize = 8;

/// Searches every heading, on all cores.
pub(super) fn each_heading(
    site: &Site,
    headings: &[f64],
    progress: &Progress,
) -> Result<Vec<HeadingFound>, Stopped> {
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
    let mut found = HeadingFound { heading, allowed: Allowed::default(), best: None, miss: None };
    let mut missed: Option<Place> = None;
    for space in site.spaces_near(heading) {
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
            let stance = Stance { x: at.x, y: at.y, heading };
            missed = Some(Place { stance, slack: margin });
        }
    }
    if found.best.is_none() {
        found.miss = missed.map(|place| (place, worst(site, place.stance)));
    }
    Ok(found)
}

/// Margins that differ by less are as good as equal here: the search takes a smaller y for that much, mm.
const ALIKE_MM: f64 = 1.0;

/// The pair with the least margin among the plan rules at a pose, in words. Of equals the lift: where it is what leaves no
/// room, the vehicle has been slid along it up to the next thing.
fn worst(site: &Site, stance: Stance) -> Option<Between> {
    let there = site.layout.at(stance);
    let mut cx = Cx::new(&there);
    cx.set_idle(site.idle.clone());
    let mut findings = Vec::new();
    for rule in RULES.iter().filter(|r| r.policy.plan) {
        (rule.run)(&cx, &mut findings);
    }
    let counts = |f: &&Finding| f.setup.is_none_or(|s| !site.idle.contains(&s)) && f.margin.is_some();
    let margin = |f: &Finding| f.margin.unwrap_or(0.0);
    let found: Vec<&Finding> = findings.iter().filter(counts).collect();
    let least = found.iter().copied().min_by(|a, b| margin(a).total_cmp(&margin(b)));
    let of_lift = |l: &Finding| {
        let alike = |f: &&&Finding| f.rule == RuleId::OnLift && margin(f) <= margin(l) + ALIKE_MM;
        found.iter().find(alike).copied()
    };
    let worst = least.map(|l| of_lift(l).unwrap_or(l));
    worst.map(|f| Between { rule: f.rule, items: f.items.clone() })
}

/// The headings worth looking at closely: the first two, then those that miss by least.
pub(super) fn closely(found: &[HeadingFound]) -> Vec<f64> {
    let margin = |f: &HeadingFound| f.miss.as_ref().map_or(f64::NEG_INFINITY, |m| m.0.slack);
    let mut order: Vec<usize> = (2.min(found.len())..found.len()).collect();
    order.sort_by(|i, j| margin(&found[*j]).total_cmp(&margin(&found[*i])));
    let mut chosen: Vec<usize> = (0..2.min(found.len())).chain(order).take(CLOSELY).collect();
    chosen.sort_unstable();
    chosen.into_iter().map(|i| found[i].heading).collect()
}
