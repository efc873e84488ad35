//! Baywright: does this bay, this vehicle and this procedure go together?

pub mod geometry;
pub mod model;
