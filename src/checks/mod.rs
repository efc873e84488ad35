//! The rules. One rule, one file; [`check`] runs them all over a layout and gives the verdict.
//!
//! The same function answers while the vehicle is dragged and when the job is printed.

// a new variant is met wherever it could matter
#![cfg_attr(not(test), warn(clippy::wildcard_enum_match_arm))]

pub mod acceptance;
pub mod figures;
pub mod finding;
pub mod halo;
mod note;
pub mod pairs;
mod rule;
pub mod rules;
mod verdict;
mod ways;
pub mod wording;

pub use crate::model::RuleId;
pub use finding::{Finding, Judgement, Outcome, Unit, Verdict, WayTaken};
pub use note::{Against, By, Condition, Drive, InVain, Lacks, Note, OffPlane, Ready, Remedy, Sun};
pub use rule::{Competes, InCurve, Judged, Page, Policy, Rule, Title, Wording};
pub use rules::{RULES, level_map, level_margin};
pub use verdict::{check, check_driven};

/// What rules share: everything said of findings, but for what each rule says of its own.
pub fn usual_phrases() -> impl Iterator<Item = crate::phrases::Phrase> {
    wording::PHRASES.iter().copied().chain([rule::PHRASES]).flatten().copied()
}
