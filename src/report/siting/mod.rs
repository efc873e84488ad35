//! The answer to "where can the vehicle stand": sentences, the page of text and the JSON.

mod json;
mod page;
mod words;

pub use json::json;
pub use page::{page, setup_name};
pub use words::{between, change, floor, headline, place, shortfall, to_do, turn, unread};

use crate::phrases::Phrase;

/// Everything said here.
pub const PHRASES: [&[Phrase]; 2] = [words::PHRASES, page::PHRASES];
