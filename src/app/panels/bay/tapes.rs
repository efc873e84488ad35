//! What the tape read between corners and jambs, which reading does not fit, what to tape next, and the corners put there.

use egui::{CollapsingHeader, RichText, Ui};

use super::parts::optional;
use crate::app::commands::command::Command;
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::combo::{ComboEntry, combo};
use crate::app::widgets::number_field::{WIDTH, empty_field, length_field};
use crate::app::widgets::{number_field, style, text_field};
use crate::edit::Step;
use crate::edit::bay::{corners_taken, tape_read, tape_reread};
use crate::geometry::adjust::Doubt;
use crate::layout::taped::{Corners, NoCorners, Tape};
use crate::model::taped::{JambEnd, TapedPoint};
use crate::model::{Bay, Spot};
use crate::report;

/// Two points picked for a tape of one's own choice.
#[derive(Clone, Debug, Default, PartialEq)]
struct Between(Option<TapedPoint>, Option<TapedPoint>);

/// Shows the tapes; folded away until the bay has some.
pub(super) fn show(ui: &mut Ui, cx: PanelContext, bay: &Bay, out: &mut Vec<Command>) {
    ui.add_space(6.0);
    let header = CollapsingHeader::new(RichText::new("Measured with a tape").strong());
    header.id_salt("tapes").default_open(!bay.taped.is_empty()).show(ui, |ui| {
        let Some(found) = cx.derived.taped() else { return };
        if bay.taped.is_empty() {
            style::quiet(
                ui,
                "Type what the tape reads between two corners, or between a corner and a jamb of a door. The sides first, then the diagonals: the corners follow from all readings together.",
            );
        } else {
            style::quiet(ui, report::corners::says(bay, found, cx.show()));
        }
        readings(ui, cx, bay, found.as_ref().ok(), out);
        wanted(ui, cx, bay, found, out);
        of_own_choice(ui, cx, bay, out);
        if let Ok(corners) = found {
            errors(ui, cx, corners);
            take(ui, cx, bay, corners, out);
        }
    });
}

/// As it stands beside its field: corners by their number alone.
fn short(from: &TapedPoint, to: &TapedPoint) -> String {
    format!("{from} to {to}")
}

fn name(point: &TapedPoint) -> String {
    match point {
        TapedPoint::Corner(n, _) => format!("corner {n}"),
        TapedPoint::Jamb(..) => point.to_string(),
    }
}

/// What was read, each with how far it is off.
fn readings(ui: &mut Ui, cx: PanelContext, bay: &Bay, found: Option<&Corners>, out: &mut Vec<Command>) {
    let feet = cx.view_state.feet;
    for (i, tape) in bay.taped.iter().enumerate() {
        let label = format!("reading {}, {} to {}", i + 1, name(&tape.0), name(&tape.1));
        let typed = length_field(&label, tape.2, feet, WIDTH).row(ui, &short(&tape.0, &tape.1), optional);
        if let Some(mm) = typed {
            let title = if mm.is_some() { "read a tape again" } else { "take a reading out" };
            out.push(Command::bay_rewritten(title.into(), tape_reread(bay, i, mm), Step::New));
        }
        let Some(found) = found else { continue };
        let off = number_field::length((found.residuals[i] * 10.0).round() / 10.0 + 0.0, feet);
        if found.doubt == Doubt::Reading(i) {
            let words = format!("does not fit the others: they say {off} more; read it again");
            ui.label(RichText::new(words).color(ui.visuals().error_fg_color));
        } else if found.unchecked.contains(&i) {
            style::quiet(ui, "no other reading checks it");
        } else {
            style::quiet(ui, format!("adjusted by {off}"));
        }
    }
    if !bay.taped.is_empty() {
        style::quiet(ui, "An emptied field takes its reading out.");
    }
}

/// The tapes to read next, each with a field.
fn wanted(
    ui: &mut Ui,
    cx: PanelContext,
    bay: &Bay,
    found: &Result<Corners, NoCorners>,
    out: &mut Vec<Command>,
) {
    let sides: Vec<Tape>;
    let next = match found {
        Ok(corners) => &corners.next,
        Err(NoCorners::Open { needed, .. }) => needed,
        Err(NoCorners::NoTapes) => {
            let n = bay.floor.points.len();
            let corner = |i: usize| TapedPoint::Corner(i, Spot::NOWHERE);
            sides = (0..n.min(4)).map(|i| (corner(i), corner((i + 1) % n))).collect();
            &sides
        }
        Err(NoCorners::Contradicting | NoCorners::Crossed) => return,
    };
    if let Some((from, to)) = next.first() {
        style::quiet(ui, "To tape next, corner to corner");
        if ui.data_mut(|d| d.remove_temp::<Goes>(egui::Id::unique("next tape"))).is_some() {
            text_field::focus(ui.ctx(), &label_of(from, to));
        }
    }
    for (from, to) in next {
        reading(ui, cx, bay, from, to, out);
    }
}

/// Enter in one field goes on to the next tape that is wanted.
#[derive(Clone, Copy, Debug, Default)]
struct Goes;

fn label_of(from: &TapedPoint, to: &TapedPoint) -> String {
    format!("tape {} to {}", name(from), name(to))
}

/// An empty field for one tape. Enter goes on to the next of them.
fn reading(
    ui: &mut Ui,
    cx: PanelContext,
    bay: &Bay,
    from: &TapedPoint,
    to: &TapedPoint,
    out: &mut Vec<Command>,
) {
    let label = label_of(from, to);
    let hint = if cx.view_state.feet { "ft in" } else { "mm" };
    let typed = empty_field(&label, hint, WIDTH).row(ui, &short(from, to), |text| {
        match number_field::read_length(text)? {
            mm if mm > 0.0 => Ok(mm),
            _ => Err("a tape reads more than nothing".into()),
        }
    });
    if let Some(mm) = typed {
        let next = tape_read(bay, from, to, mm);
        out.push(Command::bay_rewritten(format!("read the {label}"), Ok(next), Step::New));
        if ui.input(|i| i.key_pressed(egui::Key::Enter)) {
            ui.data_mut(|d| d.insert_temp(egui::Id::unique("next tape"), Goes));
        }
    }
}

/// A tape between any two points.
fn of_own_choice(ui: &mut Ui, cx: PanelContext, bay: &Bay, out: &mut Vec<Command>) {
    let id = ui.make_persistent_id("tape between");
    let mut between: Between = ui.data(|d| d.get_temp(id)).unwrap_or_default();
    let corners = (0..bay.floor.points.len()).map(|i| TapedPoint::Corner(i, Spot::NOWHERE));
    let jambs = bay
        .doorways
        .iter()
        .flat_map(|d| [JambEnd::From, JambEnd::To].map(|end| TapedPoint::Jamb(d.name.clone(), end)));
    let points: Vec<TapedPoint> = corners.chain(jambs).collect();
    let ends = [("another tape from", &mut between.0), ("another tape to", &mut between.1)];
    style::quiet(ui, "Another tape");
    for (label, end) in ends {
        let shown = end.as_ref().map_or_else(String::new, name);
        style::row(ui, label.trim_start_matches("another tape "), |ui| {
            let choices = points.iter().map(|p| ComboEntry::new(p.clone(), name(p)));
            if let Some(picked) = combo(ui, label, &shown, &shown, WIDTH, choices) {
                *end = Some(picked);
            }
        });
    }
    if let Between(Some(from), Some(to)) = &between
        && name(from) != name(to)
    {
        let before = out.len();
        reading(ui, cx, bay, from, to, out);
        if out.len() > before {
            between = Between::default();
        }
    }
    ui.data_mut(|d| d.insert_temp(id, between));
}

/// How sure each corner is.
fn errors(ui: &mut Ui, cx: PanelContext, found: &Corners) {
    let tenths = |mm: f64| number_field::length((mm * 10.0).round() / 10.0, cx.view_state.feet);
    for (i, (p, error)) in found.corners.iter().zip(&found.errors).enumerate() {
        let words = format!(
            "corner {i}: {} right, {} in; give or take {} and {}",
            tenths(p.x),
            tenths(p.y),
            tenths(error.x),
            tenths(error.y)
        );
        style::quiet(ui, words);
    }
}

fn take(ui: &mut Ui, cx: PanelContext, bay: &Bay, found: &Corners, out: &mut Vec<Command>) {
    match corners_taken(bay, &found.corners, &found.jambs) {
        Ok(next) if next == *bay => drop(style::quiet(ui, "The floor is drawn where the tapes have it.")),
        Ok(next) => {
            let button = style::main_button(ui, "put the corners there", cx.theme);
            if button.on_hover_text("the floor and the jambs as the tapes have them").clicked() {
                out.push(Command::bay_rewritten(
                    "put the corners where the tapes have them".into(),
                    Ok(next),
                    Step::New,
                ));
            }
        }
        Err(why) => drop(style::quiet(ui, format!("The corners cannot be put there: {why}."))),
    }
}

/// Forgets points that were picked: another bay has others.
pub(crate) fn forget(ctx: &egui::Context) {
    ctx.data_mut(|d| d.remove_by_type::<Between>());
}
