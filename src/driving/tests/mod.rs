//! Turning against published design vehicles, ways against bays made by hand.

mod asking;
mod bays;
mod radii;
mod room;
mod tracks;
