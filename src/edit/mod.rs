//! Changing a job: every change is an [`Edit`], applied at one place, and every change can be undone.

mod apply;
mod change;
mod document;
mod keep;
mod shop;

pub use change::{Edit, Motion};
pub use document::{Document, Step};
pub use keep::dropped;
pub use shop::ShopFigure;

#[cfg(test)]
mod tests;
