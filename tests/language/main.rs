//! The whole set-out language: procedures after published texts, each point firing and quiet, and bad input refused.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a test stops where it fails, and a bench prints"
)]

#[allow(dead_code)]
#[path = "../check/placements.rs"]
mod placements;
#[allow(dead_code)]
#[path = "../check/plane.rs"]
mod plane;
#[path = "../common/program.rs"]
mod program;

mod around;
mod bench;
mod earlier;
mod fixed;
mod lengths;
mod names;
mod nothing;
mod pieces;
mod readings;
mod refused;
mod rewritten;
mod sides;
mod teaches;
mod told;
mod ways;
