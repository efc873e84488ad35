//! The rules. One rule, one file; [`check`] runs them all over a layout and gives the verdict.
//!
//! The same function answers while the vehicle is dragged and when the job is printed.

pub mod finding;
pub mod halo;
pub mod pairs;
pub mod rules;
mod verdict;
mod ways;

pub use finding::{Finding, Judgement, Outcome, Unit, Verdict, WayTaken};
pub use rules::{Page, RULES, Rule, RuleId, level_map, level_margin};
pub use verdict::{check, check_driven};
