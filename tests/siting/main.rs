//! Where the vehicle can stand: cases worked by hand, random bays against a slow exact method, and the rules
//! themselves at poses inside and outside the regions found.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a test stops where it fails, and a bench prints"
)]

mod advice;
mod advice_driven;
mod bays;
mod beside;
mod even;
mod hand;
mod lift;
mod near;
mod notched;
mod posts;
#[allow(dead_code, reason = "shared with the tests of the command line")]
#[path = "../common/program.rs"]
mod program;
mod rough;
mod slow;
mod trade;
mod walls;

/// What binds, in words.
pub fn told(between: &baywright::siting::Between) -> String {
    baywright::report::siting::between(between, baywright::report::Say::PLAIN)
}
