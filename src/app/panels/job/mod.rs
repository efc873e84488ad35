//! The left panel: what the job is put together from, where the vehicle stands, what is missing and what to confirm.

mod doors_and_fixtures;
mod drive_in;
mod files;
mod floor;
mod missing_figures;
mod pose;
mod readiness;
mod setups;
mod toe;

use egui::{ScrollArea, Ui};

use crate::app::commands::command::Command;
use crate::app::panels::bay;
use crate::app::state::panel_context::PanelContext;

/// Forgets what was typed and not taken.
pub(crate) fn forget(ctx: &egui::Context) {
    crate::app::widgets::text_field::forget(ctx);
    toe::forget(ctx);
    bay::forget(ctx);
}

/// Shows the panel.
pub(crate) fn show(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        ui.set_max_width(ui.available_width());
        if let Some(chosen) = &cx.view_state.bay {
            bay::show(ui, cx, chosen, out);
            ui.add_space(12.0);
            return;
        }
        files::show(ui, cx, out);
        missing_figures::show(ui, cx, out);
        pose::show(ui, cx, out);
        setups::show(ui, cx, out);
        doors_and_fixtures::show(ui, cx, out);
        floor::show(ui, cx, out);
        files::rules(ui, cx, out);
        readiness::show(ui, cx, out);
        ui.add_space(12.0);
    });
}
