//! Dialogs laid over the window: a question, a page to read, faults of a file. One at a time; Esc puts it away.

mod commands;
mod keys;
mod parts;
mod survey;

use std::path::{Path, PathBuf};

use egui::{Id, Key, Label, Modal, ScrollArea, TextEdit, Ui};

use crate::app::commands::command::{Act, Command, DialogAnswer};
use crate::app::dialogs::parts::{buttons, close, text, title};
use crate::app::shell::file_dialog::Purpose;
use crate::app::state::dialog::{ConflictChoice, Dialog, FileConflict};
use crate::app::state::panel_context::PanelContext;
use crate::app::state::shop_place::ShopPlace;
use crate::app::widgets::style;
use crate::checks::RuleId;
use crate::edit::{Edit, Step};
use crate::model::job::Accepted;

/// Shows a dialog; what is typed into it is kept in it.
pub(super) fn show(ui: &mut Ui, cx: PanelContext, dialog: &mut Dialog, out: &mut Vec<Command>) {
    let size = ui.ctx().content_rect().size();
    let frame = egui::Frame::popup(ui.style()).inner_margin(egui::Margin::symmetric(20, 16));
    // each kind keeps its own size
    let id = Id::unique(("sheet", std::mem::discriminant(dialog)));
    let modal = Modal::new(id).frame(frame).show(ui.ctx(), |ui| {
        ui.set_width((size.x - 80.0).min(560.0));
        ui.spacing_mut().item_spacing.y = 8.0;
        match dialog {
            Dialog::Keys => keys::show(ui, size.y - 200.0, out),
            Dialog::Why(rule) => why(ui, *rule, size.y - 200.0, out),
            Dialog::Accept { title, draft } => accept(ui, cx, title, draft, out),
            Dialog::Faults { tried, faults } => faulty(ui, tried, faults, size.y - 220.0, out),
            Dialog::Path { purpose, text, jobs, focused, browsed } => {
                path(ui, cx, (*purpose, *browsed), text, jobs, focused, out);
            }
            Dialog::Commands { text, focused } => {
                commands::show(ui, cx, text, focused, size.y - 240.0, out);
            }
            Dialog::Unsaved => unsaved(ui, cx, out),
            Dialog::Overwrite(path) => overwrite(ui, cx, path, out),
            Dialog::Survey(draft) => survey::table(ui, cx, draft, size.y - 400.0, out),
            Dialog::Height(height) => survey::height(ui, cx, height, out),
            Dialog::Changed(theirs) => changed(ui, cx, theirs, out),
            Dialog::Lost(lost) => found(ui, cx, lost, out),
            Dialog::Demonstration => demonstration(ui, cx, out),
        }
    });
    let kept = matches!(dialog, Dialog::Lost(_) | Dialog::Changed(_));
    if modal.should_close() && !kept {
        out.push(Command::Answer(DialogAnswer::Close));
    }
}

fn why(ui: &mut Ui, rule: RuleId, height: f32, out: &mut Vec<Command>) {
    let page = &rule.rule().page;
    title(ui, page.title);
    style::quiet(ui, format!("rule {}", rule.word()));
    ScrollArea::vertical().max_height(height).auto_shrink([false, true]).show(ui, |ui| {
        for (heading, words) in [
            ("What it checks", page.checks),
            ("Why it matters on the shop floor", page.matters),
            ("How it is measured", page.measured),
            ("What to do", page.remedy),
            ("Where the number comes from", page.source),
        ] {
            ui.add_space(6.0);
            style::quiet(ui, heading);
            text(ui, words);
        }
    });
    buttons(ui, |ui| close(ui, "close", out));
}

fn accept(ui: &mut Ui, cx: PanelContext, about: &str, draft: &mut Accepted, out: &mut Vec<Command>) {
    title(ui, "Accept this finding");
    text(ui, about);
    style::quiet(
        ui,
        "It stays in every answer and on every list as accepted, with your reason and name. Rules of the workplace and the maker's procedure stay in force.",
    );
    for (label, hint, value) in [
        ("reason", "why the work can be done all the same", &mut draft.reason),
        ("by", "who takes responsibility", &mut draft.by),
        ("on", "date", &mut draft.on),
    ] {
        ui.horizontal(|ui| {
            ui.add_sized([60.0, style::row_height(ui)], Label::new(label));
            let edit = TextEdit::singleline(value)
                .hint_text(hint)
                .desired_width(f32::INFINITY)
                .align(egui::Align2::LEFT_CENTER)
                .min_size(egui::vec2(40.0, style::row_height(ui)));
            ui.add(edit).accessible_name(label);
        });
    }
    let ready = !draft.reason.trim().is_empty() && !draft.by.trim().is_empty();
    buttons(ui, |ui| {
        let go = ui.add_enabled_ui(ready, |ui| style::main_button(ui, "accept", cx.theme)).inner;
        if go.on_disabled_hover_text("a reason and a name are needed").clicked() {
            out.push(Command::Edit(Edit::Accept(draft.clone()), Step::New));
            out.push(Command::Answer(DialogAnswer::Close));
        }
        close(ui, "leave it", out);
    });
}

fn faulty(ui: &mut Ui, tried: &str, faults: &[String], height: f32, out: &mut Vec<Command>) {
    title(ui, tried);
    let n = faults.len();
    style::quiet(ui, if n == 1 { "One thing is wrong:".into() } else { format!("{n} things are wrong:") });
    ScrollArea::vertical().max_height(height).auto_shrink([false, true]).show(ui, |ui| {
        for fault in faults {
            ui.add(Label::new(fault.as_str()).wrap().selectable(true));
            ui.add_space(4.0);
        }
    });
    style::quiet(ui, "Nothing was changed.");
    buttons(ui, |ui| {
        if ui.button("copy").clicked() {
            ui.ctx().copy_text(faults.join("\n"));
        }
        if ui.button("open a job…").on_hover_text(Act::Open.tells()).clicked() {
            out.push(Command::Answer(DialogAnswer::Close));
            out.push(Command::Act(Act::Open));
        }
        close(ui, "close", out);
    });
}

fn path(
    ui: &mut Ui,
    cx: PanelContext,
    (purpose, browsed): (Purpose, bool),
    typed: &mut String,
    jobs: &[(String, PathBuf)],
    focused: &mut bool,
    out: &mut Vec<Command>,
) {
    let (words, go) = match purpose {
        Purpose::Open => ("Open a job", "open"),
        Purpose::SaveAs => ("Save the job as", "save"),
        Purpose::Folder => ("Open the folder of a workshop", "open"),
    };
    title(ui, words);
    let edit = TextEdit::singleline(typed)
        .hint_text(if purpose == Purpose::Folder { "path of a folder" } else { "path of a .ron file" })
        .desired_width(f32::INFINITY)
        .align(egui::Align2::LEFT_CENTER)
        .min_size(egui::vec2(40.0, style::row_height(ui)));
    let response = ui.add(edit).accessible_name("path");
    if !*focused {
        response.request_focus();
        *focused = true;
    }
    let entered = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
    if browsed {
        style::quiet(
            ui,
            "The desktop's dialog gave no file. Where none appeared, type the path here or press a job below.",
        );
    }
    if purpose == Purpose::Open && !jobs.is_empty() {
        style::quiet(ui, "Beside this job and opened lately:");
        ScrollArea::vertical().max_height(260.0).auto_shrink([false, true]).show(ui, |ui| {
            for (name, job) in jobs {
                let line = egui::Button::selectable(false, name.as_str())
                    .min_size(egui::vec2(ui.available_width(), style::row_height(ui)));
                if ui.add(line).on_hover_text(job.display().to_string()).clicked() {
                    out.push(Command::OpenPath(job.clone()));
                }
            }
        });
    }
    buttons(ui, |ui| {
        let ready = !typed.trim().is_empty();
        let pressed = ui.add_enabled_ui(ready, |ui| style::main_button(ui, go, cx.theme)).inner.clicked();
        if ready && (pressed || entered) {
            out.push(Command::Answer(DialogAnswer::Typed(purpose, typed.clone())));
        }
        if ui.button("browse…").on_hover_text("looks for it with the desktop's file dialog").clicked() {
            out.push(Command::Browse(purpose));
        }
        close(ui, "leave it", out);
    });
}

fn unsaved(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    title(ui, "The job has changes that are not saved");
    text(ui, format!("{} would lose them.", cx.document.job().name));
    buttons(ui, |ui| {
        if style::main_button(ui, "save", cx.theme).clicked() {
            out.push(Command::Answer(DialogAnswer::SaveThen));
        }
        if ui.button("lose the changes").clicked() {
            out.push(Command::Answer(DialogAnswer::LoseThen));
        }
        close(ui, "go on working", out);
    });
}

fn demonstration(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    title(ui, "The demonstration stays as it is");
    text(
        ui,
        "Its files are not written to. Copy it as your own workshop, into a folder you choose: there everything is saved. \
         What you changed here stays in this window until it is closed.",
    );
    buttons(ui, |ui| {
        if style::main_button(ui, "copy it as my own", cx.theme).clicked() {
            out.push(Command::Answer(DialogAnswer::Close));
            out.push(Command::Act(Act::Show(ShopPlace::Start)));
        }
        close(ui, "go on looking", out);
    });
}

fn overwrite(ui: &mut Ui, cx: PanelContext, path: &Path, out: &mut Vec<Command>) {
    title(ui, "There is a file of this name already");
    text(ui, path.display().to_string());
    buttons(ui, |ui| {
        if style::main_button(ui, "write over it", cx.theme).clicked() {
            out.push(Command::Answer(DialogAnswer::Overwrite(path.to_owned())));
        }
        close(ui, "leave it", out);
    });
}

fn changed(ui: &mut Ui, cx: PanelContext, theirs: &FileConflict, out: &mut Vec<Command>) {
    title(ui, "Somebody else has changed this file");
    text(ui, theirs.path.display().to_string());
    text(
        ui,
        "It was changed on the disk since it was read here, and it is changed here too. Which is to hold?",
    );
    let mut settle = |how| out.push(Command::Answer(DialogAnswer::Conflict(theirs.clone(), how)));
    buttons(ui, |ui| {
        if style::main_button(ui, "save mine beside", cx.theme)
            .on_hover_text("yours goes into a file of its own, the other is read; nothing is lost")
            .clicked()
        {
            settle(ConflictChoice::MineBeside);
        }
        if ui.button("take theirs").on_hover_text("undo brings yours back").clicked() {
            settle(ConflictChoice::TakeTheirs);
        }
        if ui.button("keep mine").on_hover_text("saving writes over theirs").clicked() {
            settle(ConflictChoice::KeepMine);
        }
    });
}

fn found(ui: &mut Ui, cx: PanelContext, lost: &[(String, Option<PathBuf>)], out: &mut Vec<Command>) {
    title(ui, "Work was found that was never saved");
    style::quiet(ui, "The window ended without being closed. The files are as they were.");
    for (at, (name, path)) in lost.iter().enumerate() {
        ui.horizontal(|ui| {
            if style::main_button(ui, "take it up", cx.theme)
                .accessible_name(format!("take up {name}"))
                .clicked()
            {
                out.push(Command::Answer(DialogAnswer::Recover(at)));
            }
            let place = path.as_ref().map_or("in no file yet".into(), |p| p.display().to_string());
            ui.add(Label::new(format!("{name}  ({place})")).truncate());
        });
    }
    buttons(ui, |ui| {
        if ui.button("throw it away").clicked() {
            out.push(Command::Answer(DialogAnswer::ForgetLost));
        }
        close(ui, "decide next time", out);
    });
}
