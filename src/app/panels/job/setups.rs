//! The setups, one at a time or all together, each with how it comes out.

use egui::{Align, Layout, Ui};

use crate::app::commands::command::Command;
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::style;

pub(super) fn show(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    let layout = cx.layout();
    style::section(ui, "Setups", |_| {});
    if layout.setups.is_empty() {
        style::quiet(ui, "No procedure, no setup: the vehicle alone is judged in the bay.");
        return;
    }
    let shown = cx.derived.setup();
    if entry(ui, cx, "all together", shown.is_none(), None) {
        out.push(Command::ShowSetup(None));
    }
    for (i, setup) in layout.setups.iter().enumerate() {
        let procedure = &layout.bundle.procedures[setup.procedure];
        let words = if procedure.setups.len() == 1 && *setup.name == *procedure.name.text {
            format!("{}  {}", i + 1, setup.name)
        } else {
            format!("{}  {}: {}", i + 1, procedure.name, setup.name)
        };
        if entry(ui, cx, &words, shown == Some(i), Some(i)) {
            out.push(Command::ShowSetup(Some(i)));
        }
    }
    for (p, sensor) in &layout.rig.without {
        let name = &layout.bundle.procedures[*p].name;
        style::quiet(ui, format!("{name} does not apply: the vehicle has no {sensor}"));
    }
}

fn entry(ui: &mut Ui, cx: PanelContext, words: &str, chosen: bool, setup: Option<usize>) -> bool {
    let width = ui.available_width();
    let fill = if chosen { ui.visuals().selection.bg_fill } else { egui::Color32::TRANSPARENT };
    let button =
        egui::Button::selectable(chosen, "").fill(fill).min_size(egui::vec2(width, style::row_height(ui)));
    let response = ui.add_sized([width, style::row_height(ui)], button);
    response.widget_info(|| egui::WidgetInfo::selected(egui::Role::Button, true, chosen, words));
    let inside = response.rect.shrink2(egui::vec2(8.0, 0.0));
    let mut row =
        ui.new_child(egui::UiBuilder::new().max_rect(inside).layout(Layout::right_to_left(Align::Center)));
    if setup.is_some() {
        style::symbol(&mut row, cx.derived.outcome_of(setup), cx.theme);
    }
    row.with_layout(Layout::left_to_right(Align::Center), |ui| {
        ui.add(egui::Label::new(words).truncate().show_tooltip_when_elided(false));
    });
    response.on_hover_text(words).clicked()
}
