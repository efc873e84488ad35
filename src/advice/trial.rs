//! Moves made on the job and judged, without changing it.

use std::sync::Arc;

use super::standing::Standing;
use crate::checks::{Finding, Judgement, Outcome, check_driven};
use crate::driving::drive_in;
use crate::edit::{Edit, Motion};
use crate::geometry::NOISE_MM;
use crate::layout::{Layout, Stance};

/// A move that was made and judged.
#[derive(Clone, Debug, PartialEq)]
pub struct Tried {
    /// The changes of the job, in the order they are made; the vehicle moves last.
    pub edits: Vec<Edit>,
    pub from: Stance,
    pub to: Stance,
    pub now: Standing,
    pub then: Standing,
    /// The finding that decides there.
    pub decides: Option<Finding>,
    /// What was given up of the least margin so that the place is in whole figures, mm.
    pub given_up: f64,
}

impl Tried {
    /// Whether the vehicle comes to stand another way round.
    pub fn turns(&self) -> bool {
        (self.to.heading - self.from.heading).rem_euclid(360.0) != 0.0
    }

    /// Whether the vehicle stays where it is.
    pub fn stays(&self) -> bool {
        self.from == self.to
    }

    /// How many changes it takes.
    pub fn steps(&self) -> usize {
        self.edits.len()
    }
}

/// A judgement after some changes.
pub(super) struct Judged {
    pub stance: Stance,
    pub judgement: Judgement,
    pub standing: Standing,
    /// Without the way in, which was not driven: it was worse already, or enough were driven.
    pub undriven: bool,
}

/// The most moves judged for one answer, and of those the most with the way in.
const MOST: usize = 160;
const MOST_DRIVEN: usize = 10;

/// The job on which moves are tried.
pub(super) struct Bench<'a> {
    pub layout: &'a Layout,
    pub judgement: &'a Judgement,
    pub now: Standing,
    undriven: Standing,
    stop: &'a dyn Fn() -> bool,
    known: Vec<(Vec<Edit>, Option<Arc<Judged>>)>,
    driven: usize,
}

/// The search was told to stop.
pub(super) struct Stopped;

impl<'a> Bench<'a> {
    pub(super) fn new(layout: &'a Layout, judgement: &'a Judgement, stop: &'a dyn Fn() -> bool) -> Bench<'a> {
        Bench {
            layout,
            judgement,
            now: Standing::of(judgement),
            undriven: Standing::but_the_way(judgement),
            stop,
            known: Vec::new(),
            driven: 0,
        }
    }

    /// The whole job judged after some changes; none where they cannot be made, or enough were tried.
    pub(super) fn judge(&mut self, edits: &[Edit]) -> Result<Option<Arc<Judged>>, Stopped> {
        if let Some((_, known)) = self.known.iter().find(|(e, _)| e == edits) {
            return Ok(known.clone());
        }
        if (self.stop)() {
            return Err(Stopped);
        }
        if self.known.len() >= MOST {
            return Ok(None);
        }
        let judged = match self.after(edits) {
            Some(layout) => self.judge_layout(&layout)?.map(Arc::new),
            None => None,
        };
        self.known.push((edits.to_vec(), judged.clone()));
        Ok(judged)
    }

    fn after(&self, edits: &[Edit]) -> Option<Layout> {
        let mut bundle = self.layout.bundle.clone();
        let mut stance = self.layout.stance;
        let mut only_moved = true;
        for edit in edits {
            bundle = edit.apply(&bundle).ok()?;
            match edit {
                Edit::Stand { x, y, heading, .. } => stance = Stance { x: *x, y: *y, heading: *heading },
                _ => only_moved = false,
            }
        }
        if only_moved {
            return Some(self.layout.at(stance));
        }
        Some(Layout::new(&bundle).ok()?.at(stance))
    }

    fn judge_layout(&mut self, layout: &Layout) -> Result<Option<Judged>, Stopped> {
        let mut judgement = check_driven(layout, None);
        let mut undriven = layout.bundle.job.drive_in;
        if undriven && self.driven < MOST_DRIVEN && self.may_better(&judgement) {
            self.driven += 1;
            match drive_in(layout, self.stop) {
                Some(driven) => judgement = check_driven(layout, Some(&driven)),
                None => return Err(Stopped),
            }
            undriven = false;
        }
        let standing = Standing::of(&judgement);
        Ok(Some(Judged { stance: layout.stance, judgement, standing, undriven }))
    }

    /// Whether it may turn out better, the way in being what is not known yet.
    fn may_better(&self, judgement: &Judgement) -> bool {
        let there = Standing::but_the_way(judgement);
        there.betters(&self.undriven)
            || there.rank() >= self.undriven.rank() && there.unknown <= self.undriven.unknown
    }

    /// Whether the job is better after a trial: how it stands, and no finding that a person accepted has become worse.
    pub(super) fn is_better(&self, there: &Judged) -> bool {
        let worse = |f: &Finding| {
            f.outcome == Outcome::Accepted
                && self.before(f).is_none_or(|b| match (b.margin, f.margin) {
                    (Some(before), Some(then)) => then < before - NOISE_MM,
                    _ => false,
                })
        };
        !there.undriven && there.standing.betters(&self.now) && !there.judgement.findings.iter().any(worse)
    }

    /// The same finding as the job has it now.
    pub(super) fn before(&self, finding: &Finding) -> Option<&Finding> {
        self.judgement.findings.iter().find(|f| is_same(f, finding))
    }

    /// What was tried, as it came out.
    pub(super) fn tried(&self, edits: Vec<Edit>, there: &Judged, given_up: f64) -> Tried {
        Tried {
            edits,
            from: self.layout.stance,
            to: there.stance,
            now: self.now,
            then: there.standing,
            decides: there.judgement.decisive().cloned(),
            given_up,
        }
    }
}

/// Whether two findings are about the same things of the same setup.
pub(super) fn is_same(a: &Finding, b: &Finding) -> bool {
    a.rule == b.rule && a.setup == b.setup && a.procedure == b.procedure && a.items == b.items
}

/// The change that puts the vehicle somewhere.
pub(super) fn stand(to: Stance) -> Edit {
    Edit::Stand { x: to.x, y: to.y, heading: to.heading, how: Motion::Move }
}
