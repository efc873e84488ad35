//! What a person confirms on the day, and what is always said.

use egui::Ui;

use crate::app::commands::command::Command;
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::style;
use crate::checks::{Outcome, RuleId};
use crate::report::{cautions, words};

pub(super) fn show(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    let mut lines: Vec<String> = Vec::new();
    for finding in cx.findings() {
        if finding.rule == RuleId::Readiness && finding.outcome == Outcome::Confirm {
            let line = words::title(finding, cx.layout(), cx.show());
            if !lines.contains(&line) {
                lines.push(line);
            }
        }
    }
    let done = lines.iter().filter(|l| cx.view_state.ticked.contains(*l)).count();
    style::section(ui, "To confirm on the day", |ui| {
        if !lines.is_empty() {
            style::quiet(ui, format!("{done} of {}", lines.len()));
        }
    });
    if lines.is_empty() {
        style::quiet(ui, "Nothing is asked.");
    }
    for line in lines {
        let mut ticked = cx.view_state.ticked.contains(&line);
        ui.style_mut().wrap_mode = Some(egui::TextWrapMode::Wrap);
        if ui.checkbox(&mut ticked, line.as_str()).changed() {
            out.push(Command::Tick { line, done: ticked });
        }
    }
    style::section(ui, "Always", |_| {});
    for line in cautions(cx.show()) {
        style::quiet(ui, line);
    }
}
