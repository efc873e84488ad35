//! Which way the bay lies on the page: an arrow into the bay from where one looks in, and where its right side is.

use egui::{Align2, FontId, Pos2, Rect, Stroke, Ui, Vec2, pos2, vec2};

use crate::app::state::panel_context::PanelContext;
use crate::geometry::V2;
use crate::paint::View;
use crate::paint::screen::colour;

/// Side of the square the arrow takes, points.
const SIDE: f32 = 24.0;

/// Draws it in the line under the plan with its middle height at `left`, in words as far as there is `room` for them; gives
/// where it ends.
pub(in crate::app::plan) fn show(ui: &Ui, cx: PanelContext, view: &View, left: Pos2, room: f32) -> f32 {
    if room < SIDE {
        return left.x;
    }
    let painter = ui.painter();
    let theme = &cx.theme.ui;
    let (text, faint) = (colour(theme.text), colour(theme.faint));
    let way = |v: V2| -> Vec2 {
        let [x, y] = view.way_to_page(v);
        vec2(x, y).normalized()
    };
    let (inward, right) = (way(V2::new(0.0, 1.0)), way(V2::new(1.0, 0.0)));
    let middle = pos2(left.x + SIDE / 2.0, left.y);
    let (from, tip) = (middle - inward * 9.0, middle + inward * 9.0);
    let pen = Stroke::new(1.6, text);
    painter.line_segment([from, tip], pen);
    for side in [-1.0, 1.0] {
        painter.line_segment([tip, tip - inward * 5.0 + right * (side * 3.5)], pen);
    }
    // the doorway, across the arrow's foot
    painter.line_segment([from - right * 7.0, from + right * 7.0], Stroke::new(2.4, text));
    let mut end = left.x + SIDE;
    let galley = painter.layout_no_wrap(short(view).to_owned(), FontId::proportional(12.0), faint);
    if room > SIDE + 8.0 + galley.size().x {
        let at = pos2(end + 6.0, left.y);
        end = painter.text(at, Align2::LEFT_CENTER, short(view), FontId::proportional(12.0), faint).right();
    }
    let place = Rect::from_min_max(pos2(left.x, left.y - SIDE / 2.0), pos2(end, left.y + SIDE / 2.0));
    let response = ui.interact(place, egui::Id::unique("compass"), egui::Sense::hover());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, words(view)));
    response.on_hover_text(words(view));
    end
}

/// What the compass says in the line under the plan.
fn short(view: &View) -> &'static str {
    if view.quarter { "you look in from the left, right is down" } else { "you look in from below" }
}

/// What the compass says: where one looks in from on the page as it lies.
pub(in crate::app::plan) fn words(view: &View) -> &'static str {
    if view.quarter {
        "You look in from the left of the page; the bay's right side is at the bottom"
    } else {
        "You look in from the bottom of the page; the bay's right side is at the right"
    }
}
