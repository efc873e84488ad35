//! The plan in the middle, and what lies under it.

mod bay_edit;
pub(super) mod bottom;
pub(super) mod canvas;
mod drag;
mod legend;
mod nudge;
mod over;
mod pick_finding;
mod screen_position;
mod section_line;
mod sensor_inset;
mod status_bar;
mod tape_tool;
