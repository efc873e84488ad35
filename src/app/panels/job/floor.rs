//! The floor under the vehicle: level, one plane with the wheels, flat; what to set; and the survey it all rests on.

use egui::Ui;

use crate::app::commands::command::{Act, Command};
use crate::app::state::panel_context::PanelContext;
use crate::app::state::survey_draft::SurveyDraft;
use crate::app::widgets::style;
use crate::app::widgets::switch::switch;
use crate::report::floor_lines;

pub(super) fn show(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    style::section(ui, "The floor", |_| {});
    let survey = &cx.layout().stage.survey;
    if survey.is_empty() {
        style::quiet(ui, "The bay's file has no floor survey: nothing is known of its heights.");
    } else {
        let on = cx.view_state.heights;
        if switch(ui, "heights on the plan", ("hidden", "shown"), on) {
            out.push(Command::Act(Act::Heights));
        }
        let shown = cx.view_state.bottom.is_profile();
        if switch(ui, "profile", ("hidden", "shown"), shown) {
            out.push(Command::Act(Act::Profile));
        }
        for line in floor_lines(cx.layout(), cx.show()) {
            style::quiet(ui, line.trim());
        }
    }
    let entered = cx.survey.is_some_and(SurveyDraft::is_changed);
    if entered {
        style::quiet(ui, "Some lines of the table of heights cannot be used yet.");
    }
    let words = if entered { "go on with the survey" } else { "survey of the floor" };
    if ui.button(words).on_hover_text("heights typed, pasted or entered on the plan (G)").clicked() {
        out.push(Command::Act(Act::Survey));
    }
}
