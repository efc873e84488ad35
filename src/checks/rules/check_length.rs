//! The lengths printed beside a procedure agree with its geometry.

use super::{Competes, Decimals, InCurve, Page, Policy, Rule, RuleId, Wording};
use crate::checks::figures::{Asks, Figures};
use crate::checks::finding::{Finding, Outcome, Unit};
use crate::checks::note::Note;
use crate::checks::pairs::Cx;
use crate::checks::wording::{all_of, item};
use crate::layout::lengths::{at, between};
use crate::layout::{Known, Layout, Setup, both};
use crate::model::further::CheckLength;
use crate::model::{Item, ItemKind, Name};
use crate::phrases::{Say, phrases, say};

/// Printed lengths are rounded, and read off a tape: agreement to this much counts, mm.
pub(super) const READ: f64 = 1.0;

phrases! { in "check-length";
    TOLD = "printed {need}, comes out as {have}";
    CORNER_OFF = "the corner {marks} is {off} off a right angle";
    CORNER_RIGHT = "the corner {marks} is a right angle";
    APART = "{a}-{b} and {c}-{d} come out {off} apart and should be equal";
    EQUAL = "{a}-{b} and {c}-{d} are equal at {have}";
    OFF = "check length {marks} comes out as {have}, printed is {need}";
    AS_PRINTED = "check length {marks} comes out as {have}";
    /// Between marks, as a length is named.
    DASH = "-";
}

pub(super) const RULE: Rule = Rule {
    id: RuleId::CheckLength,
    page: Page {
        title: "Printed check lengths",
        checks: "The lengths and angles the procedure prints to check a set-out by are the ones its own geometry gives on this vehicle.",
        matters: "A check length that cannot come out means a figure typed wrong, the wrong variant, or the wrong vehicle; better found here than with a tape on the floor.",
        measured: "The distance between the marks against the printed figure; 1 mm either way is allowed for rounding. Equal lengths: their difference. A right angle: how far the end of its shorter side is off.",
        remedy: "Check the procedure's figures, the variant and the vehicle's wheelbase and track against the maker's text.",
        source: "`checks` of the procedure file; 1 mm is what a printed millimetre and a tape can be read to (common practice, no source).",
    },
    policy: Policy { competes: Competes::WhereItFails, curve: InCurve::NoRoom, ..Policy::PLAIN },
    wording: Wording {
        asks: |_| Asks::Told,
        decimals: Decimals::Tenths,
        told: Some(TOLD),
        title_tells: true,
        ..Wording::titled(title)
    },
    phrases: PHRASES,
    about: &[&[ItemKind::Mark]],
    run,
    pairs: None,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    for (s, setup) in cx.layout.setups.iter().enumerate() {
        let values = cx.layout.values(setup.procedure);
        for check in &setup.def.checks {
            let (items, result) = match check {
                CheckLength::Length(a, b, mm) => (marks([a, b]), both(between(setup, a, b), values.of(mm))),
                CheckLength::Same(p, q) => (
                    marks([&p.0, &p.1, &q.0, &q.1]),
                    both(between(setup, &p.0, &p.1), between(setup, &q.0, &q.1)),
                ),
                CheckLength::Loop(round, mm) => {
                    (marks(round.iter()), both(loop_length(setup, round), values.of(mm)))
                }
                CheckLength::Right(a, b, c) => (marks([a, b, c]), corner(setup, a, b, c)),
            };
            let mut finding = match result {
                Ok((have, need)) => {
                    let margin = READ - (have - need).abs();
                    Finding {
                        have: Some(have),
                        need: Some(need),
                        margin: Some(margin),
                        ..Finding::new(
                            RuleId::CheckLength,
                            if margin < 0.0 { Outcome::Fail } else { Outcome::Pass },
                        )
                    }
                }
                Err(missing) => {
                    Finding { missing: missing.0, ..Finding::new(RuleId::CheckLength, Outcome::Unknown) }
                }
            };
            finding.note = match check {
                _ if finding.outcome == Outcome::Unknown => None,
                CheckLength::Right(..) => Some(Note::OffRightAngle),
                CheckLength::Same(..) => Some(Note::EqualLengths),
                CheckLength::Length(..) | CheckLength::Loop(..) => None,
            };
            finding.unit = Unit::Mm;
            finding.procedure = Some(setup.procedure);
            finding.setup = Some(s);
            finding.items = items;
            out.push(finding);
        }
    }
}

fn marks<'a>(list: impl IntoIterator<Item = &'a Name>) -> Vec<Item> {
    list.into_iter().map(|n| Item::new(ItemKind::Mark, n.text.clone())).collect()
}

fn loop_length(setup: &Setup, round: &[Name]) -> Known<f64> {
    let mut sum = Ok(0.0);
    for (a, b) in round.iter().zip(round.iter().cycle().skip(1)) {
        sum = both(sum, between(setup, a, b)).map(|(s, d)| s + d);
    }
    sum
}

/// How far, mm, the end of the shorter leg is off the square to the other; wanted is nothing.
fn corner(setup: &Setup, a: &Name, b: &Name, c: &Name) -> Known<(f64, f64)> {
    let ((a, b), c) = both(both(at(setup, a), at(setup, b)), at(setup, c))?;
    let (p, q) = (a - b, c - b);
    let longer = p.norm().max(q.norm());
    let off = if longer > 0.0 { p.dot(&q).abs() / longer } else { f64::INFINITY };
    Ok((off, 0.0))
}

fn title(finding: &Finding, _: &Layout, say: Say) -> String {
    let marks = all_of(&finding.items, DASH, say);
    let figures = Figures::of(finding, say.show);
    let (have, off) = (figures.have(), figures.apart());
    let fails = finding.outcome == Outcome::Fail;
    let phrase = match finding.note {
        Some(Note::OffRightAngle) if fails => CORNER_OFF,
        Some(Note::OffRightAngle) => CORNER_RIGHT,
        Some(Note::EqualLengths) if fails => APART,
        Some(Note::EqualLengths) => EQUAL,
        _ if fails => OFF,
        _ => AS_PRINTED,
    };
    let [a, b, c, d] = [0, 1, 2, 3].map(|i| item(finding, i, say));
    say!(say, phrase, marks, off, have, need = figures.need(), a, b, c, d)
}
