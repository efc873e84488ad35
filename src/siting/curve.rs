//! Stub
pub struct Curve;
pub enum Direction { Along }
pub fn curve() {}
