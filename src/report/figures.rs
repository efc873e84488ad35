//! The figures of a verdict: the least margin in words.

pub use crate::checks::figures::{Figures, Show};

use crate::checks::{Finding, Judgement};
use crate::phrases::{Say, phrases, say};

phrases! { pub in "margin";
    TO_SPARE = "{left} to spare";
    SHORT = "{short} short";
    WITHIN = "{what} within its limit by {left}";
    PAST = "{what} is {short} past its limit";
    BOTH = "{room}, {limit}";
}

/// The least margin in words: what is left of a tolerance is no room, and is told beside the room there is.
pub fn least(judgement: &Judgement, say: Say) -> Option<String> {
    let finding = judgement.binding.and_then(|i| judgement.findings.get(i))?;
    let limit = |f: &Finding| Figures::of(f, say.show).is_limit();
    let told = amount(finding, say);
    if !limit(finding) || finding.margin.is_some_and(|m| m < 0.0) {
        return Some(told);
    }
    let room = judgement.findings.iter().filter(|f| f.competes() && !limit(f));
    let room = room.min_by(|a, b| a.margin.unwrap_or(0.0).total_cmp(&b.margin.unwrap_or(0.0)));
    Some(room.map_or_else(|| told.clone(), |f| say!(say, BOTH, room = amount(f, say), limit = told)))
}

/// What is left or short of one finding: "550 mm to spare", "60 mm short", "the floor within its limit by 1.3 mm".
pub fn amount(finding: &Finding, say: Say) -> String {
    let figures = Figures::of(finding, say.show);
    let what = say.word(finding.rule.rule().wording.limited);
    let (left, short_by) = (figures.left(), figures.short());
    let short = finding.margin.is_some_and(|m| m < 0.0);
    match (figures.is_limit(), short) {
        (false, false) => say!(say, TO_SPARE, left),
        (false, true) => say!(say, SHORT, short = short_by),
        (true, false) => say!(say, WITHIN, what, left),
        (true, true) => say!(say, PAST, what, short = short_by),
    }
}
