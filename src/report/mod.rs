//! What to say: findings as sentences, the verdict, the page of text and the JSON. Neutral: no colours, no window.

pub mod advice;
pub mod corners;
pub mod figures;
mod floor;
mod floor_text;
pub mod json;
pub mod label;
mod moves;
pub mod plan;
pub mod setting;
pub mod siting;
#[cfg(test)]
mod tests;
pub mod text;
mod way_in;
pub mod words;
mod wrap;

pub use crate::phrases::Say;
pub use figures::Show;
pub use floor_text::lines as floor_lines;
pub use text::cautions;
pub use wrap::wrap;

use crate::checks::{RULES, usual_phrases};
use crate::phrases::Phrase;

/// Everything that page, JSON and plan say: what a table of another language holds.
pub fn phrases() -> Vec<Phrase> {
    let own = [
        words::PHRASES,
        figures::PHRASES,
        label::PHRASES,
        text::PHRASES,
        advice::PHRASES,
        corners::PHRASES,
        floor_text::PHRASES,
        setting::PHRASES,
        plan::PHRASES,
    ];
    let rules = RULES.iter().flat_map(|r| r.says());
    rules.chain(usual_phrases()).chain(own.into_iter().chain(siting::PHRASES).flatten().copied()).collect()
}
