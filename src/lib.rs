//! Baywright.

pub mod geometry;
pub mod units;
