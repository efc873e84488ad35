//! The small parts every panel is made of.

pub(super) mod combo;
pub(super) mod icon;
pub(super) mod number_field;
pub(super) mod style;
pub(super) mod switch;
pub(super) mod text_field;
