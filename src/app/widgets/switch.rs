//! A thing that is one way or the other.

use egui::Ui;

use crate::app::widgets::style;
use crate::app::widgets::style::ROW;

/// A row with a button that says how it is and changes it.
pub(crate) fn switch(ui: &mut Ui, name: &str, state: &str, on: bool) -> bool {
    style::row(ui, egui::RichText::new(name), |ui| {
        let button =
            egui::Button::selectable(on, state).frame_when_inactive(true).min_size(egui::vec2(72.0, ROW));
        let response = ui.add(button);
        response.widget_info(|| {
            egui::WidgetInfo::selected(egui::Role::CheckBox, true, on, format!("{name}: {state}"))
        });
        response.clicked()
    })
}
