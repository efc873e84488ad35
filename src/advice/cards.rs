//! The own move of each finding: what it does for that finding, and for the rest of the job.

use super::Own;
use super::round::settle;
use super::trial::{Bench, Judged, Stopped, is_same};
use crate::checks::{Finding, Outcome, RuleId, Unit};
use crate::edit::Edit;
use crate::geometry::NOISE_MM;
use crate::layout::{Layout, Stance};

/// Tries the own move of every finding that fails, the worst first; `None` when told to stop.
pub(super) fn each(bench: &mut Bench) -> Option<Vec<Option<Own>>> {
    let findings = &bench.judgement.findings;
    let mut own = vec![None; findings.len()];
    let mut order: Vec<usize> = (0..findings.len()).filter(|i| fails(&findings[*i])).collect();
    let margin = |i: &usize| findings[*i].margin.unwrap_or(f64::INFINITY);
    order.sort_by(|a, b| margin(a).total_cmp(&margin(b)));
    for i in order {
        own[i] = of(bench, &findings[i]).ok()?;
    }
    Some(own)
}

fn of(bench: &mut Bench, finding: &Finding) -> Result<Option<Own>, Stopped> {
    let cures = |there: &Judged| !there.judgement.findings.iter().any(|f| fails(f) && is_same(f, finding));
    if finding.outcome == Outcome::Movable {
        let Some(edits) = clearing(bench.layout, finding) else { return Ok(None) };
        let Some(there) = bench.judge(&edits)?.filter(|t| cures(t)) else { return Ok(None) };
        return Ok(own(bench, edits, &there, 0.0));
    }
    let Some(to) = cure(bench, finding) else { return Ok(None) };
    match settle(bench, &[], to, &cures)? {
        Some(settled) => Ok(own(bench, settled.edits, &settled.judged, settled.given_up)),
        None => Ok(None),
    }
}

fn own(bench: &Bench, edits: Vec<Edit>, there: &Judged, given_up: f64) -> Option<Own> {
    let tried = bench.tried(edits, there, given_up);
    let (offered, spoils) = (bench.is_better(there), spoilt(bench, there).cloned());
    (offered || spoils.is_some()).then_some(Own { tried, offered, spoils })
}

/// The worst of what fails, is accepted, or is not known after a trial and was better before it.
fn spoilt<'a>(bench: &Bench, there: &'a Judged) -> Option<&'a Finding> {
    let margin = |f: &Finding| f.margin.unwrap_or(f64::NEG_INFINITY);
    let worse = |f: &&Finding| {
        let before = bench.before(f);
        match f.outcome {
            Outcome::Fail | Outcome::Movable | Outcome::Accepted => {
                before.is_none_or(|b| margin(b) > margin(f) + NOISE_MM || !fails(b) && fails(f))
            }
            // where the way was not driven, that is all that is not known of it
            Outcome::Unknown if f.rule == RuleId::DriveIn => false,
            Outcome::Unknown => before.is_none_or(|b| b.outcome != Outcome::Unknown),
            _ => false,
        }
    };
    let order = |f: &Finding| (f.outcome != Outcome::Fail, margin(f));
    let found = there.judgement.findings.iter().filter(worse);
    found.min_by(|a, b| order(a).0.cmp(&order(b).0).then(order(a).1.total_cmp(&order(b).1)))
}

fn fails(f: &Finding) -> bool {
    matches!(f.outcome, Outcome::Fail | Outcome::Movable)
}

/// Where the vehicle would have to stand so that this finding alone is just cured.
pub(super) fn cure(bench: &Bench, finding: &Finding) -> Option<Stance> {
    let now = bench.layout.stance;
    if finding.rule == RuleId::FixedPlace {
        if finding.unit == Unit::Deg {
            return Some(Stance { heading: now.heading + finding.have?, ..now });
        }
        let (at, wanted) = finding.witness?;
        let shift = wanted - at;
        return Some(Stance { x: now.x + shift.x, y: now.y + shift.y, ..now });
    }
    let shift = finding.rule.rule().policy.moves_help.then(|| finding.shift()).flatten()?;
    Some(Stance { x: now.x + shift.x, y: now.y + shift.y, ..now })
}

/// Clearing every movable thing a finding names.
pub(super) fn clearing(layout: &Layout, finding: &Finding) -> Option<Vec<Edit>> {
    let things = layout.stage.things.iter().filter(|t| t.movable);
    let named = things
        .filter(|t| finding.items.iter().any(|i| i.by_ref() == t.item()) || finding.moves.contains(&t.name));
    let edits: Vec<Edit> = named.map(|t| Edit::Clear { name: (&*t.name).into(), away: true }).collect();
    (!edits.is_empty()).then_some(edits)
}
