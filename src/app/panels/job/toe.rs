//! Toe of the rear wheels, and of the front where a procedure asks for it; the thrust line that follows.

use egui::Ui;

use crate::app::commands::command::Command;
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::{number_field, style};
use crate::edit::{Edit, Step};
use crate::model::Lack;
use crate::model::job::Toe;

/// One side typed while the other is still missing.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Half(Option<f64>, Option<f64>);

/// Forgets half a toe: another job has another vehicle.
pub(super) fn forget(ctx: &egui::Context) {
    ctx.data_mut(|d| d.remove_by_type::<Half>());
}

pub(super) fn show(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    let job = cx.document.job();
    axle(ui, "rear", job.rear_toe, |toe| out.push(Command::Edit(Edit::RearToe(toe), Step::New)));
    let front_asked = cx.derived.judgement.missing.contains(&Lack::FrontToe);
    if front_asked || job.front_toe.is_some() {
        axle(ui, "front", job.front_toe, |toe| out.push(Command::Edit(Edit::FrontToe(toe), Step::New)));
    }
    let words = match cx.layout().thrust_angle() {
        Some(angle) => thrust_words(angle),
        None => "not known: rear toe".to_owned(),
    };
    style::row(ui, "thrust line", |ui| {
        ui.label(words).on_hover_text("(left rear toe - right rear toe) / 2; toe-in counts positive, and a positive thrust angle points to the right of the centreline")
    });
}

fn axle(ui: &mut Ui, which: &str, toe: Option<Toe>, send: impl FnOnce(Option<Toe>)) {
    let id = ui.make_persistent_id(("half a toe", which));
    let half: Half = ui.data(|d| d.get_temp(id)).unwrap_or_default();
    let now: Half = match toe {
        Some(t) => Half(Some(t.left), Some(t.right)),
        None => half,
    };
    let mut next = now;
    for (side, place) in [("left", 0), ("right", 1)] {
        let label = format!("{which} toe, {side}");
        let value = if place == 0 { now.0 } else { now.1 };
        let field = match value {
            Some(v) => number_field::number_field(&label, v, "°", "toe-in is +"),
            None => number_field::empty_field(&label, "toe-in is +", number_field::WIDTH),
        };
        let typed = field.row(ui, &label, |text| match text {
            "" => Ok(None),
            text => number_field::read_number(text, "°").map(Some),
        });
        if let Some(typed) = typed {
            *(if place == 0 { &mut next.0 } else { &mut next.1 }) = typed;
        }
    }
    if next == now {
        return;
    }
    ui.data_mut(|d| d.insert_temp(id, next));
    let whole = match next {
        Half(Some(left), Some(right)) => Some(Toe { left, right }),
        _ => None,
    };
    if whole != toe {
        send(whole);
    }
}

fn thrust_words(angle: f64) -> String {
    let size = number_field::number((angle.abs() * 1000.0).round() / 1000.0);
    if angle.abs() < 0.0005 {
        "straight ahead".into()
    } else if angle > 0.0 {
        format!("{size}° to the right")
    } else {
        format!("{size}° to the left")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_thrust_line_in_words() {
        for (angle, words) in
            [(0.15, "0.15° to the right"), (-0.1, "0.1° to the left"), (0.0, "straight ahead")]
        {
            assert_eq!(thrust_words(angle), words);
        }
    }
}
