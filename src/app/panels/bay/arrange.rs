//! What is done to the chosen things together.

use egui::Ui;

use crate::app::commands::command::{BayAct, Command};
use crate::app::state::panel_context::PanelContext;
use crate::edit::bay::BayThing;
use crate::edit::bay::several::{Align, copied};

/// Buttons for what can be done with them, one below the other.
pub(crate) fn acts(ui: &mut Ui, cx: PanelContext, chosen: &[BayThing], out: &mut Vec<Command>) {
    let bay = &cx.document.bundle().bay;
    let chosen: Vec<BayThing> = chosen.iter().copied().filter(|t| t.is_in(bay)).collect();
    if chosen.is_empty() {
        return;
    }
    let mut send = |act: BayAct| out.push(Command::Bay(act));
    let copies = !copied(bay, &chosen).0.is_empty();
    let shaped = chosen.iter().any(|t| t.shape(bay).is_some());
    let locked = cx.view_state.locked(bay, &chosen).is_some();
    let copy = |ui: &mut Ui, words: &str, keys: &str| {
        let button = ui.add_enabled(copies, egui::Button::new(words));
        button
            .on_hover_text(keys)
            .on_disabled_hover_text("doorways, posts and corners belong where they are")
            .clicked()
    };
    if copy(ui, "Copy", "Ctrl+C, then Ctrl+V") {
        send(BayAct::Copy(chosen.clone()));
    }
    if copy(ui, "Duplicate", "Ctrl+D") {
        send(BayAct::Duplicate(chosen.clone()));
    }
    if shaped {
        if ui.button("Mirror left and right").on_hover_text("where they stand, across the bay").clicked() {
            send(BayAct::Mirror(chosen.clone(), true));
        }
        if ui.button("Mirror near and far").on_hover_text("where they stand, along the bay").clicked() {
            send(BayAct::Mirror(chosen.clone(), false));
        }
    }
    if chosen.len() > 1 {
        ui.menu_button("Align", |ui| {
            for to in Align::ALL {
                if ui.button(to.words()).on_hover_text("with the one chosen first").clicked() {
                    send(BayAct::Align(chosen.clone(), to));
                }
            }
        });
    }
    let (words, hover) = match locked {
        true => ("Unlock", "hand and keys move it again"),
        false => ("Lock", "hand and keys do not move it; the fields still do"),
    };
    if ui.button(words).on_hover_text(hover).clicked() {
        send(BayAct::Lock(chosen.clone(), !locked));
    }
    if ui.button("Take away").on_hover_text("Delete; undo brings it back").clicked() {
        send(BayAct::TakeAway(chosen));
    }
}
