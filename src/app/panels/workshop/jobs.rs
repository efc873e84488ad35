//! The jobs of the workshop, each with how it comes out.

use egui::{Align, Layout, RichText, Ui};

use super::parts::{card, fate, faults, heading, name};
use crate::app::commands::command::Command;
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::style;
use crate::files::{ShopContents, named_path, plain_path};

pub(super) fn show(ui: &mut Ui, cx: PanelContext, shop: &ShopContents, out: &mut Vec<Command>) {
    let more = if cx.shop.judging {
        "each is judged as its file has it: under way"
    } else {
        "as their files have them"
    };
    heading(ui, "Jobs", more);
    if shop.jobs.is_empty() {
        ui.label("No job yet. Under Bays a bay opens on the plan; saved from there it stands in this list.");
    }
    for job in &shop.jobs {
        card(ui, cx, |ui| {
            ui.horizontal(|ui| {
                if job.value.is_none() {
                    ui.label(RichText::new(&job.name).size(15.0).strong());
                } else if name(ui, &job.name).on_hover_text(job.path.display().to_string()).clicked() {
                    out.push(Command::OpenPath(job.path.clone()));
                }
                if let Some(value) = &job.value {
                    let path = plain_path(&named_path(&job.path, value.bay.as_str()));
                    let bay = shop.bays.iter().find(|b| b.path == path);
                    let words = bay.map_or_else(|| value.bay.to_string(), |b| b.name.clone());
                    ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                        ui.label(RichText::new(words).color(style::weak(ui)));
                    });
                }
            });
            match &job.value {
                Some(_) => {
                    ui.horizontal(|ui| fate(ui, cx, &job.path));
                }
                None => faults(ui, cx, &job.faults),
            }
        });
    }
}
