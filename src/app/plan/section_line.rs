//! The line of a profile on the plan: its ends are taken hold of, a point of it is shown while the profile is pointed at.

use egui::{Align2, FontId, Pos2, Rect, Stroke, Ui, vec2};

use crate::app::plan::screen_position::{on_screen, page};
use crate::app::state::panel_context::PanelContext;
use crate::app::state::view_state::BottomPanel;
use crate::geometry::P2;
use crate::paint::View;
use crate::paint::screen::colour;

/// Radius of an end, points.
const END: f32 = 5.5;

/// The end that stays where the other is under the pointer.
pub(super) fn other_end(cx: PanelContext, rect: Rect, view: &View, at: Pos2) -> Option<P2> {
    let BottomPanel::Profile(a, b) = cx.view_state.bottom else { return None };
    let under = |p: P2| {
        let [x, y] = view.to_page(p);
        let [px, py] = page(rect, at);
        vec2(x - px, y - py).length() <= END + 4.0
    };
    if under(b) {
        Some(a)
    } else if under(a) {
        Some(b)
    } else {
        None
    }
}

/// Draws the line; `along`: how far from its start the profile is pointed at, mm.
pub(super) fn show(ui: &Ui, cx: PanelContext, rect: Rect, view: &View, along: Option<f64>) {
    let BottomPanel::Profile(a, b) = cx.view_state.bottom else { return };
    let painter = ui.painter().with_clip_rect(rect);
    let theme = &cx.theme.ui;
    let (tint, paper) = (colour(theme.accent), colour(theme.raised));
    let (from, to) = (on_screen(rect, view, a), on_screen(rect, view, b));
    painter.line_segment([from, to], Stroke::new(4.5, paper.gamma_multiply(0.8)));
    painter.line_segment([from, to], Stroke::new(2.0, tint));
    let way = (to - from).normalized();
    for (at, name, out) in [(from, "A", -way), (to, "B", way)] {
        painter.circle(at, END, paper, Stroke::new(2.0, tint));
        let galley = painter.layout_no_wrap(name.into(), FontId::proportional(13.0), tint);
        let named = |side: f32| Align2::CENTER_CENTER.anchor_size(at + out * side, galley.size());
        let place = if rect.contains_rect(named(15.0)) { named(15.0) } else { named(-15.0) };
        painter.rect_filled(place.expand2(vec2(3.0, 0.0)), 3.0, paper.gamma_multiply(0.85));
        painter.galley(place.min, galley, tint);
    }
    if let Some(mm) = along {
        let long = (b - a).norm();
        painter.circle_filled(on_screen(rect, view, a + (b - a) * (mm / long)), END - 1.0, tint);
    }
}
