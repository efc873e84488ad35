//! The one step that helps the whole job most.

use std::cmp::Ordering;

use super::cards;
use super::round::settle;
use super::trial::{Bench, Stopped, Tried};
use crate::checks::{Finding, Outcome, Verdict};
use crate::edit::Edit;
use crate::layout::Stance;
use crate::siting::{Change, Openings};

/// Own moves of so many findings, the worst first, are tried for the whole job too.
const WORST: usize = 8;
/// Things and doors tried at most, each alone.
const EACH: usize = 12;

/// Tries the places and changes siting knows, the moves of the worst findings, each movable thing that is in the way cleared
/// and each door opened; `None` when told to stop.
pub(super) fn best(bench: &mut Bench, openings: Option<&Openings>) -> Option<Option<Tried>> {
    tried(bench, openings).ok()
}

fn tried(bench: &mut Bench, openings: Option<&Openings>) -> Result<Option<Tried>, Stopped> {
    let mut best = Best::default();
    match bench.now.verdict {
        Verdict::Fits | Verdict::NotKnown => return Ok(None),
        Verdict::FitsIf => {}
        Verdict::DoesNotFit => {
            if let Some(openings) = openings {
                places(bench, openings, &mut best)?;
            }
            for finding in worst(bench, Outcome::Fail) {
                if let Some(to) = cards::cure(bench, &finding) {
                    best.place(bench, &[], to)?;
                }
            }
            let doors = bench.layout.bundle.bay.doorways.iter();
            let shut = doors.filter(|d| !bench.layout.bundle.job.doors_open.contains(&d.name));
            let open: Vec<Edit> =
                shut.take(EACH).map(|d| Edit::Door { name: d.name.clone(), open: true }).collect();
            for edit in open {
                best.offer(bench, vec![edit])?;
            }
        }
    }
    for finding in worst(bench, Outcome::Movable) {
        if let Some(edits) = cards::clearing(bench.layout, &finding) {
            best.offer(bench, edits)?;
        }
    }
    Ok(best.0)
}

fn places(bench: &mut Bench, openings: &Openings, best: &mut Best) -> Result<(), Stopped> {
    for place in &openings.places {
        best.place(bench, &[], place.stance)?;
    }
    for change in openings.changes.iter().take(EACH) {
        let Some(place) = change.place else { continue };
        let edit = match &change.change {
            Change::Clear(name) => Edit::Clear { name: (&**name).into(), away: true },
            Change::Open(name) => Edit::Door { name: (&**name).into(), open: true },
            Change::UseBay(file, bay) => Edit::ChooseBay { file: file.as_str().into(), bay: bay.clone() },
            Change::TurnRound => {
                best.place(bench, &[], place.stance)?;
                continue;
            }
            // several places one after the other: siting tells them
            Change::Move(_) => continue,
        };
        best.place(bench, &[edit], place.stance)?;
    }
    Ok(())
}

/// Findings of one outcome, the least margin first; what has no length comes first of all.
fn worst(bench: &Bench, outcome: Outcome) -> Vec<Finding> {
    let mut found: Vec<&Finding> = bench.judgement.findings.iter().filter(|f| f.outcome == outcome).collect();
    let margin = |f: &Finding| f.margin.unwrap_or(f64::NEG_INFINITY);
    found.sort_by(|a, b| margin(a).total_cmp(&margin(b)));
    found.into_iter().take(WORST).cloned().collect()
}

/// The best that was tried so far.
#[derive(Default)]
struct Best(Option<Tried>);

impl Best {
    fn place(&mut self, bench: &mut Bench, before: &[Edit], exact: Stance) -> Result<(), Stopped> {
        if let Some(settled) = settle(bench, before, exact, &|_| true)?
            && bench.is_better(&settled.judged)
        {
            let tried = bench.tried(settled.edits, &settled.judged, settled.given_up);
            self.take(tried);
        }
        Ok(())
    }

    fn offer(&mut self, bench: &mut Bench, edits: Vec<Edit>) -> Result<(), Stopped> {
        if let Some(there) = bench.judge(&edits)?
            && bench.is_better(&there)
        {
            let tried = bench.tried(edits, &there, 0.0);
            self.take(tried);
        }
        Ok(())
    }

    fn take(&mut self, tried: Tried) {
        let better = self.0.as_ref().is_none_or(|best| {
            let simpler = best.steps().cmp(&tried.steps());
            tried.then.rather(simpler, &best.then) == Ordering::Greater
        });
        if better {
            self.0 = Some(tried);
        }
    }
}
