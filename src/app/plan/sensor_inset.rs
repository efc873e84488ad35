//! What a sensor sees, small, over the corner of the plan where it hides least. Its title folds and unfolds it; where
//! it would hide something of the bay it starts folded.

use egui::{Align2, Id, Rect, Sense, Stroke, StrokeKind, Ui, Vec2, vec2};

use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::icon::Icon;
use crate::geometry::P2;
use crate::paint::screen::{self, colour};
use crate::paint::{Painted, View};

/// The most the picture takes, points.
const MOST: Vec2 = vec2(210.0, 130.0);
/// Height of the title.
const HEAD: f32 = 20.0;
/// Round title and picture.
const PAD: f32 = 5.0;
/// Between the picture and the plan's edge, points.
const EDGE: f32 = 8.0;

/// Shows the picture, if there is one.
pub(super) fn show(ui: &Ui, cx: PanelContext, plan: Rect, view: &View, painted: &Painted) {
    let Some(picture) = cx.derived.picture().filter(|_| cx.view_state.picture) else { return };
    let (wide, high) = picture.size;
    let scale = f64::min(f64::from(MOST.x) / wide, f64::from(MOST.y) / high);
    let size = vec2((wide * scale) as f32, (high * scale) as f32);
    if plan.width() < size.x * 2.0 || plan.height() < size.y * 2.0 {
        return;
    }
    let id = Id::unique("picture");
    let sized = |body: f32| vec2(size.x, HEAD + body) + vec2(2.0, 2.0) * PAD;
    let open = sized(size.y + 4.0);
    let (corner, hides) = corner(ui, id, plan, &picture.title, |c| covered(c, plan, open, cx, view, painted));
    let folded = ui.data(|d| d.get_temp::<bool>(id)).unwrap_or(hides);
    let whole = if folded { sized(0.0) } else { open };
    let at = corner.align_size_within_rect(whole, plan.shrink(EDGE));
    let area = egui::Area::new(id).order(egui::Order::Middle).fixed_pos(at.min);
    area.show(ui.ctx(), |ui| {
        let frame = egui::Frame::window(ui.style()).shadow(egui::Shadow::NONE).inner_margin(PAD);
        frame.show(ui, |ui| {
            ui.set_width(size.x);
            ui.spacing_mut().item_spacing.y = 4.0;
            if head(ui, &picture.title, folded) {
                ui.data_mut(|d| d.insert_temp(id, !folded));
            }
            if folded {
                return;
            }
            let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
            response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, &picture.title));
            let page = (f64::from(size.x), f64::from(size.y));
            let centre = P2::new(wide / 2.0, -high / 2.0);
            let view = View { centre, scale, quarter: false, size: page };
            screen::draw(ui.painter(), rect, &view, &picture.scene, cx.theme, &[]);
            let line = Stroke::new(1.0, colour(cx.theme.ui.faint));
            ui.painter().rect_stroke(rect, 0.0, line, StrokeKind::Inside);
        });
    });
}

/// The line with the title; tells whether it was pressed, which folds and unfolds.
fn head(ui: &mut Ui, title: &str, folded: bool) -> bool {
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), HEAD), Sense::click());
    let words = if folded { format!("unfold: {title}") } else { format!("fold: {title}") };
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, &words));
    let tint = ui.style().interact(&response).text_color();
    let icon = if folded { Icon::Right } else { Icon::Down };
    icon.draw(ui.painter(), rect.left_center() + vec2(8.0, 0.0), 4.0, Stroke::new(1.4, tint));
    let mut row = ui.new_child(egui::UiBuilder::new().max_rect(rect.with_min_x(rect.left() + 20.0)));
    row.centered_and_justified(|ui| {
        let text = egui::RichText::new(title).size(12.0).color(tint);
        ui.add(egui::Label::new(text).truncate().halign(egui::Align::Min));
    });
    response.on_hover_text(title).clicked()
}

/// The corner it stands in, and whether it hides something there: chosen anew only when the plan's size or the picture
/// changes, so that it stays put.
fn corner(ui: &Ui, id: Id, plan: Rect, title: &str, covered: impl Fn(Align2) -> f32) -> (Align2, bool) {
    type Kept = (Vec2, String, (Align2, bool));
    let id = id.with("corner");
    let kept = ui.data(|d| d.get_temp::<Kept>(id)).filter(|k| k.0 == plan.size() && k.1 == title);
    kept.map(|k| k.2).unwrap_or_else(|| {
        let corners = [Align2::RIGHT_TOP, Align2::RIGHT_BOTTOM, Align2::LEFT_BOTTOM, Align2::LEFT_TOP];
        let best = corners.into_iter().min_by(|a, b| covered(*a).total_cmp(&covered(*b)));
        let best = best.unwrap_or(Align2::RIGHT_TOP);
        let found = (best, covered(best) > 0.0);
        ui.data_mut(|d| d.insert_temp::<Kept>(id, (plan.size(), title.to_owned(), found)));
        found
    })
}

/// How much a picture in this corner would cover: square points of the bay, and much for every text.
fn covered(corner: Align2, plan: Rect, size: Vec2, cx: PanelContext, view: &View, painted: &Painted) -> f32 {
    let at = corner.align_size_within_rect(size, plan.shrink(EDGE)).translate(-plan.min.to_vec2());
    let texts = painted.texts.iter().map(|(b, _)| Rect::from_min_max(b.min.into(), b.max.into()));
    let texts = texts.filter(|b| b.intersects(at)).count() as f32;
    let bay = cx.derived.home();
    let bay = Rect::from_two_pos(view.to_page(bay.min).into(), view.to_page(bay.max).into());
    let over = bay.intersect(at);
    texts * 2000.0 + if over.is_positive() { over.area() } else { 0.0 }
}
