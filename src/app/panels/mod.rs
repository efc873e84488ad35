//! The panels round the plan.

mod advised;
pub(super) mod bay;
pub(super) mod findings;
pub(super) mod job;
pub(super) mod side;
pub(super) mod siting;
pub(super) mod verdict_bar;
pub(super) mod workshop;
