//! What is shown of a survey under change: the table, the height at one place, and the strip under the plan.

use egui::{Align2, Key, Label, Rect, ScrollArea, TextEdit, Ui, vec2};

use super::draft::told;
use super::{Draft, Height};
use crate::app::combo::{Choice, combo};
use crate::app::command::{Act, Command, Done, Settle};
use crate::app::cx::Cx;
use crate::app::field::mark_all;
use crate::app::leaf::{buttons, close, title};
use crate::app::session::Under;
use crate::app::{figure, look};
use crate::files::{Bare, named_path};
use crate::geometry::P2;
use crate::paint::View;
use crate::paint::screen::colour;

/// How many faults of a table are shown at once.
const MOST_FAULTS: usize = 5;
/// A press this near to a spot is about the spot, points.
const REACH: f32 = 9.0;

/// What a press on the plan is about: the spot under it, or the place itself in whole mm.
pub fn pressed(cx: Cx, view: &View, at: [f32; 2]) -> Command {
    let spots = cx.layout().stage.survey.spots();
    let apart = |p: P2| {
        let [x, y] = view.to_page(p);
        (x - at[0]).hypot(y - at[1])
    };
    let near = spots.iter().map(|s| s.xy()).min_by(|a, b| apart(*a).total_cmp(&apart(*b)));
    let free = view.to_bay(at);
    let free = P2::new(free.x.round(), free.y.round());
    Command::HeightAt(near.filter(|p| apart(*p) <= REACH).unwrap_or(free))
}

/// What lies under the plan while heights are pressed into it.
pub fn strip(ui: &mut Ui, cx: Cx, rect: Rect, out: &mut Vec<Command>) {
    ui.painter().rect_filled(rect, 0.0, colour(cx.theme.ui.raised));
    let told = told(&cx.document.bundle().bay.heights, 0, cx.session.feet);
    let changed = is_unwritten(cx);
    let state = match changed {
        true => "not in the bay's file yet",
        false => "as the bay's file has it",
    };
    let mut ui = ui.new_child(egui::UiBuilder::new().max_rect(rect.shrink2(vec2(14.0, 10.0))));
    ui.spacing_mut().item_spacing.y = 8.0;
    ui.label("Press on the plan where a height was read, or on a spot to change it.");
    look::quiet(&mut ui, format!("{told}: {state}"));
    ui.horizontal(|ui| {
        if ui.button("table").clicked() {
            out.push(Command::Act(Act::Survey));
        }
        if ui.add_enabled(changed, egui::Button::new("write into the bay's file")).clicked() {
            out.push(Command::Settle(Settle::Survey(Done::Write)));
        }
        if ui.button("close").on_hover_text("Esc; what was entered stays, and undo takes it back").clicked() {
            out.push(Command::Under(Under::Margins));
        }
    });
}

/// Whether the bay's file is yet to be written.
fn is_unwritten(cx: Cx) -> bool {
    let bay = named_path(cx.document.home(), cx.document.job().bay.as_str());
    cx.document.is_file_changed(&bay)
}

/// The table.
pub fn table(ui: &mut Ui, cx: Cx, draft: &mut Draft, height: f32, out: &mut Vec<Command>) {
    title(ui, &format!("Floor survey of {}", cx.document.bundle().bay.name));
    look::quiet(
        ui,
        "One spot a line: x to the right, y into the bay, height above the datum. Tabs, semicolons, commas or blanks part the columns, so a table can be pasted from a spreadsheet, or its file dropped here.",
    );
    ui.horizontal(|ui| {
        let mut units = (draft.typed.places, draft.typed.heights);
        for (name, bare) in [("places in", &mut units.0), ("heights in", &mut units.1)] {
            ui.label(name);
            let choices = Bare::ALL.map(|b| Choice::new(b, b.word()));
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
            .min_size(vec2(70.0, look::ROW));
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
    let wrong = colour(cx.theme.ui.fails);
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
    look::quiet(ui, told(&read.spots, read.faults.len(), cx.session.feet));
    let bay = &cx.document.bundle().bay;
    match read.spots.iter().filter(|s| !bay.has_floor_at(P2::new(s.0, s.1))).count() {
        0 => {}
        1 => fault(ui, "1 spot lies neither on the floor nor on an apron".into()),
        n => fault(ui, format!("{n} spots lie neither on the floor nor on an apron")),
    }
    let ready = read.faults.is_empty() && error.is_ok();
    let changed = draft.is_changed() || is_unwritten(cx);
    buttons(ui, |ui| {
        let write = ui
            .add_enabled_ui(ready && changed, |ui| {
                look::main_button(ui, "write into the bay's file", cx.theme)
            })
            .inner;
        let why = if ready { "the bay's file says the same" } else { "some lines cannot be used" };
        let write = write.on_hover_text("every job in this bay is judged by it from then on");
        if write.on_disabled_hover_text(why).clicked() {
            out.push(Command::Settle(Settle::Survey(Done::Write)));
        }
        if ui.button("enter on the plan").clicked() {
            out.push(Command::Settle(Settle::Survey(Done::OnPlan)));
        }
        if changed && ui.button("throw it away").clicked() {
            out.push(Command::Settle(Settle::Survey(Done::ThrowAway)));
        }
        close(ui, "close", out);
    });
}

/// The height at one place.
pub fn height(ui: &mut Ui, cx: Cx, height: &mut Height, out: &mut Vec<Command>) {
    let feet = cx.session.feet;
    let known = height.spot.is_some();
    title(ui, if known { "This spot of the floor" } else { "Height of the floor here" });
    let (x, y) = (figure::length(height.at.x, feet), figure::length(height.at.y, feet));
    look::quiet(ui, format!("{x} to the right, {y} into the bay; above the datum, below it with a minus"));
    if !cx.document.bundle().bay.has_floor_at(height.at) {
        look::quiet(ui, "This place lies neither on the floor nor on an apron.");
    }
    let id = egui::Id::unique("height of the floor");
    let edit = TextEdit::singleline(&mut height.text)
        .id(id)
        .hint_text("mm")
        .desired_width(140.0)
        .align(Align2::RIGHT_CENTER)
        .min_size(vec2(140.0, look::ROW));
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
        ui.add(Label::new(egui::RichText::new(fault).color(colour(cx.theme.ui.fails))).wrap());
    }
    let done = |mm| Command::Settle(Settle::Survey(Done::Height { at: height.at, spot: height.spot, mm }));
    let mut fault = None;
    buttons(ui, |ui| {
        if look::main_button(ui, "enter", cx.theme).clicked() || entered {
            match figure::read_length(height.text.trim()) {
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
