//! Changing a job: every change is an [`Edit`], applied at one place, and every change can be undone.

mod apply;
mod change;
mod document;
mod keep;

pub use change::{Edit, Motion, ShopFigure};
pub use document::{Document, Step};

#[cfg(test)]
mod tests;
