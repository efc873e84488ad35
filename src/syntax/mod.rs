//! The text of a RON file as a tree that loses nothing, and changes of it as patches.
//!
//! The tree is a view of the text: every part knows its place, and what lies between parts (blanks, comments) is still in
//! the text. Building one never fails; what cannot be understood is a fault with its place, and the rest is read on. A
//! [`Patch`] replaces one stretch of the text, so that everything it does not touch stays as it was, to the byte.
//! Nothing here knows what a file describes.

mod build;
mod lay_out;
mod merge;
mod number;
mod patch;
mod path;
mod text;
mod token;
mod tree;

use crate::units::printable;
pub use lay_out::lay_out;
pub use merge::merge;
pub use number::number;
pub use patch::{Patch, apply};
pub use path::Step;
pub use text::{quote, unquote};

pub use tree::{Entry, Id, Kind, SyntaxFault, Tree};

/// What stands in a text, shortened for a message.
pub fn shown(text: &str) -> String {
    let line = text.lines().next().unwrap_or("").trim();
    if line.is_empty() {
        return "nothing".into();
    }
    let short: String = line.chars().take(40).collect();
    let cut = if short.len() < text.trim().len() { "..." } else { "" };
    printable(&short).into_owned() + cut
}

#[cfg(test)]
mod tests;
