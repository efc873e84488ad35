//! Baywright.

pub mod geometry;
