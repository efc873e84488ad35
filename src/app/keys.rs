//! Keys of the menu, read and listed.

use egui::{Context, Grid, ScrollArea, Ui};

use super::command::{Act, Command, MENUS};
use super::leaf::{buttons, close, title};
use super::look;

/// Reads the keys of the acts. `typing`: a field has the focus, plain letters and undo are its own. `tool`: what Esc
/// puts away, where it is free.
pub fn read(ctx: &Context, typing: bool, tool: Option<Command>, out: &mut Vec<Command>) {
    let typing = typing || ctx.text_edit_focused();
    // the longer combinations first: Ctrl+Shift+Z is not Ctrl+Z
    let mut acts: Vec<Act> = Act::all().collect();
    acts.sort_by_key(|act| !act.key().is_some_and(|k| k.modifiers.shift));
    for act in acts {
        let Some(key) = act.key() else { continue };
        let of_the_field = act.types_a_letter() || matches!(act, Act::Undo | Act::Redo);
        if typing && of_the_field {
            continue;
        }
        if ctx.input_mut(|i| i.consume_shortcut(&key)) {
            out.push(Command::Act(act));
        }
    }
    if let Some(away) = tool.filter(|_| !typing)
        && ctx.input_mut(|i| i.consume_key(egui::Modifiers::NONE, egui::Key::Escape))
    {
        out.push(away);
    }
    if !typing && ctx.input_mut(|i| i.consume_key(egui::Modifiers::COMMAND, egui::Key::Y)) {
        out.push(Command::Act(Act::Redo));
    }
}

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
        "press chooses a thing or a corner, drag and arrows move it, Delete takes it away, Esc ends it",
    ),
    ("Esc", "lets go of what is held, puts away a sheet or what lies under the plan"),
];

/// The list of all keys.
pub fn sheet(ui: &mut Ui, height: f32, out: &mut Vec<Command>) {
    title(ui, "Keys and pointer");
    ScrollArea::vertical().max_height(height).auto_shrink([false, true]).show(ui, |ui| {
        look::section(ui, "On the plan", |_| {});
        Grid::new("pointer").num_columns(2).spacing([16.0, 4.0]).show(ui, |ui| {
            for (what, does) in ON_THE_PLAN {
                ui.label(*what);
                ui.add(egui::Label::new(*does).wrap());
                ui.end_row();
            }
        });
        for (menu, acts) in MENUS {
            look::section(ui, menu, |_| {});
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
