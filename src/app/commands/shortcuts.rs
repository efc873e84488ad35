//! Keys of the menu, read.

use egui::Context;

use crate::app::commands::command::{Act, Command};

/// Reads the keys of the acts. `typing`: a field has the focus, plain letters and undo are its own. `tool`: what Esc
/// puts away, where it is free. `adrift`: the field that was typed into is gone; plain letters are still meant for it.
pub(crate) fn read(ctx: &Context, typing: bool, adrift: bool, tool: Option<Command>, out: &mut Vec<Command>) {
    let typing = typing || ctx.text_edit_focused();
    // the longer combinations first: Ctrl+Shift+Z is not Ctrl+Z
    let mut acts: Vec<Act> = Act::all().collect();
    acts.sort_by_key(|act| !act.key().is_some_and(|k| k.modifiers.shift));
    for act in acts {
        let Some(key) = act.key() else { continue };
        let of_the_field = act.types_a_letter() || matches!(act, Act::Undo | Act::Redo);
        if (typing && of_the_field) || (adrift && act.types_a_letter()) {
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
