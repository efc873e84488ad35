//! Doors that open and things that can be moved.

use egui::Ui;

use crate::app::commands::command::Command;
use crate::app::panels::job::drive_in;
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::combo::{ComboEntry, combo};
use crate::app::widgets::style;
use crate::app::widgets::switch::switch;
use crate::app::widgets::text_field::TextField;
use crate::edit::{Edit, Step};
use crate::model::when::When;

pub(super) fn show(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    let bundle = cx.document.bundle();
    let (bay, job) = (&bundle.bay, &bundle.job);
    style::section(ui, "Doors and things", |_| {});
    let mut any = false;
    for door in &bay.doorways {
        any = true;
        let open = job.doors_open.contains(&door.name);
        if switch(ui, door.name.as_str(), ("shut", "open"), open) {
            out.push(Command::Edit(Edit::Door { name: door.name.clone(), open: !open }, Step::New));
        }
    }
    for thing in bay.fixtures.iter().filter(|f| f.movable || job.cleared.contains(&f.name)) {
        any = true;
        let away = job.cleared.contains(&thing.name);
        if switch(ui, thing.name.as_str(), ("stands", "cleared"), away) {
            out.push(Command::Edit(Edit::Clear { name: thing.name.clone(), away: !away }, Step::New));
        }
    }
    if bay.doorways.len() > 1 {
        enter_by(ui, cx, out);
    }
    if !bay.doorways.is_empty() || job.drive_in {
        drive_in::show(ui, cx, out);
    }
    let sun = bay.bearing.is_some() && bay.place.is_some();
    if sun || job.when.is_some() {
        when(ui, cx, out);
    }
    if !any {
        style::quiet(ui, "No doorway, and nothing that can be moved.");
    }
}

/// Which doorway the vehicle comes in by.
fn enter_by(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    let bundle = cx.document.bundle();
    let doors = &bundle.bay.doorways;
    let picked = bundle.job.enter_by.as_ref().or(doors.first().map(|d| &d.name)).map_or("", |n| n.as_str());
    let choices = doors.iter().enumerate().map(|(i, d)| {
        // the first needs no mention in the job
        ComboEntry::new((i > 0).then(|| d.name.clone()), d.name.as_str())
    });
    style::row(ui, "comes in by", |ui| {
        let width = ui.available_width().min(170.0);
        if let Some(door) = combo(ui, "comes in by", picked, picked, width, choices) {
            out.push(Command::Edit(Edit::EnterBy(door), Step::New));
        }
    });
}

/// When the work is done: where the sun stands then.
fn when(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    let now = cx.document.job().when.as_ref().map(|w| w.text.to_string()).unwrap_or_default();
    style::quiet(ui, "For the sun: date, time and offset from UTC");
    let field = TextField {
        label: "date and time",
        shown: now.clone(),
        plain: now,
        hint: "2026-11-24 15:00 +00:00",
        width: ui.available_width(),
        figure: false,
    };
    let typed = field.show(ui, |text| match text {
        "" => Ok(None),
        text => {
            When::parse(text).map(Some).map_err(|why| format!("{why}; write it as 2026-11-24 15:00 +00:00"))
        }
    });
    if let Some(when) = typed {
        out.push(Command::Edit(Edit::When(when), Step::New));
    }
}
