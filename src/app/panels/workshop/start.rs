//! Where everybody begins: workshops and jobs of earlier days, a new workshop, the demonstration as one's own.

use std::path::{Path, PathBuf};

use egui::{Align2, Checkbox, Frame, Id, Label, Margin, RichText, TextEdit, Ui, vec2};

use super::parts::{card, heading};
use crate::app::commands::command::{Act, Command, ShopAct};
use crate::app::state::panel_context::PanelContext;
use crate::app::state::shop_place::ShopDraft;
use crate::app::widgets::style;
use crate::files::{Along, NewShop};

/// Where what is typed about a new workshop is kept.
pub(crate) fn draft_id() -> Id {
    Id::unique("new workshop")
}

pub(super) fn show(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    heading(ui, "Will the job fit?", "choose a workshop, or make one");
    ui.columns(3, |columns| {
        for (column, show) in columns.iter_mut().zip([workshops, new, jobs]) {
            // columns stretch what stands in them; buttons keep their own width
            let frame = Frame::new().inner_margin(Margin { right: 14, ..Margin::ZERO });
            frame.show(column, |ui| ui.vertical(|ui| show(ui, cx, out)));
        }
    });
}

fn workshops(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    style::section(ui, "Workshops on this machine", |_| {});
    for folder in cx.shop.recent_shops {
        card(ui, cx, |ui| {
            ui.label(RichText::new(last(folder)).size(15.0).strong());
            style::quiet(ui, folder.display().to_string());
            ui.horizontal(|ui| {
                let called = last(folder);
                if ui.button("open").on_hover_text(format!("open {called}")).clicked() {
                    out.push(Command::Shop(ShopAct::OpenFolder(folder.clone())));
                }
                if ui.button("take off the list").on_hover_text("the folder stays as it is").clicked() {
                    out.push(Command::Shop(ShopAct::Forget(folder.clone())));
                }
            });
        });
    }
    if cx.shop.recent_shops.is_empty() {
        style::quiet(ui, "None was opened yet.");
    }
    if ui.button("open a folder…").clicked() {
        out.push(Command::Shop(ShopAct::AskFolder));
    }
    card(ui, cx, |ui| {
        ui.label(RichText::new("The demonstration").size(15.0).strong());
        style::quiet(
            ui,
            "An invented workshop, to look round and not to work by. Nothing you do there changes its files.",
        );
        if ui.button("look at the demonstration").clicked() {
            out.push(Command::Shop(ShopAct::Demonstration));
        }
    });
}

fn new(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    style::section(ui, "New workshop", |_| {});
    ui.add(Label::new("A workshop is one folder of plain text files. It may lie on a shared drive; nothing leaves this machine.").wrap());
    let mut draft = ui.data(|d| d.get_temp::<ShopDraft>(draft_id())).unwrap_or_default();
    field(ui, "workshop name", "for instance: Tarn Row", &mut draft.name);
    field(ui, "workshop folder", "its folder, such as ~/tarn-row", &mut draft.folder);
    let mut along = !draft.bare;
    ui.add(Checkbox::new(&mut along, "take the demonstration's vehicles, equipment and procedures along"));
    draft.bare = !along;
    style::quiet(ui, "Their figures are invented: measure your own before you work by them.");
    let ready = !draft.name.trim().is_empty() && !draft.folder.trim().is_empty();
    let what = if draft.bare { Along::Nothing } else { Along::Figures };
    let wanted =
        |along| NewShop { name: draft.name.clone(), folder: PathBuf::from(draft.folder.trim()), along };
    let why = "a name and a folder are needed";
    let make = ui.add_enabled_ui(ready, |ui| style::main_button(ui, "new workshop", cx.theme)).inner;
    if make.on_disabled_hover_text(why).clicked() {
        out.push(Command::Shop(ShopAct::Make(wanted(what))));
    }
    let copy = egui::Button::new("copy the demonstration as my own")
        .min_size(vec2(style::row_height(ui), style::row_height(ui)));
    if ui.add_enabled(ready, copy).on_disabled_hover_text(why).clicked() {
        out.push(Command::Shop(ShopAct::Make(wanted(Along::Everything))));
    }
    if !ready {
        style::quiet(ui, "Both ask for a name and a folder of yours.");
    }
    ui.data_mut(|d| d.insert_temp(draft_id(), draft));
}

fn field(ui: &mut Ui, label: &str, hint: &str, text: &mut String) {
    ui.label(label);
    let edit = TextEdit::singleline(text)
        .hint_text(hint)
        .desired_width(f32::INFINITY)
        .align(Align2::LEFT_CENTER)
        .min_size(vec2(40.0, style::row_height(ui)));
    ui.add(edit).accessible_name(label);
}

fn jobs(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    style::section(ui, "Recent jobs", |_| {});
    for job in cx.shop.recent_jobs.iter().take(8) {
        ui.horizontal(|ui| {
            let words = job.file_stem().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
            if ui.button(words).on_hover_text(job.display().to_string()).clicked() {
                out.push(Command::OpenPath(job.clone()));
            }
        });
    }
    if cx.shop.recent_jobs.is_empty() {
        style::quiet(ui, "Nothing yet.");
    }
    if ui.button("open a job…").clicked() {
        out.push(Command::Act(Act::Open));
    }
    style::section(ui, "Always", |_| {});
    style::quiet(
        ui,
        "Planning aid only: the vehicle maker's current procedure and local codes rule, and a qualified person decides. A good fit is not a calibration.",
    );
}

fn last(folder: &Path) -> String {
    folder.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default()
}
