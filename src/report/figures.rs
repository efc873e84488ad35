//! The figures of a verdict: the least margin in words.

pub use crate::checks::figures::{Figures, Show};

use crate::checks::{Finding, Judgement};

/// The least margin in words: what is left of a tolerance is no room, and is told beside the room there is.
pub fn least(judgement: &Judgement, show: Show) -> Option<String> {
    let finding = judgement.binding.and_then(|i| judgement.findings.get(i))?;
    let limit = |f: &Finding| Figures::of(f, show).is_limit();
    let told = amount(finding, show);
    if !limit(finding) || finding.margin.is_some_and(|m| m < 0.0) {
        return Some(told);
    }
    let room = judgement.findings.iter().filter(|f| f.competes() && !limit(f));
    let room = room.min_by(|a, b| a.margin.unwrap_or(0.0).total_cmp(&b.margin.unwrap_or(0.0)));
    Some(room.map_or_else(|| told.clone(), |f| format!("{}, {told}", amount(f, show))))
}

/// What is left or short of one finding: "550 mm to spare", "60 mm short", "the floor within its limit by 1.3 mm".
pub fn amount(finding: &Finding, show: Show) -> String {
    let figures = Figures::of(finding, show);
    let what = finding.rule.rule().wording.limited;
    let short = finding.margin.is_some_and(|m| m < 0.0);
    match (figures.is_limit(), short) {
        (false, false) => format!("{} to spare", figures.left()),
        (false, true) => format!("{} short", figures.short()),
        (true, false) => format!("{what} within its limit by {}", figures.left()),
        (true, true) => format!("{what} is {} past its limit", figures.short()),
    }
}
