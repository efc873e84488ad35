//! Doors that open and things that can be moved.

use egui::Ui;

use crate::app::command::Command;
use crate::app::cx::Cx;
use crate::app::look::{self, ROW};
use crate::edit::{Edit, Step};

pub fn show(ui: &mut Ui, cx: Cx, out: &mut Vec<Command>) {
    let bundle = cx.document.bundle();
    let (bay, job) = (&bundle.bay, &bundle.job);
    look::section(ui, "Doors and things", |_| {});
    let mut any = false;
    for door in &bay.doorways {
        any = true;
        let open = job.doors_open.contains(&door.name);
        if switch(ui, door.name.as_str(), if open { "open" } else { "shut" }, open) {
            out.push(Command::Edit(Edit::Door { name: door.name.clone(), open: !open }, Step::New));
        }
    }
    for thing in bay.fixtures.iter().filter(|f| f.movable || job.cleared.contains(&f.name)) {
        any = true;
        let away = job.cleared.contains(&thing.name);
        let words = if away { "cleared" } else { "stands" };
        if switch(ui, thing.name.as_str(), words, away) {
            out.push(Command::Edit(Edit::Clear { name: thing.name.clone(), away: !away }, Step::New));
        }
    }
    if !any {
        look::quiet(ui, "No doorway, and nothing that can be moved.");
    }
}

/// A row with a button that says how it is and changes it.
fn switch(ui: &mut Ui, name: &str, state: &str, on: bool) -> bool {
    look::row(ui, egui::RichText::new(name), |ui| {
        let button =
            egui::Button::selectable(on, state).frame_when_inactive(true).min_size(egui::vec2(72.0, ROW));
        let response = ui.add(button);
        response.widget_info(|| {
            egui::WidgetInfo::selected(egui::Role::CheckBox, true, on, format!("{name}: {state}"))
        });
        response.clicked()
    })
}
