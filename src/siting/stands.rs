//! The fewest places to stand that serve every setup, and what must be set out anew after each move.

use std::collections::HashMap;

use super::deepest::deepest;
use super::find::Note;
use super::progress::{Progress, Stopped};
use super::site::{Place, Site};
use super::space::Space;
use crate::geometry::NOISE_MM;
use crate::layout::Layout;
use crate::model::further::FixedTo;

/// One place to stand and what is done there.
#[derive(Clone, Debug, PartialEq)]
pub struct Stand {
    pub place: Place,
    /// Indices into the layout's setups, in order.
    pub setups: Vec<usize>,
    /// Marks to be set out after the vehicle came here: setup, mark. The first place needs all its marks too, but
    /// not again.
    pub again: Vec<(usize, usize)>,
}

/// Places to stand, and the setups none serves.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Served {
    pub stands: Vec<Stand>,
    pub unserved: Vec<usize>,
    pub note: Option<Note>,
}

/// Up to so many groups of setups the fewest places are found exactly.
const EXACT: usize = 12;

/// The one place that serves everything.
pub(super) fn all_at(site: &Site, place: Place) -> Stand {
    Stand { place, setups: site.setups().collect(), again: Vec::new() }
}

/// Finds the fewest places. Setups of a procedure that does not allow a move between them share one; `free_to_move`
/// names a procedure taken to allow it. A procedure's setups keep their order.
pub(super) fn fewest(
    site: &Site,
    headings: &[f64],
    progress: &Progress,
    free_to_move: Option<usize>,
) -> Result<Served, Stopped> {
    let units = units(site, free_to_move);
    let mut oracle = Oracle {
        site,
        spaces: headings.iter().flat_map(|h| site.spaces_near(*h)).collect(),
        units: &units,
        known: HashMap::new(),
        progress,
    };
    let mut served = Served::default();
    let mut can: Vec<usize> = Vec::new();
    for (u, unit) in units.iter().enumerate() {
        if oracle.place(&[u])?.is_some() {
            can.push(u);
        } else {
            served.unserved.extend(unit.iter().copied());
        }
    }
    served.unserved.sort_unstable();
    let groups = if can.len() <= EXACT {
        let mut most = 1;
        loop {
            let mut groups = Vec::new();
            if can.is_empty() || oracle.split(&can, most, &mut groups)? {
                break groups;
            }
            most += 1;
        }
    } else {
        served.note = Some(Note::OneByOne(can.len()));
        oracle.greedy(&can)?
    };
    for group in ordered(&units, &site.layout, groups) {
        let Some(place) = oracle.place(&group)? else { continue };
        let mut setups: Vec<usize> = group.iter().flat_map(|u| units[*u].iter().copied()).collect();
        setups.sort_unstable();
        let again = if served.stands.is_empty() { Vec::new() } else { marks(&site.layout, &setups) };
        served.stands.push(Stand { place, setups, again });
    }
    Ok(served)
}

/// Setups that must share a place, in the order of the job: those of a procedure that does not allow a move, and those
/// whose targets stay from one to the next.
fn units(site: &Site, free_to_move: Option<usize>) -> Vec<Vec<usize>> {
    let layout = &site.layout;
    let mut units: Vec<Vec<usize>> = Vec::new();
    for s in site.setups() {
        let setup = &layout.setups[s];
        let p = setup.procedure;
        let moves = free_to_move == Some(p) || layout.bundle.procedures[p].may_move_between_setups;
        let joins = |other: &usize| {
            let other = &layout.setups[*other];
            let stays = setup
                .stations
                .iter()
                .any(|t| matches!(&t.def.fixed_to, Some(FixedTo::Earlier(name)) if *name == *other.name));
            other.procedure == p && (!moves || stays)
        };
        match units.iter_mut().find(|unit| unit.iter().any(joins)) {
            Some(unit) => unit.push(s),
            None => units.push(vec![s]),
        }
    }
    units
}

/// Every mark of some setups: after a move all are set out anew.
fn marks(layout: &Layout, setups: &[usize]) -> Vec<(usize, usize)> {
    setups.iter().flat_map(|s| (0..layout.setups[*s].marks.len()).map(move |m| (*s, m))).collect()
}

struct Oracle<'a> {
    site: &'a Site,
    spaces: Vec<Space>,
    units: &'a [Vec<usize>],
    known: HashMap<Vec<usize>, Option<Place>>,
    progress: &'a Progress,
}

impl Oracle<'_> {
    /// The deepest place that serves a group of units.
    fn place(&mut self, group: &[usize]) -> Result<Option<Place>, Stopped> {
        if let Some(known) = self.known.get(group) {
            return Ok(*known);
        }
        let mut best: Option<Place> = None;
        for space in &self.spaces {
            let (among, domain) = space.of_setups(|s| group.iter().any(|u| self.units[*u].contains(&s)));
            let found = deepest(space, &among, domain, -NOISE_MM, self.progress)?;
            if let Some(place) = super::site::place(space.heading, &found)
                && best.is_none_or(|b| place.slack > b.slack + NOISE_MM)
            {
                best = Some(place);
            }
        }
        self.known.insert(group.to_vec(), best);
        Ok(best)
    }

    /// Puts units one after the other into at most `most` groups that each have a place.
    fn split(&mut self, units: &[usize], most: usize, groups: &mut Vec<Vec<usize>>) -> Result<bool, Stopped> {
        let Some((&unit, rest)) = units.split_first() else {
            return Ok(has_order(self.units, &self.site.layout, groups));
        };
        for g in 0..groups.len() {
            groups[g].push(unit);
            let group = groups[g].clone();
            if self.place(&group)?.is_some() && self.split(rest, most, groups)? {
                return Ok(true);
            }
            groups[g].pop();
        }
        if groups.len() < most {
            groups.push(vec![unit]);
            if self.split(rest, most, groups)? {
                return Ok(true);
            }
            groups.pop();
        }
        Ok(false)
    }

    /// Each unit joins the first group that still has a place with it.
    fn greedy(&mut self, units: &[usize]) -> Result<Vec<Vec<usize>>, Stopped> {
        let mut groups: Vec<Vec<usize>> = Vec::new();
        for &unit in units {
            let mut joined = false;
            for g in 0..groups.len() {
                groups[g].push(unit);
                let group = groups[g].clone();
                if self.place(&group)?.is_some() && has_order(self.units, &self.site.layout, &groups) {
                    joined = true;
                    break;
                }
                groups[g].pop();
            }
            if !joined {
                groups.push(vec![unit]);
            }
        }
        Ok(groups)
    }
}

/// Whether the groups can be visited one after the other with every procedure's setups in their order.
fn has_order(units: &[Vec<usize>], layout: &Layout, groups: &[Vec<usize>]) -> bool {
    order(units, layout, groups).is_some()
}

/// The groups in the order of visiting: a procedure's setups in their order, else the first setup first.
fn ordered(units: &[Vec<usize>], layout: &Layout, groups: Vec<Vec<usize>>) -> Vec<Vec<usize>> {
    match order(units, layout, &groups) {
        Some(order) => order.into_iter().map(|g| groups[g].clone()).collect(),
        None => groups,
    }
}

fn order(units: &[Vec<usize>], layout: &Layout, groups: &[Vec<usize>]) -> Option<Vec<usize>> {
    // Units and setups are numbered in the order of the job, so of one procedure the smaller comes first.
    let procedure = |u: usize| units[u].first().map(|s| layout.setups[*s].procedure);
    let before = |a: &[usize], b: &[usize]| {
        a.iter().any(|u| b.iter().any(|v| u < v && procedure(*u) == procedure(*v)))
    };
    let mut left: Vec<usize> = (0..groups.len()).collect();
    left.sort_by_key(|g| groups[*g].first().copied());
    let mut order = Vec::new();
    while !left.is_empty() {
        let next =
            left.iter().position(|g| left.iter().all(|o| o == g || !before(&groups[*o], &groups[*g])))?;
        order.push(left.remove(next));
    }
    Some(order)
}
