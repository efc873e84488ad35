//! Baywright: does this bay, this vehicle and this procedure go together?
//!
//! The rooms, from the ground up; a room uses only rooms below it (`tests/architecture/main.rs` owns the table).

/// Tests that are shared with those outside name it as they do.
#[cfg(test)]
extern crate self as baywright;

pub mod units;

#[cfg(test)]
mod seeds;

pub mod geometry;
pub mod phrases;
pub mod syntax;

pub mod model;

pub mod edit;
pub mod files;

pub mod layout;

pub mod driving;

pub mod checks;

pub mod siting;

pub mod advice;

pub mod report;
pub mod scene;

pub mod paint;

#[cfg(feature = "gui")]
pub mod app;
pub mod cli;
