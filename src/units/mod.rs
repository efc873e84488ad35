//! Lengths and angles: the units of every figure, and how people write them.
