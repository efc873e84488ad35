//! Which way in is told: the roomiest of the ways that are tried in every bay; where none of them is free, what a search
//! finds and what is roomiest of the ways like it.

use super::course::Course;
use super::lists;
use super::margin::{nearest, room_above};
use super::motion::{Segment, joined, reversed};
use super::roomier::{FAR, Lead, roomier};
use super::roomiest::{self, ROOMY};
use super::search::{Ask, Found, search};
use super::{Drive, LOOKS, LOOKS_LONG};
use crate::geometry::NOISE_MM;

/// Room one would give for a change of direction saved, and for a stretch saved, mm.
const CHANGE: f64 = 25.0;
const STRETCH: f64 = 2.0;
/// Looks allowed to the search for ways with changes of direction.
const LOOKS_TIGHT: usize = 30_000;

/// A way in, and its least room, mm, at most [`FAR`].
#[derive(Clone, Debug)]
pub(super) struct Best {
    pub way: Vec<Segment>,
    room: f64,
    worth: f64,
}

impl Drive<'_> {
    /// A way from outside that touches nothing of the course and ends with `straight` mm straight. The outer `None`:
    /// stopped.
    pub(super) fn way(&self, course: &Course, straight: f64) -> Option<Option<Vec<Segment>>> {
        if (self.stop)() {
            return None;
        }
        let of_lists =
            roomiest::Ask { place: self.place, radius: self.turning.radius, straight, least: -NOISE_MM };
        if let Some(out) = roomiest::roomiest(course, &self.car, of_lists, self.stop)? {
            let way = joined(&reversed(&out));
            if nearest(course, &self.car, &way).is_none_or(|n| n.contact.mm >= -NOISE_MM) {
                return Some(Some(way));
            }
        }
        // a longer straight run than asked does too: who asks for less of it then loses nothing
        let mut best: Option<Best> = None;
        for run in lists::runs(straight, lists::SEARCHED_RUNS) {
            let found = self.best_searched(course, run, LOOKS)?;
            if found.as_ref().is_some_and(|f| best.as_ref().is_none_or(|b| f.worth > b.worth)) {
                best = found;
            }
        }
        if best.is_none() {
            best = self.best_searched(course, straight, LOOKS_LONG)?;
        }
        Some(best.map(|b| b.way))
    }

    /// What a search finds, and what is roomiest of the ways like it.
    fn best_searched(&self, course: &Course, straight: f64, looks: usize) -> Option<Option<Best>> {
        let first = self.first(course, straight, looks)?.and_then(|way| self.best(course, way));
        let mut best = self.roomiest(course, straight, first, 0.0)?;
        for _ in 0..2 {
            let Some(tight) = best.as_ref().filter(|b| b.room < ROOMY) else { break };
            let ask = Ask { straight, ..self.ask(tight.room.max(0.0) + CHANGE, LOOKS_TIGHT) };
            let Some(more) = self.searched(course, ask)?.and_then(|way| self.best(course, way)) else {
                break;
            };
            let worth = tight.worth;
            let more = self.roomier_like(course, straight, more, 0.0)?;
            if more.worth <= worth {
                break;
            }
            best = Some(more);
        }
        Some(best)
    }

    /// The roomiest of this way, of ways like it, and of those with two curves only; none with less room than `least`.
    pub(super) fn roomiest(
        &self,
        course: &Course,
        straight: f64,
        first: Option<Best>,
        least: f64,
    ) -> Option<Option<Best>> {
        let mut best = match first {
            Some(first) => Some(self.roomier_like(course, straight, first, least)?),
            None => None,
        };
        for sign in [-1.0, 1.0] {
            let run = Segment { from: self.place, curvature: 0.0, length: straight.copysign(sign) };
            let lead = Lead { segments: vec![run], straight, backward: sign < 0.0, far: FAR };
            best = self.better(course, &lead, best, least)?;
        }
        Some(best)
    }

    /// The way, or a roomier one that differs in the last curves on the way out and in the lengths before them.
    fn roomier_like(&self, course: &Course, straight: f64, way: Best, least: f64) -> Option<Best> {
        let out = reversed(&way.way);
        let last_change = (1..out.len()).rev().find(|i| out[*i].is_backward() != out[*i - 1].is_backward());
        let cut = last_change.unwrap_or(out.len().saturating_sub(4)).max(1);
        if (cut == 1 && last_change.is_none()) || out[0].length.abs() < straight - NOISE_MM {
            return Some(way);
        }
        let far = if last_change.is_some() { ROOMY } else { FAR };
        let lead = Lead { segments: out[..cut].to_vec(), straight, backward: out[cut].is_backward(), far };
        Some(self.better(course, &lead, Some(way.clone()), least)?.unwrap_or(way))
    }

    fn better(&self, course: &Course, lead: &Lead, best: Option<Best>, least: f64) -> Option<Option<Best>> {
        let floor = best.as_ref().map_or(least, |b| b.worth);
        let found = roomier(course, &self.car, self.place, self.turning.radius, lead, floor, self.stop)?;
        let found = found.and_then(|way| self.best(course, way));
        Some(match (found, best) {
            (Some(found), best) if best.as_ref().is_none_or(|b| found.worth > b.worth) => {
                let free = |b: &Best| {
                    nearest(course, &self.car, &b.way).is_none_or(|n| n.contact.mm >= least - NOISE_MM)
                };
                if free(&found) { Some(found) } else { best }
            }
            (_, best) => best,
        })
    }

    /// From the way out; `None`: it touches nothing because it leads nowhere.
    pub(super) fn best(&self, course: &Course, out: Vec<Segment>) -> Option<Best> {
        let way = joined(&reversed(&out));
        let changes = way.windows(2).filter(|w| w[0].is_backward() != w[1].is_backward()).count();
        let far = if changes > 0 { ROOMY } else { FAR };
        let room = room_above(course, &self.car, &way, f64::NEG_INFINITY, far)?;
        let worth = room - CHANGE * changes as f64 - STRETCH * way.len() as f64;
        (!way.is_empty()).then_some(Best { way, room, worth })
    }

    /// The first way out found that touches nothing.
    pub(super) fn first(&self, course: &Course, straight: f64, looks: usize) -> Option<Option<Vec<Segment>>> {
        // between two looks a corner may slip past another by less than the second allowance
        for least in [0.0, 12.0] {
            let ask = Ask { straight, ..self.ask(least, looks) };
            let Some(way) = self.searched(course, ask)? else { break };
            if nearest(course, &self.car, &way).is_none_or(|n| n.contact.mm >= -NOISE_MM) {
                return Some(Some(way));
            }
        }
        Some(None)
    }

    fn searched(&self, course: &Course, ask: Ask) -> Option<Option<Vec<Segment>>> {
        match search(course, &self.car, self.place, ask, self.stop) {
            Found::Stopped => None,
            Found::Exhausted | Found::TooLong => Some(None),
            Found::Way(way) => Some(Some(way)),
        }
    }
}
