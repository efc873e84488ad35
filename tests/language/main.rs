//! The whole set-out language: procedures after published texts, each point firing and quiet, and bad input refused.

#![allow(clippy::expect_used, clippy::panic)]

#[allow(dead_code)]
#[path = "../check/placements.rs"]
mod placements;
#[allow(dead_code)]
#[path = "../check/plane.rs"]
mod plane;
#[path = "../common/program.rs"]
mod program;

mod bench;
mod earlier;
mod fixed;
mod lengths;
mod pieces;
mod readings;
mod refused;
mod rewritten;
mod sides;
mod teaches;
mod told;
mod ways;
