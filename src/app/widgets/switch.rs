//! A thing that is one way or the other.

use egui::Ui;

use crate::app::widgets::style;

/// A row with both ways it can be, of which the one it is stands out; `second`: it is the second. Tells whether a person
/// wants it the other way.
pub(crate) fn switch(ui: &mut Ui, name: &str, (one, other): (&str, &str), second: bool) -> bool {
    style::row(ui, egui::RichText::new(name), |ui| {
        let mut changed = false;
        ui.spacing_mut().item_spacing.x = 2.0;
        style::side_by_side(ui, (name, "switch"), |ui| {
            for (words, is_second) in [(one, false), (other, true)] {
                let on = second == is_second;
                let high = style::row_height(ui);
                let button = egui::Button::selectable(on, words)
                    .frame_when_inactive(true)
                    .min_size(egui::vec2(52.0, high));
                let response = ui.add(button);
                response.widget_info(|| {
                    egui::WidgetInfo::selected(egui::Role::RadioButton, true, on, format!("{name}: {words}"))
                });
                changed |= response.clicked() && !on;
            }
        });
        changed
    })
}
