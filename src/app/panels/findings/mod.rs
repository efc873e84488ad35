//! The right panel: every finding as a card, counted, filtered, grouped.

mod accepted;
mod card;

use egui::{Align, Layout, ScrollArea, Ui};

use crate::app::commands::command::Command;
use crate::app::state::finding_list;
use crate::app::state::panel_context::PanelContext;
use crate::app::state::view_state::Grouping;
use crate::app::widgets::{icon, style};
use crate::checks::Outcome;

/// Outcomes that can be left out of the list one by one.
const SHOWN: [Outcome; 5] =
    [Outcome::Fail, Outcome::Movable, Outcome::Unknown, Outcome::Tight, Outcome::Accepted];

/// Width of the list that says how they are grouped.
const GROUPING: f32 = 92.0;

/// Shows the panel.
pub(crate) fn show(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    style::section(ui, "Findings", |ui| counts(ui, cx, out));
    head(ui, cx, out);
    ui.add_space(2.0);
    let groups = finding_list::groups(cx);
    ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        ui.set_max_width(ui.available_width());
        if groups.iter().all(|g| g.findings.is_empty()) {
            style::quiet(ui, finding_list::nothing(cx));
        }
        for group in &groups {
            if group.findings.is_empty() {
                continue;
            }
            if let Some(words) = &group.words {
                ui.add_space(6.0);
                style::quiet(ui, words.as_str());
            }
            for &at in &group.findings {
                card::show(ui, cx, at, out);
            }
        }
        fold(ui, cx, out);
        ui.add_space(12.0);
    });
}

/// How many of each, pressed to leave them out.
fn counts(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    ui.spacing_mut().item_spacing.x = 2.0;
    for outcome in SHOWN {
        let count = finding_list::cards(cx, outcome);
        if count == 0 {
            continue;
        }
        let hidden = cx.view_state.hidden.contains(&outcome);
        if chip(ui, cx, outcome, count, hidden) {
            out.push(Command::FilterOutcome(outcome, !hidden));
        }
    }
}

fn chip(ui: &mut Ui, cx: PanelContext, outcome: Outcome, count: usize, hidden: bool) -> bool {
    let text = egui::RichText::new(format!("      {count}")).size(13.0);
    let text = if hidden { text.strikethrough().weak() } else { text };
    let button = egui::Button::new(text)
        .frame_when_inactive(false)
        .min_size(egui::vec2(style::row_height(ui), style::row_height(ui)));
    let response = ui.add(button);
    let (symbol, tint) = style::symbol_of(outcome, cx.theme);
    let middle = egui::pos2(response.rect.left() + 15.0, response.rect.center().y);
    let tint = if hidden { tint.gamma_multiply(0.4) } else { tint };
    style::draw_symbol(ui.painter(), symbol, middle, 5.0, tint);
    let words = format!("{count} {}", style::word_of(outcome));
    let action = if hidden { "press to list them" } else { "press to leave them out" };
    response.widget_info(|| egui::WidgetInfo::selected(egui::Role::CheckBox, true, !hidden, words.as_str()));
    response.on_hover_text(format!("{words}: {action}")).clicked()
}

fn head(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    ui.horizontal(|ui| {
        let mut text = cx.view_state.filter.clone();
        let edit = egui::TextEdit::singleline(&mut text)
            .hint_text("find a word")
            .desired_width((ui.available_width() - GROUPING - 24.0).max(40.0))
            .align(egui::Align2::LEFT_CENTER)
            .min_size(egui::vec2(40.0, style::row_height(ui)));
        if ui.add(edit).accessible_name("find in the findings").changed() {
            out.push(Command::FilterText(text.clone()));
        }
        let mut picked = cx.view_state.grouping;
        let list = egui::ComboBox::from_id_salt("grouping").width(GROUPING).selected_text(picked.words());
        let list = list.show_ui(ui, |ui| {
            for grouping in Grouping::ALL {
                ui.selectable_value(&mut picked, grouping, grouping.words());
            }
        });
        list.response.accessible_name("how the findings are grouped");
        if picked != cx.view_state.grouping {
            out.push(Command::Group(picked));
        }
    });
    if let Some(setup) = cx.derived.setup() {
        ui.horizontal(|ui| {
            let name = &cx.layout().setups[setup].name;
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                if ui.button("show all").clicked() {
                    out.push(Command::ShowSetup(None));
                }
                ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                    ui.add(egui::Label::new(format!("only {name} and the vehicle")).truncate());
                });
            });
        });
    }
}

/// What asks for nothing, folded.
fn fold(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    let quiet = finding_list::quiet(cx);
    if quiet.is_empty() {
        return;
    }
    ui.add_space(8.0);
    let count = |o| quiet.iter().filter(|i| cx.findings()[**i].outcome == o).count();
    let mut parts = Vec::new();
    for (outcome, words) in
        [(Outcome::Pass, "fit"), (Outcome::Confirm, "to confirm"), (Outcome::NotApplicable, "do not apply")]
    {
        if count(outcome) > 0 {
            parts.push(format!("{} {words}", count(outcome)));
        }
    }
    ui.horizontal(|ui| {
        icon::fold(ui, cx.view_state.passed);
        if style::bare_button(ui, parts.join(", ")).clicked() {
            out.push(Command::ShowPassed(!cx.view_state.passed));
        }
    });
    if cx.view_state.passed {
        for at in quiet {
            card::show(ui, cx, at, out);
        }
    }
}
