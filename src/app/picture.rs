//! What a sensor sees, small, in a window of its own over a corner of the plan: it can be folded and moved aside.

use egui::{Align2, Id, Rect, Sense, Stroke, StrokeKind, Ui, vec2};

use super::cx::Cx;
use crate::geometry::P2;
use crate::layout::Layout;
use crate::paint::screen::{self, colour};
use crate::paint::{Painted, View};
use crate::scene::inset::inset;

/// The most the picture takes, points.
const MOST: egui::Vec2 = vec2(230.0, 150.0);
/// Between the window and the plan's edge, points.
const EDGE: f32 = 8.0;

/// One sensor of one setup, with what it is to see.
struct Sight {
    setup: usize,
    sight: usize,
    title: String,
}

/// Shows the picture of the first sight from a sensor with a view, of the setups shown; further ones are chosen by
/// showing their setup alone. Nothing where there is none.
pub fn show(ui: &Ui, cx: Cx, plan: Rect, painted: &Painted) {
    let Some(sight) = first(cx.layout(), cx.seen.setup()).filter(|_| cx.session.picture) else { return };
    let Some(picture) = inset(cx.layout(), sight.setup, sight.sight) else { return };
    let (wide, high) = picture.size;
    let scale = f64::min(f64::from(MOST.x) / wide, f64::from(MOST.y) / high);
    let size = vec2((wide * scale) as f32, (high * scale) as f32);
    if plan.width() < size.x * 2.0 || plan.height() < size.y * 2.0 {
        return;
    }
    let corner = quietest(plan, size + vec2(16.0, 46.0), painted);
    let at = corner.align_size_within_rect(size + vec2(16.0, 46.0), plan.shrink(EDGE)).min;
    let title = egui::RichText::new(&sight.title).size(12.5);
    egui::Window::new(title)
        .id(Id::unique("picture"))
        .default_pos(at)
        .constrain_to(plan)
        .resizable(false)
        .fade_in(false)
        .fade_out(false)
        .frame(egui::Frame::window(ui.style()).inner_margin(6))
        .show(ui.ctx(), |ui| {
            let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
            response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, &sight.title));
            let page = (f64::from(size.x), f64::from(size.y));
            let centre = P2::new(wide / 2.0, -high / 2.0);
            let view = View { centre, scale, quarter: false, size: page };
            screen::draw(ui.painter(), rect, &view, &picture.scene(), cx.theme);
            let line = Stroke::new(1.0, colour(cx.theme.ui.faint));
            ui.painter().rect_stroke(rect, 0.0, line, StrokeKind::Inside);
        });
}

/// The first sensor with a view among the sights of the setups shown, and everything it is to see in that setup.
fn first(layout: &Layout, shown: Option<usize>) -> Option<Sight> {
    let setups = layout.setups.iter().enumerate().filter(|(i, _)| shown.is_none_or(|s| s == *i));
    for (i, setup) in setups {
        let has_view = |name: &str| layout.eye(setup, name).is_some_and(|eye| eye.view.is_some());
        let Some(sight) = setup.def.sights.iter().position(|s| has_view(s.from.as_str())) else { continue };
        let from = setup.def.sights[sight].from.as_str();
        let of_it = setup.def.sights.iter().filter(|s| s.from.as_str() == from);
        let seen: Vec<&str> = of_it.map(|s| s.to.as_str()).collect();
        return Some(Sight { setup: i, sight, title: format!("What {from} sees: {}", seen.join(", ")) });
    }
    None
}

/// The corner of the plan in which the fewest texts stand.
fn quietest(plan: Rect, size: egui::Vec2, painted: &Painted) -> Align2 {
    let corners = [Align2::RIGHT_TOP, Align2::RIGHT_BOTTOM, Align2::LEFT_BOTTOM, Align2::LEFT_TOP];
    let covered = |corner: &Align2| {
        let at = corner.align_size_within_rect(size, plan.shrink(EDGE)).translate(-plan.min.to_vec2());
        let boxes = painted.texts.iter().map(|(b, _)| Rect::from_min_max(b.min.into(), b.max.into()));
        boxes.filter(|b| b.intersects(at)).count()
    };
    corners.into_iter().min_by_key(covered).unwrap_or(Align2::RIGHT_TOP)
}
