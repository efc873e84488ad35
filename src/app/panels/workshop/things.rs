//! Vehicles, procedures and equipment of the workshop: what their files say, to look at.

use egui::{Grid, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo, pos2, vec2};

use super::parts::{card, faults, heading, name};
use crate::app::commands::command::{Command, ShopAct};
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::style;
use crate::files::{ShopContents, ShopFile};
use crate::model::figure::Value;
use crate::model::{Equipment, Procedure, TargetKind, Vehicle};
use crate::paint::screen::colour;

/// The vehicles, drawn to one scale from above.
pub(super) fn vehicles(ui: &mut Ui, cx: PanelContext, shop: &ShopContents, out: &mut Vec<Command>) {
    heading(ui, "Vehicles", "all drawn to one scale, from above, nose to the right");
    nothing(ui, shop.vehicles.len(), "vehicle");
    let longest = shop.vehicles.iter().filter_map(|v| v.value.as_ref()).map(|v| v.length).fold(1.0, f64::max);
    for file in &shop.vehicles {
        entry(ui, cx, file, out, |ui, cx, vehicle, open| {
            ui.horizontal(|ui| {
                from_above(ui, cx, vehicle, &file.name, 170.0 / longest as f32);
                ui.vertical(|ui| {
                    let show = cx.show();
                    let (long, wide) = (show.one(vehicle.length), show.one(vehicle.width));
                    ui.label(format!("{long} long, {wide} wide, {} high", show.one(vehicle.height)));
                    ui.label(format!("wheelbase {}", show.one(vehicle.wheelbase)));
                });
            });
            if open {
                sensors(ui, cx, vehicle);
            }
        });
    }
}

fn sensors(ui: &mut Ui, cx: PanelContext, vehicle: &Vehicle) {
    style::quiet(ui, "ahead of the front axle, to the left, above the ground");
    Grid::new(("sensors", vehicle.name.as_str())).num_columns(4).striped(true).show(ui, |ui| {
        let sensors = vehicle.sensors.iter().map(|(n, s)| (n, s.at));
        for (called, at) in sensors.chain(vehicle.points.iter().map(|(n, p)| (n, *p))) {
            ui.label(called.as_str());
            for mm in [at.x, at.y, at.z] {
                ui.label(cx.show().one(mm));
            }
            ui.end_row();
        }
    });
}

fn from_above(ui: &mut Ui, cx: PanelContext, vehicle: &Vehicle, called: &str, scale: f32) {
    let px = |mm: f64| mm as f32 * scale;
    let size = vec2(px(vehicle.length), px(vehicle.width));
    let (rect, response) = ui.allocate_exact_size(vec2(180.0, size.y + 10.0), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Image, true, format!("{called} from above")));
    let body = egui::Rect::from_min_size(rect.min + Vec2::splat(5.0), size);
    let ink = colour(cx.theme.ui.text);
    ui.painter().rect_stroke(body, 5.0, Stroke::new(1.6, ink), StrokeKind::Inside);
    let front = body.right() - px(vehicle.front_overhang);
    let tyre = vec2(px(vehicle.tyre.diameter), px(vehicle.tyre.width));
    for (x, track) in [(front, vehicle.track.front), (front - px(vehicle.wheelbase), vehicle.track.rear)] {
        for side in [-1.0, 1.0] {
            let middle = pos2(x, body.center().y + side * px(track) / 2.0);
            ui.painter().rect_filled(egui::Rect::from_center_size(middle, tyre), 1.0, ink);
        }
    }
}

/// The procedures with their setups and what their text did not give.
pub(super) fn procedures(ui: &mut Ui, cx: PanelContext, shop: &ShopContents, out: &mut Vec<Command>) {
    heading(ui, "Procedures", "what the makers publish, as it was typed");
    nothing(ui, shop.procedures.len(), "procedure");
    for file in &shop.procedures {
        entry(ui, cx, file, out, |ui, _, procedure: &Procedure, open| {
            let system = procedure.system.as_ref();
            let system = system.map_or_else(|| "system not said".to_owned(), |s| in_words(s.0.as_str()));
            let setups = procedure.setups.len();
            let setups = if setups == 1 { "1 setup".to_owned() } else { format!("{setups} setups") };
            ui.label(format!("{system}, {setups}"));
            ui.add(
                egui::Label::new(procedure.source.as_deref().unwrap_or("? where it was read is not said"))
                    .wrap(),
            );
            for (missing, why) in procedure.values.iter().filter_map(|(n, v)| lacking(v).map(|w| (n, w))) {
                ui.label(format!("? {missing} is not known: {why}"));
            }
            if !open {
                return;
            }
            Grid::new(("setups", procedure.name.as_str())).num_columns(3).striped(true).show(ui, |ui| {
                for setup in procedure.setups.iter() {
                    ui.label(setup.name.as_str());
                    ui.label(format!("marks: {}", setup.marks.len()));
                    let targets: Vec<&str> = setup.stations.iter().map(|s| s.target.as_str()).collect();
                    ui.label(format!("targets: {}", targets.join(", ")));
                    ui.end_row();
                }
            });
        });
    }
}

fn lacking(value: &Value) -> Option<&str> {
    match value {
        Value::Missing(why) => Some(why.as_str()),
        Value::Is(_) | Value::OneOf(_) | Value::Between(..) => None,
    }
}

/// The equipment, target by target.
pub(super) fn equipment(ui: &mut Ui, cx: PanelContext, shop: &ShopContents, out: &mut Vec<Command>) {
    heading(ui, "Equipment", "the targets of each list");
    nothing(ui, shop.equipment.len(), "equipment list");
    for file in &shop.equipment {
        entry(ui, cx, file, out, |ui, cx, equipment: &Equipment, _| {
            Grid::new(("targets", file.path.as_path())).num_columns(4).striped(true).show(ui, |ui| {
                for (called, target) in equipment.targets.iter() {
                    ui.label(called.as_str());
                    ui.label(kind(target.kind));
                    let (wide, high) = (cx.show().one(target.face.width), cx.show().one(target.face.height));
                    ui.label(format!("{wide} by {high}"));
                    ui.label(match target.owned {
                        Some(n) => format!("owned: {n}"),
                        None => "? how many are owned is not said".to_owned(),
                    });
                    ui.end_row();
                }
            });
        });
    }
}

fn kind(kind: TargetKind) -> &'static str {
    match kind {
        TargetKind::Board => "board",
        TargetKind::Reflector => "reflector",
        TargetKind::Mat => "mat",
        TargetKind::Screen => "screen",
        TargetKind::Pipe => "pipe",
        TargetKind::Lines => "lines",
    }
}

fn nothing(ui: &mut Ui, number: usize, what: &str) {
    if number == 0 {
        ui.label(format!("No {what} yet: its file put into the workshop's folder stands here."));
    }
}

/// A file of the list: its name, which opens and folds what is told of it, or its faults.
fn entry<T>(
    ui: &mut Ui,
    cx: PanelContext,
    file: &ShopFile<T>,
    out: &mut Vec<Command>,
    add: impl FnOnce(&mut Ui, PanelContext, &T, bool),
) {
    card(ui, cx, |ui| {
        let Some(value) = &file.value else {
            ui.label(egui::RichText::new(&file.name).size(15.0).strong());
            return faults(ui, cx, &file.faults);
        };
        let open = cx.view_state.shop_open.as_ref() == Some(&file.path);
        if name(ui, &file.name).on_hover_text(file.path.display().to_string()).clicked() {
            let shown = (!open).then(|| file.path.clone());
            out.push(Command::Shop(ShopAct::Unfold(shown)));
        }
        add(ui, cx, value, open);
    });
}

/// A system as the files spell it, in words: `ForwardCamera` is a forward camera.
fn in_words(spelt: &str) -> String {
    let mut words = String::new();
    for c in spelt.chars() {
        if c.is_uppercase() && !words.is_empty() {
            words.push(' ');
        }
        words.extend(c.to_lowercase());
    }
    words
}
