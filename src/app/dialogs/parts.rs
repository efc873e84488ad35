//! The small parts every dialog is made of.

use egui::{Align, Label, Layout, RichText, Ui};

use crate::app::commands::command::{Command, DialogAnswer};
use crate::app::widgets::style;

/// The heading of a dialog.
pub(super) fn title(ui: &mut Ui, words: &str) {
    ui.add(Label::new(RichText::new(words).size(18.0).strong()).wrap());
}

/// A wrapped line of a dialog.
pub(super) fn text(ui: &mut Ui, words: impl Into<String>) -> egui::Response {
    ui.add(Label::new(words.into()).wrap())
}

/// A row of buttons at the right end, in the order they are added.
pub(super) fn buttons(ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    ui.add_space(4.0);
    ui.with_layout(Layout::right_to_left(Align::Center), |ui| style::side_by_side(ui, "buttons", add));
}

/// The button that puts a dialog away.
pub(super) fn close(ui: &mut Ui, words: &str, out: &mut Vec<Command>) {
    if ui.button(words).clicked() {
        out.push(Command::Answer(DialogAnswer::Close));
    }
}
