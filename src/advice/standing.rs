//! How a judged job stands, and which of two stands better.

use std::cmp::Ordering;

use crate::checks::{Finding, Judgement, Outcome, RuleId, Verdict};
use crate::geometry::NOISE_MM;

/// A judgement in the few figures by which two are compared.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Standing {
    pub verdict: Verdict,
    /// The least margin over the findings that compete, mm.
    pub margin: Option<f64>,
    /// Findings that fail, those of movable things among them.
    pub failing: usize,
    /// Those of them that have no length to be less by: a blocked sight, a piece too few.
    pub unmeasured: usize,
    pub unknown: usize,
    pub conditions: usize,
    /// The least margin is that of a check length: no lack of room.
    pub lengths: bool,
    /// The least margin is that of the floor's limit: no room either.
    pub limit: bool,
}

/// A margin that grows by less is no gain, mm.
const GAIN_MM: f64 = 1.0;

impl Standing {
    pub fn of(judgement: &Judgement) -> Standing {
        Standing::counted(judgement, judgement.verdict, judgement.conditions.len(), |_| true)
    }

    /// The same as if the way in were not asked for: for a look before it is driven.
    pub fn but_the_way(judgement: &Judgement) -> Standing {
        let counts = |f: &&Finding| f.rule != RuleId::DriveIn;
        let any = |outcome| judgement.findings.iter().filter(counts).any(|f| f.outcome == outcome);
        let verdict = if any(Outcome::Fail) {
            Verdict::DoesNotFit
        } else if any(Outcome::Unknown) {
            Verdict::NotKnown
        } else if judgement.conditions.is_empty() {
            Verdict::Fits
        } else {
            Verdict::FitsIf
        };
        Standing::counted(judgement, verdict, judgement.conditions.len(), |f| counts(&f))
    }

    fn counted(
        judgement: &Judgement,
        verdict: Verdict,
        conditions: usize,
        counts: impl Fn(&Finding) -> bool,
    ) -> Standing {
        let mut standing = Standing {
            verdict,
            margin: None,
            failing: 0,
            unmeasured: 0,
            unknown: 0,
            conditions,
            lengths: false,
            limit: false,
        };
        for f in judgement.findings.iter().filter(|f| counts(f)) {
            let measured = f.margin.filter(|_| f.competes());
            if let Some(margin) = measured.filter(|m| standing.margin.is_none_or(|least| *m < least)) {
                standing.margin = Some(margin);
                standing.lengths = f.rule == RuleId::CheckLength;
                standing.limit = f.rule == RuleId::Level;
            }
            match f.outcome {
                Outcome::Fail | Outcome::Movable => {
                    standing.failing += 1;
                    standing.unmeasured += usize::from(measured.is_none());
                }
                Outcome::Unknown => standing.unknown += 1,
                _ => {}
            }
        }
        standing
    }

    /// From does not fit, over not known and fits on conditions, to fits.
    pub fn rank(&self) -> u8 {
        match self.verdict {
            Verdict::DoesNotFit => 0,
            Verdict::NotKnown => 1,
            Verdict::FitsIf => 2,
            Verdict::Fits => 3,
        }
    }

    /// What is least; a job with nothing to measure has all the room there is.
    fn least(&self) -> f64 {
        self.margin.unwrap_or(f64::INFINITY)
    }

    /// Whether this stands better than `other`. Nothing more may be unknown. Then a better verdict is better. Under the same
    /// verdict nothing may be worse (the least margin smaller, more failures without a length) and something must be better: less
    /// short by a millimetre at least, fewer failures without a length, less unknown, or fewer failures.
    pub fn betters(&self, other: &Standing) -> bool {
        if self.unknown > other.unknown {
            return false;
        }
        match self.rank().cmp(&other.rank()) {
            Ordering::Less => false,
            Ordering::Greater => true,
            Ordering::Equal => {
                let (mine, theirs) = (self.least(), other.least());
                if mine < theirs - NOISE_MM || self.unmeasured > other.unmeasured {
                    return false;
                }
                theirs < 0.0 && mine.min(0.0) - theirs >= GAIN_MM
                    || self.unmeasured < other.unmeasured
                    || self.unknown < other.unknown
                    || self.failing < other.failing
            }
        }
    }

    /// Whether a place beside this one, in whole figures, is as good: the same verdict and failures, and of what there is to
    /// spare no more than half given up; where there is nothing to spare, nothing.
    pub fn allows(&self, beside: &Standing) -> bool {
        let same = |s: &Standing| (s.rank(), s.failing, s.unmeasured, s.unknown, s.conditions);
        let (exact, whole) = (self.least(), beside.least());
        same(self) == same(beside) && (whole >= exact - NOISE_MM || exact > 0.0 && whole >= exact / 2.0)
    }

    /// Which of two to rather do: the better verdict; of two that fit, less to be moved, `simpler` and then more to spare;
    /// of two that do not, less that fails beyond measure, less short, then fewer failures and `simpler`.
    pub fn rather(&self, simpler: Ordering, other: &Standing) -> Ordering {
        let verdict = self.rank().cmp(&other.rank());
        let margin = self.least().total_cmp(&other.least());
        let failing = other.failing.cmp(&self.failing);
        if self.rank() > 0 {
            return verdict.then(failing).then(simpler).then(margin);
        }
        let unmeasured = other.unmeasured.cmp(&self.unmeasured);
        verdict.then(unmeasured).then(margin).then(failing).then(simpler)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SHORT: Standing = Standing {
        verdict: Verdict::DoesNotFit,
        margin: Some(-115.0),
        failing: 2,
        unmeasured: 0,
        unknown: 1,
        conditions: 0,
        lengths: false,
        limit: false,
    };

    #[test]
    fn the_verdict_goes_before_the_figure_and_nothing_may_get_worse() {
        let fits = Standing { verdict: Verdict::Fits, margin: Some(0.0), failing: 0, unknown: 0, ..SHORT };
        for (better, than, is) in [
            (fits, SHORT, true),
            (SHORT, fits, false),
            (Standing { margin: Some(-114.0), ..SHORT }, SHORT, true),
            (Standing { margin: Some(-114.5), ..SHORT }, SHORT, false),
            (Standing { margin: Some(-20.0), failing: 4, ..SHORT }, SHORT, true),
            (Standing { margin: Some(-20.0), unmeasured: 1, ..SHORT }, SHORT, false),
            (Standing { margin: Some(-20.0), unknown: 2, ..SHORT }, SHORT, false),
            // a place of which less is known is no way out
            (Standing { verdict: Verdict::NotKnown, unknown: 2, ..SHORT }, SHORT, false),
            (Standing { failing: 1, ..SHORT }, SHORT, true),
            (Standing { failing: 1, margin: Some(-116.0), ..SHORT }, SHORT, false),
            (SHORT, SHORT, false),
            // more room where room is not what lacks
            (
                Standing { margin: Some(600.0), unmeasured: 1, ..SHORT },
                Standing { margin: Some(10.0), unmeasured: 1, ..SHORT },
                false,
            ),
        ] {
            assert_eq!(better.betters(&than), is, "{better:?} than {than:?}");
        }
    }

    #[test]
    fn whole_figures_cost_at_most_half_of_what_is_spare() {
        let fits = Standing { verdict: Verdict::Fits, margin: Some(8.0), failing: 0, unknown: 0, ..SHORT };
        let at = |mm: f64| Standing { margin: Some(mm), ..fits };
        assert!(fits.allows(&at(4.0)) && !fits.allows(&at(3.9)));
        assert!(at(0.0).allows(&at(0.0)) && !at(0.0).allows(&at(-0.1)));
        assert!(!SHORT.allows(&Standing { margin: Some(-115.5), ..SHORT }));
    }
}
