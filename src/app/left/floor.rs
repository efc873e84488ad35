//! The floor under the vehicle: level, one plane with the wheels, flat; what to set; and the survey it all rests on.

use egui::Ui;

use super::things::switch;
use crate::app::command::{Act, Command};
use crate::app::cx::Cx;
use crate::app::look;
use crate::report::floor_lines;

pub fn show(ui: &mut Ui, cx: Cx, out: &mut Vec<Command>) {
    look::section(ui, "The floor", |_| {});
    let survey = &cx.layout().stage.survey;
    if survey.is_empty() {
        look::quiet(ui, "The bay's file has no floor survey: nothing is known of its heights.");
    } else {
        let on = cx.session.heights;
        if switch(ui, "heights on the plan", if on { "shown" } else { "hidden" }, on) {
            out.push(Command::Act(Act::Heights));
        }
        for line in floor_lines(cx.layout()) {
            look::quiet(ui, line.trim());
        }
    }
}
