//! Sizes and small parts that every panel uses, so that the window looks like one thing.

use egui::{Align, Color32, Layout, RichText, Ui, WidgetText, vec2};

/// Height of everything that can be pressed: for gloves.
pub const ROW: f32 = 28.0;

/// A heading of a panel's section, with something small at its right end.
pub fn section(ui: &mut Ui, words: &str, right: impl FnOnce(&mut Ui)) {
    ui.add_space(10.0);
    ui.horizontal(|ui| {
        ui.label(heading(words, ui.visuals().weak_text_color()));
        ui.with_layout(Layout::right_to_left(Align::Center), right);
    });
    ui.add_space(2.0);
}

fn heading(words: &str, colour: Color32) -> RichText {
    RichText::new(words.to_uppercase()).size(11.5).strong().color(colour)
}

/// A row with its name at the left and its part at the right, filling the rest.
pub fn row<R>(ui: &mut Ui, name: impl Into<WidgetText>, part: impl FnOnce(&mut Ui) -> R) -> R {
    ui.horizontal(|ui| {
        ui.set_min_height(ROW);
        ui.label(name);
        ui.with_layout(Layout::right_to_left(Align::Center), part).inner
    })
    .inner
}

/// A wrapped line of small, quiet text.
pub fn quiet(ui: &mut Ui, words: impl Into<String>) -> egui::Response {
    let colour = ui.visuals().weak_text_color();
    ui.add(egui::Label::new(RichText::new(words).size(12.0).color(colour)).wrap())
}

/// A button that is only its text until it is pointed at.
pub fn bare_button(ui: &mut Ui, words: impl Into<String>) -> egui::Response {
    ui.add(egui::Button::new(RichText::new(words)).frame_when_inactive(false).min_size(vec2(ROW, ROW)))
}
