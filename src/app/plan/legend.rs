//! The scale of the floor's heights in the line under the plan.

use egui::{Align2, FontId, Pos2, Rect, Stroke, StrokeKind, Ui, pos2, vec2};

use crate::app::state::panel_context::PanelContext;
use crate::paint::screen::colour;
use crate::scene::Role;

/// Width of one band, and height of the bands.
const BAND: egui::Vec2 = vec2(25.0, 9.0);

/// Shows the scale with its middle height at `left`; gives where it ends. Nothing where no heights are drawn, or where
/// less than `room` is left for it.
pub(super) fn show(ui: &Ui, cx: PanelContext, left: Pos2, room: f32) -> f32 {
    let Some(heights) = cx.derived.heights() else { return left.x };
    let width = BAND.x * Role::HEIGHTS.len() as f32;
    if room < width + 40.0 {
        return left.x;
    }
    let painter = ui.painter();
    let (text, faint) = (colour(cx.theme.ui.text), colour(cx.theme.ui.faint));
    let small = FontId::proportional(10.5);
    let top = pos2(left.x + 14.0, left.y - BAND.y - 1.0);
    for (i, role) in Role::HEIGHTS.into_iter().enumerate() {
        let piece = Rect::from_min_size(top + vec2(BAND.x * i as f32, 0.0), BAND);
        let fill = cx.theme.ink(role).fill.map_or(faint, colour);
        painter.rect_filled(piece, 0.0, fill);
    }
    let bar = Rect::from_min_size(top, vec2(width, BAND.y));
    painter.rect_stroke(bar, 0.0, Stroke::new(1.0, faint), StrokeKind::Outside);
    let edges = heights.edges();
    let all_short = edges.iter().all(|e| e.len() <= 3);
    for (i, edge) in edges.iter().enumerate() {
        let at = pos2(top.x + BAND.x * i as f32, bar.bottom());
        painter.line_segment([at, at + vec2(0.0, 3.0)], Stroke::new(1.0, faint));
        // every second one where they would touch
        if i % 2 == 0 || all_short {
            painter.text(at + vec2(0.0, 3.0), Align2::CENTER_TOP, edge, small.clone(), text);
        }
    }
    let unit = if heights.feet { "" } else { "mm" };
    let end = painter.text(pos2(bar.right() + 8.0, bar.center().y), Align2::LEFT_CENTER, unit, small, faint);
    let words = format!("heights of the floor: {}", edges.join(", "));
    let response =
        ui.interact(bar.expand2(vec2(8.0, 12.0)), egui::Id::unique("heights"), egui::Sense::hover());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, &words));
    response.on_hover_text("Height of the floor above the survey's datum: the lowest first");
    end.right() + 10.0
}
