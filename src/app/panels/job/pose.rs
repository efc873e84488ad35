//! Where the front axle stands, typed; and turning the vehicle round.

use egui::Ui;

use crate::app::commands::command::{Act, Command};
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::{number_field, style};
use crate::edit::{Edit, Motion, Step};
use crate::model::Pose;

pub(super) fn show(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    style::section(ui, "The front axle stands", |_| {});
    if cx.document.job().pose == Pose::Anywhere {
        style::quiet(ui, "The job leaves the place open. Drag the vehicle, or type where it stands.");
    }
    let at = cx.layout().stance;
    let feet = cx.view_state.feet;
    let mut next = at;
    let length = |label, mm| number_field::length_field(label, mm, feet, number_field::WIDTH);
    let x = length("to the right", at.x).row(ui, "to the right", number_field::read_length);
    let y = length("into the bay", at.y).row(ui, "into the bay", number_field::read_length);
    let heading = number_field::number_field("heading", at.heading, "°", "0° nose in");
    let heading = heading.row(ui, "heading", |text| number_field::read_number(text, "°"));
    if let Some(x) = x {
        next.x = x;
    }
    if let Some(y) = y {
        next.y = y;
    }
    if let Some(heading) = heading {
        next.heading = heading;
    }
    if next != at {
        let edit = Edit::Stand { x: next.x, y: next.y, heading: next.heading, how: Motion::Type };
        out.push(Command::Edit(edit, Step::New));
    }
    ui.horizontal(|ui| {
        if ui.button("turn round").on_hover_text(format!("{} (R)", Act::TurnRound.words())).clicked() {
            out.push(Command::Act(Act::TurnRound));
        }
        style::quiet(ui, heading_words(at.heading));
    });
    crate::app::panels::job::toe::show(ui, cx, out);
}

/// A heading in words.
fn heading_words(degrees: f64) -> &'static str {
    let off = |from: f64| ((degrees - from + 180.0).rem_euclid(360.0) - 180.0).abs();
    match () {
        () if off(0.0) <= 45.0 => "nose into the bay",
        () if off(180.0) < 45.0 => "backed in",
        () if off(90.0) <= 45.0 => "nose to the left",
        () => "nose to the right",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headings_in_words() {
        for (degrees, words) in [
            (0.0, "nose into the bay"),
            (359.5, "nose into the bay"),
            (90.0, "nose to the left"),
            (180.0, "backed in"),
            (181.2, "backed in"),
            (270.0, "nose to the right"),
        ] {
            assert_eq!(heading_words(degrees), words, "{degrees}");
        }
    }
}
