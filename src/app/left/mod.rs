//! The left panel: what the job is put together from, where the vehicle stands, what is missing and what to confirm.

mod ask;
pub mod bay;
mod confirm;
mod floor;
mod job;
mod setups;
mod stand;
mod switch;
mod things;
mod toe;
mod way;

use egui::{ScrollArea, Ui};

use super::command::Command;
use super::cx::Cx;

/// Forgets what was typed and not taken.
pub fn forget(ctx: &egui::Context) {
    super::field::forget(ctx);
    toe::forget(ctx);
}

/// Shows the panel.
pub fn show(ui: &mut Ui, cx: Cx, out: &mut Vec<Command>) {
    ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        ui.set_max_width(ui.available_width());
        if let Some(chosen) = cx.session.bay {
            bay::show(ui, cx, chosen, out);
            ui.add_space(12.0);
            return;
        }
        job::show(ui, cx, out);
        ask::missing(ui, cx, out);
        stand::show(ui, cx, out);
        setups::show(ui, cx, out);
        things::show(ui, cx, out);
        floor::show(ui, cx, out);
        ask::given(ui, cx, out);
        job::rules(ui, cx, out);
        confirm::show(ui, cx, out);
        ui.add_space(12.0);
    });
}
