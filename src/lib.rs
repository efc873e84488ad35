//! Baywright.
