//! What can be done with what is under the pointer.

use egui::{Response, Ui};

use crate::app::commands::command::{BayAct, Command};
use crate::app::panels::bay::arrange;
use crate::app::state::panel_context::PanelContext;
use crate::edit::bay::{BayThing, PutDown};
use crate::geometry::P2;

/// The menu at the pointer; `at`: the place of the bay it was opened at.
pub(in crate::app::plan) fn menu(
    response: &Response,
    cx: PanelContext,
    chosen: &[BayThing],
    at: Option<P2>,
    out: &mut Vec<Command>,
) {
    let id = response.id.with("opened at");
    if response.secondary_clicked() {
        response.ctx.data_mut(|d| d.insert_temp(id, at));
    }
    response.context_menu(|ui| {
        let at = ui.data(|d| d.get_temp::<Option<P2>>(id)).flatten();
        let before = out.len();
        arrange::acts(ui, cx, chosen, out);
        ui.separator();
        if ui.button("Paste here").clicked() {
            out.push(Command::Bay(BayAct::Paste(at)));
        }
        ui.menu_button("Put down", |ui| put_down(ui, at, out));
        if out.len() > before {
            ui.close();
        }
    });
}

fn put_down(ui: &mut Ui, at: Option<P2>, out: &mut Vec<Command>) {
    for what in PutDown::ALL {
        if ui.button(what.words()).on_hover_text(what.size()).clicked() {
            out.push(Command::Bay(BayAct::PutDown(what, at)));
        }
    }
}
