//! The panels round the plan.

mod advised;
pub mod findings;
pub mod job;
pub mod siting;
pub mod verdict_bar;
