//! The bays of the workshop, drawn to one scale, with the jobs that stand in each.

use egui::{Pos2, Rect, Sense, Shape, Stroke, Ui, WidgetInfo, pos2, vec2};

use super::parts::{card, fate, faults, heading, name};
use crate::app::commands::command::{Command, ShopAct};
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::style;
use crate::files::{ShopContents, named_path, plain_path};
use crate::geometry::Bounds;
use crate::model::Bay;
use crate::paint::screen::colour;

/// The room of the largest bay's plan.
const PLAN: egui::Vec2 = vec2(110.0, 150.0);

pub(super) fn show(ui: &mut Ui, cx: PanelContext, shop: &ShopContents, out: &mut Vec<Command>) {
    heading(ui, "Bays", "all drawn to one scale");
    let begin = style::main_button(ui, "new bay", cx.theme);
    if begin.on_hover_text("to be typed by width, length and ceiling, or measured with a tape").clicked() {
        out.push(Command::Shop(ShopAct::NewBay));
    }
    if shop.bays.is_empty() {
        ui.label("No bay yet. A bay's file put into the folder stands here too.");
    }
    let sizes = shop.bays.iter().filter_map(|b| b.value.as_deref()).map(|b| bounds(b).size());
    let (wide, long) = sizes.fold((1.0_f64, 1.0_f64), |(w, l), s| (w.max(s.x), l.max(s.y)));
    let scale = (f64::from(PLAN.x) / wide).min(f64::from(PLAN.y) / long) as f32;
    for bay in &shop.bays {
        card(ui, cx, |ui| {
            let Some(value) = &bay.value else {
                ui.label(egui::RichText::new(&bay.name).size(15.0).strong());
                return faults(ui, cx, &bay.faults);
            };
            ui.horizontal_top(|ui| {
                plan(ui, cx, value, &bay.name, scale);
                ui.vertical(|ui| {
                    if name(ui, &bay.name).on_hover_text("opens it on the plan").clicked() {
                        out.push(Command::Shop(ShopAct::OpenBay(bay.path.clone())));
                    }
                    ui.label(size(cx, value));
                    ui.label(match value.ceiling {
                        Some(mm) => format!("ceiling {}", cx.show().one(mm)),
                        None => "? ceiling not measured".to_owned(),
                    });
                    ui.label(surveyed(value));
                    standing(ui, cx, shop, &bay.path, out);
                });
            });
        });
    }
}

/// The jobs that stand in a bay.
fn standing(
    ui: &mut Ui,
    cx: PanelContext,
    shop: &ShopContents,
    bay: &std::path::Path,
    out: &mut Vec<Command>,
) {
    let stands = |job: &&crate::files::ShopFile<crate::model::Job>| {
        let named = job.value.as_ref().map(|j| plain_path(&named_path(&job.path, j.bay.as_str())));
        named.as_deref() == Some(bay)
    };
    let jobs: Vec<_> = shop.jobs.iter().filter(stands).collect();
    style::quiet(
        ui,
        match jobs.len() {
            0 => "no job stands in it".to_owned(),
            1 => "1 job stands in it".to_owned(),
            n => format!("{n} jobs stand in it"),
        },
    );
    for job in jobs {
        ui.horizontal(|ui| {
            if style::bare_button(ui, job.name.as_str()).clicked() {
                out.push(Command::OpenPath(job.path.clone()));
            }
            fate(ui, cx, &job.path);
        });
    }
}

fn bounds(bay: &Bay) -> Bounds {
    Bounds::of(bay.floor.outline.0.points())
}

/// Width and length in words; whether it is square-cornered is not said.
fn size(cx: PanelContext, bay: &Bay) -> String {
    let size = bounds(bay).size();
    let corners = bay.floor.points.len();
    let words = format!("{} by {}", cx.show().one(size.x), cx.show().one(size.y));
    if corners == 4 { words } else { format!("{words} at the widest, {corners} corners") }
}

fn surveyed(bay: &Bay) -> String {
    let tapes = bay.taped.len();
    let how = match &bay.surveyed {
        Some(words) => format!("measured: {words}"),
        None => "not said when it was measured".to_owned(),
    };
    let tapes = if tapes == 0 { String::new() } else { format!(", {tapes} tape readings") };
    let floor = if bay.heights.is_empty() { ", no survey of the floor" } else { "" };
    format!("{how}{tapes}{floor}")
}

/// The bay's outline with its doorways, lifts and what stands in it, `scale` px a mm.
fn plan(ui: &mut Ui, cx: PanelContext, bay: &Bay, name: &str, scale: f32) {
    let about = bounds(bay);
    let size = about.size();
    let drawn = vec2(size.x as f32 * scale, size.y as f32 * scale);
    let (rect, response) =
        ui.allocate_exact_size(vec2(PLAN.x, drawn.y.max(40.0)) + vec2(10.0, 10.0), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Image, true, format!("plan of {name}")));
    let corner = pos2(rect.left() + 5.0, rect.top() + 5.0 + drawn.y);
    let least = about.centre() - size / 2.0;
    let at = |x: f64, y: f64| -> Pos2 {
        corner + vec2((x - least.x) as f32 * scale, -(y - least.y) as f32 * scale)
    };
    let painter = ui.painter();
    let ink = colour(cx.theme.ui.text);
    let outline: Vec<Pos2> = bay.floor.points.iter().map(|p| at(p.0, p.1)).collect();
    let quiet = Stroke::new(1.0, colour(cx.theme.ui.faint));
    let things = bay.fixtures.iter().map(|f| f.shape.0.bounds());
    let posts = bay.lifts.iter().flat_map(|l| l.posts.iter().chain(l.runways.iter())).map(|p| p.0.bounds());
    for (box_of, stroke) in things.map(|b| (b, quiet)).chain(posts.map(|b| (b, Stroke::new(1.6, ink)))) {
        let half = box_of.size() / 2.0;
        let (a, b) = (box_of.centre() - half, box_of.centre() + half);
        painter.rect_stroke(
            Rect::from_two_pos(at(a.x, a.y), at(b.x, b.y)),
            0.0,
            stroke,
            egui::StrokeKind::Inside,
        );
    }
    painter.add(Shape::closed_line(outline, Stroke::new(2.5, ink)));
    for door in bay.doorways.iter() {
        let Some((a, b)) = bay.floor.side(door.side.index) else { continue };
        let long = (b.0 - a.0).hypot(b.1 - a.1).max(1.0);
        let on = |mm: f64| at(a.0 + (b.0 - a.0) * mm / long, a.1 + (b.1 - a.1) * mm / long);
        let gap = [on(door.from), on(door.from + door.width)];
        painter.line_segment(gap, Stroke::new(4.0, colour(cx.theme.ui.raised)));
        painter.line_segment(gap, Stroke::new(1.0, ink));
    }
}
