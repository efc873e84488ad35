//! Points of the screen, of the plan's page and of the bay.

use egui::{Rect, vec2};

use crate::geometry::P2;
use crate::paint::View;

/// A point of the screen on the plan's page.
pub(super) fn page(rect: Rect, at: egui::Pos2) -> [f32; 2] {
    let at = at - rect.min;
    [at.x, at.y]
}

/// A bay point on the screen.
pub(super) fn on_screen(rect: Rect, view: &View, p: P2) -> egui::Pos2 {
    let [x, y] = view.to_page(p);
    rect.min + vec2(x, y)
}
