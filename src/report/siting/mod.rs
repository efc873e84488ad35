//! The answer to "where can the vehicle stand": sentences, the page of text and the JSON.

mod json;
mod page;
mod words;

pub use json::json;
pub use page::{page, setup_name};
pub use words::{change, floor, headline, place, shortfall, turn};
