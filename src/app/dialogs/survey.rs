//! What is shown of a survey under change: the table, and the height at one place.

use egui::{Align2, Key, Label, ScrollArea, TextEdit, Ui, vec2};

use crate::app::commands::command::{Command, DialogAnswer, SurveyAction};
use crate::app::dialogs::parts::{buttons, close, title};
use crate::app::state::panel_context::PanelContext;
use crate::app::state::survey_draft::{Height, SurveyDraft, summary};
use crate::app::widgets::combo::{ComboEntry, combo};
use crate::app::widgets::text_field::mark_all;
use crate::app::widgets::{number_field, style};
use crate::files::Bare;
use crate::geometry::P2;
use crate::paint::screen::colour;

/// How many faults of a table are shown at once.
const MOST_FAULTS: usize = 5;
/// The table.
pub(super) fn table(
    ui: &mut Ui,
    cx: PanelContext,
    draft: &mut SurveyDraft,
    height: f32,
    out: &mut Vec<Command>,
) {
    title(ui, &format!("Floor survey of {}", cx.document.bundle().bay.name));
    style::quiet(
        ui,
        "One spot a line: x to the right, y into the bay, height above the datum. Tabs, semicolons, commas or blanks part the columns, so a table can be pasted from a spreadsheet, or its file dropped here.",
    );
    ui.horizontal(|ui| {
        let mut units = (draft.typed.places, draft.typed.heights);
        for (name, bare) in [("places in", &mut units.0), ("heights in", &mut units.1)] {
            ui.label(name);
            let choices = Bare::ALL.map(|b| ComboEntry::new(b, b.word()));
            if let Some(picked) = combo(ui, name, bare.word(), bare.word(), 64.0, choices) {
                *bare = picked;
            }
        }
        if units != (draft.typed.places, draft.typed.heights) {
            draft.read_in(units.0, units.1);
        }
        ui.label("reading error");
        let edit = TextEdit::singleline(&mut draft.typed.error)
            .hint_text("mm")
            .desired_width(70.0)
            .min_size(vec2(70.0, style::row_height(ui)));
        let edit = ui.add(edit.align(Align2::RIGHT_CENTER));
        edit.accessible_name("reading error")
            .on_hover_text("standard error of one reading of the instrument");
    });
    let rows = ((height / 18.0) as usize).clamp(5, 14);
    ScrollArea::vertical().max_height(rows as f32 * 18.0).id_salt("heights").show(ui, |ui| {
        let edit = TextEdit::multiline(&mut draft.typed.text)
            .font(egui::TextStyle::Monospace)
            .hint_text("3450, 2200, -9")
            .desired_rows(rows)
            .desired_width(f32::INFINITY)
            // Tab parts columns
            .lock_focus(true);
        ui.add(edit).accessible_name("heights of the floor");
    });
    let read = draft.table();
    let error = draft.reading_error();
    let wrong = colour(cx.theme.ui.fails_text);
    let fault = |ui: &mut Ui, words: String| {
        ui.add(Label::new(egui::RichText::new(words).color(wrong).size(12.5)).wrap());
    };
    for (line, why) in read.faults.iter().take(MOST_FAULTS) {
        fault(ui, format!("line {line}: {why}"));
    }
    if read.faults.len() > MOST_FAULTS {
        fault(ui, format!("and {} more lines that cannot be used", read.faults.len() - MOST_FAULTS));
    }
    if let Err(why) = &error {
        fault(ui, format!("reading error: {why}"));
    }
    style::quiet(ui, summary(&read.spots, read.faults.len(), cx.view_state.feet));
    let bay = &cx.document.bundle().bay;
    match read.spots.iter().filter(|s| !bay.has_floor_at(P2::new(s.0, s.1))).count() {
        0 => {}
        1 => fault(ui, "1 spot lies neither on the floor nor on an apron".into()),
        n => fault(ui, format!("{n} spots lie neither on the floor nor on an apron")),
    }
    let ready = read.faults.is_empty() && error.is_ok();
    let changed = draft.is_changed() || cx.is_bay_unwritten();
    buttons(ui, |ui| {
        let write = ui
            .add_enabled_ui(ready && changed, |ui| {
                style::main_button(ui, "write into the bay's file", cx.theme)
            })
            .inner;
        let why = if ready { "the bay's file says the same" } else { "some lines cannot be used" };
        let write = write.on_hover_text("every job in this bay is judged by it from then on");
        if write.on_disabled_hover_text(why).clicked() {
            out.push(Command::Answer(DialogAnswer::Survey(SurveyAction::Write)));
        }
        if ui.button("enter on the plan").clicked() {
            out.push(Command::Answer(DialogAnswer::Survey(SurveyAction::OnPlan)));
        }
        if changed && ui.button("throw it away").clicked() {
            out.push(Command::Answer(DialogAnswer::Survey(SurveyAction::ThrowAway)));
        }
        close(ui, "close", out);
    });
}

/// The height at one place.
pub(super) fn height(ui: &mut Ui, cx: PanelContext, height: &mut Height, out: &mut Vec<Command>) {
    let feet = cx.view_state.feet;
    let known = height.spot.is_some();
    title(ui, if known { "This spot of the floor" } else { "Height of the floor here" });
    let (x, y) = (number_field::length(height.at.x, feet), number_field::length(height.at.y, feet));
    style::quiet(ui, format!("{x} to the right, {y} into the bay; above the datum, below it with a minus"));
    if !cx.document.bundle().bay.has_floor_at(height.at) {
        style::quiet(ui, "This place lies neither on the floor nor on an apron.");
    }
    let id = egui::Id::unique("height of the floor");
    let edit = TextEdit::singleline(&mut height.text)
        .id(id)
        .hint_text("mm")
        .desired_width(140.0)
        .align(Align2::RIGHT_CENTER)
        .min_size(vec2(140.0, style::row_height(ui)));
    let response = ui.add(edit).accessible_name("height");
    if !height.focused {
        response.request_focus();
        mark_all(ui.ctx(), id, &height.text);
        height.focused = true;
    }
    let entered = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
    if response.changed() {
        height.fault = None;
    }
    if let Some(fault) = &height.fault {
        ui.add(Label::new(egui::RichText::new(fault).color(colour(cx.theme.ui.fails_text))).wrap());
    }
    let done = |mm| {
        Command::Answer(DialogAnswer::Survey(SurveyAction::Height { at: height.at, spot: height.spot, mm }))
    };
    let mut fault = None;
    buttons(ui, |ui| {
        if style::main_button(ui, "enter", cx.theme).clicked() || entered {
            match number_field::read_length(height.text.trim()) {
                Ok(mm) => out.push(done(Some(mm))),
                Err(why) => fault = Some(why),
            }
        }
        if known && ui.button("take it out").clicked() {
            out.push(done(None));
        }
        close(ui, "leave it", out);
    });
    if fault.is_some() {
        height.fault = fault;
        height.focused = false;
    }
}
