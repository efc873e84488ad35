//! Changing a job: every change is an [`Edit`], applied at one place, and every change can be undone.

// a new variant is met wherever it could matter
#![cfg_attr(not(test), warn(clippy::wildcard_enum_match_arm))]

mod apply;
pub mod bay;
mod change;
mod document;
mod history;
mod keep;
mod shop;
mod texts;

pub use change::{Edit, FileValue, Motion};
pub use document::{After, Document, Step};
pub use keep::dropped;
pub use shop::ShopFigure;

#[cfg(test)]
mod tests;
