//! The plan.
