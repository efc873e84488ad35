//! Parts of the panel that several of its sections use.

use egui::Ui;

use crate::app::commands::command::{BayAct, Command};
use crate::app::widgets::text_field::TextField;
use crate::app::widgets::{number_field, style};
use crate::model::Bay;

/// What a side of the floor is called.
pub(crate) fn wall_name(bay: &Bay, side: usize) -> String {
    let named = bay.walls.iter().find(|w| w.side.index == side).and_then(|w| w.name.as_ref());
    named.map_or_else(|| format!("wall {side}"), |n| n.to_string())
}

/// Back to nothing chosen.
pub(super) fn choose_none(ui: &mut Ui, out: &mut Vec<Command>) {
    if style::bare_button(ui, "choose none").clicked() {
        out.push(Command::Bay(BayAct::Choose(Vec::new())));
    }
}

/// A length, or nothing.
pub(super) fn optional(text: &str) -> Result<Option<f64>, String> {
    if text.is_empty() { Ok(None) } else { number_field::read_length(text).map(Some) }
}

/// A field for a name.
pub(super) fn text_field(ui: &mut Ui, label: &str, now: &str) -> Option<String> {
    let read =
        |text: &str| if text.is_empty() { Err("a name is needed".into()) } else { Ok(text.to_owned()) };
    words(ui, label, now).show(ui, read)
}

/// A field for a text that may be left out.
pub(super) fn optional_text(ui: &mut Ui, label: &str, now: &str) -> Option<Option<String>> {
    words(ui, label, now).show(ui, |text| Ok((!text.is_empty()).then(|| text.to_owned())))
}

fn words<'a>(ui: &Ui, label: &'a str, now: &str) -> TextField<'a> {
    TextField {
        label,
        shown: now.to_owned(),
        plain: now.to_owned(),
        hint: label,
        width: ui.available_width(),
        figure: false,
    }
}
