//! What is said and drawn over the plan: names of what is pointed at, a legend, a compass, and the plan for the ear.

pub(super) mod compass;
pub(super) mod ear;
pub(super) mod signs;
pub(super) mod told;
