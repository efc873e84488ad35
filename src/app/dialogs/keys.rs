//! The list of all keys.

use egui::{Grid, ScrollArea, Ui};

use crate::app::commands::command::Command;
use crate::app::commands::menu::MENUS;
use crate::app::dialogs::parts::{buttons, close, title};
use crate::app::widgets::style;

/// What the pointer and the keys without a menu do on the plan.
const ON_THE_PLAN: &[(&str, &str)] = &[
    ("drag the vehicle", "moves it; Shift keeps it to one direction"),
    ("drag the ring before its nose", "turns it; also Ctrl or the right button on the vehicle"),
    ("drag elsewhere", "moves the plan; also the middle button anywhere"),
    ("wheel", "zooms"),
    ("press", "chooses the finding, or the worst one about the thing; again: the next"),
    ("arrow keys", "move the vehicle by 10 mm, with Shift by 1 mm; with Ctrl left and right turn it by 0.1°"),
    (
        "while the bay is changed",
        "press chooses a thing or a corner, with Shift one more, Shift and drag all within; drag and arrows move, Delete takes away, Esc ends it",
    ),
    (
        "while a thing of the bay is dragged",
        "Alt: nothing draws it; digits: how far from the nearest wall; Tab: from the other",
    ),
    (
        "copies in the bay",
        "Ctrl+C, Ctrl+X, Ctrl+V at the pointer; Ctrl+D beside; Ctrl+A chooses all; the right button: more",
    ),
    (
        "while a tape is held",
        "press its two ends; with Shift the outline of a thing or the vehicle; Ctrl+C copies what it reads",
    ),
    ("single letters", "change what is seen, never the job"),
    ("Esc", "lets go of what is held, puts away a sheet or what lies under the plan"),
];

/// The list of all keys.
pub(super) fn show(ui: &mut Ui, height: f32, out: &mut Vec<Command>) {
    title(ui, "Keys and pointer");
    ScrollArea::vertical().max_height(height).auto_shrink([false, true]).show(ui, |ui| {
        style::section(ui, "On the plan", |_| {});
        Grid::new("pointer").num_columns(2).spacing([16.0, 4.0]).show(ui, |ui| {
            for (what, does) in ON_THE_PLAN {
                ui.label(*what);
                ui.add(egui::Label::new(*does).wrap());
                ui.end_row();
            }
        });
        for (menu, acts) in MENUS {
            style::section(ui, menu, |_| {});
            Grid::new(*menu).num_columns(2).min_col_width(120.0).spacing([16.0, 0.0]).show(ui, |ui| {
                for act in acts.iter().flatten() {
                    ui.monospace(act.key().map_or(String::new(), |k| ui.ctx().format_shortcut(&k)));
                    ui.label(act.words());
                    ui.end_row();
                }
            });
        }
    });
    buttons(ui, |ui| close(ui, "close", out));
}
