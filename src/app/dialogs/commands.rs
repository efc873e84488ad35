//! The list of all commands, found by a word.

use egui::{Key, ScrollArea, TextEdit, Ui, vec2};

use crate::app::commands::command::{Act, Command, DialogAnswer};
use crate::app::dialogs::parts::{buttons, close, title};
use crate::app::panels::verdict_bar::state;
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::style;

/// Shows the list; Enter does the first that can be done.
pub(super) fn show(
    ui: &mut Ui,
    cx: PanelContext,
    text: &mut String,
    focused: &mut bool,
    height: f32,
    out: &mut Vec<Command>,
) {
    title(ui, "All commands");
    let edit = TextEdit::singleline(text)
        .hint_text("a word of what it does")
        .desired_width(f32::INFINITY)
        .align(egui::Align2::LEFT_CENTER)
        .min_size(vec2(40.0, style::row_height(ui)));
    let response = ui.add(edit).accessible_name("find a command");
    if !*focused {
        response.request_focus();
        *focused = true;
    }
    let entered = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
    let found: Vec<Act> = Act::all().filter(|act| *act != Act::Commands && is_meant(*act, text)).collect();
    let mut done = None;
    ScrollArea::vertical().max_height(height).auto_shrink([false, true]).show(ui, |ui| {
        for act in &found {
            let (words, can) = state(cx, *act);
            let key = act.key().map(|k| ui.ctx().format_shortcut(&k)).unwrap_or_default();
            let line = egui::Button::selectable(false, words.as_str())
                .shortcut_text(key)
                .min_size(vec2(ui.available_width(), style::row_height(ui)));
            let line = ui.add_enabled(can, line).on_hover_text(act.tells());
            if line.on_disabled_hover_text(act.tells()).clicked() {
                done = Some(*act);
            }
        }
        if found.is_empty() {
            style::quiet(ui, "No command says this.");
        }
    });
    if entered {
        done = found.iter().copied().find(|act| state(cx, *act).1);
    }
    if let Some(act) = done {
        out.push(Command::Answer(DialogAnswer::Close));
        out.push(Command::Act(act));
    }
    buttons(ui, |ui| close(ui, "close", out));
}

/// Whether what it is called, or what it does, holds every word that was typed.
fn is_meant(act: Act, typed: &str) -> bool {
    let said = format!("{} {}", act.words(), act.tells()).to_lowercase();
    typed.to_lowercase().split_whitespace().all(|word| said.contains(word))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn commands_are_found_by_what_they_do() {
        let found = |typed: &str| Act::all().filter(|a| is_meant(*a, typed)).collect::<Vec<_>>();
        assert_eq!(found("half turn"), [Act::TurnRound]);
        assert_eq!(found("DARK"), [Act::Night]);
        assert!(found("").len() > 30 && found("xyzzy").is_empty());
    }
}
