//! What to say: findings as sentences, the verdict, the page of text and the JSON. Neutral: no colours, no window.

pub mod advice;
pub mod corners;
pub mod figures;
mod floor;
mod floor_text;
pub mod json;
pub mod label;
mod moves;
pub mod setting;
pub mod siting;
#[cfg(test)]
mod tests;
pub mod text;
mod way_in;
pub mod words;
mod wrap;

pub use figures::Show;
pub use floor_text::lines as floor_lines;
pub use wrap::wrap;

/// Printed with every answer.
pub const CAUTIONS: &[&str] = &[
    "Planning aid only: the vehicle maker's current procedure and local codes rule, and a qualified person decides.",
    "Chock the wheels and set the brake unless the procedure says otherwise.",
    "Do not look into a laser beam.",
    "High-voltage vehicles and lifts: only trained people, as their maker says.",
    "Keep exits and electrical working spaces free at all times.",
    "A good fit is not a calibration.",
];
