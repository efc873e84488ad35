//! The small parts every panel is made of.

pub mod combo;
pub mod icon;
pub mod number_field;
pub mod style;
pub mod switch;
pub mod text_field;
