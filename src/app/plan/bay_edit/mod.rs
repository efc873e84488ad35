//! The bay changed on the plan: its things chosen, dragged, nudged, and the lengths shown meanwhile.

pub(super) mod dragged;
mod draw;
mod keys;
mod menu;
mod under;

pub(super) use dragged::Hand;

use dragged::Dragged;
pub(super) use keys::key;

use draw::show;
use egui::{Modifiers, Rect, Response, Ui};
use keys::copies;
use menu::menu;

use crate::app::commands::command::{BayAct, Command};
use crate::app::plan::drag::Drag;
use crate::app::plan::screen_position::{on_screen, page};
use crate::app::state::panel_context::PanelContext;
use crate::edit::bay::{BayThing, several};
use crate::geometry::{Bounds, P2};
use crate::paint::{View, screen};

/// A press chooses what is under it, or nothing; with Shift besides what is chosen, or no longer.
pub(super) fn press(
    cx: PanelContext,
    view: &View,
    response: &Response,
    rect: Rect,
    more: bool,
    out: &mut Vec<Command>,
) {
    let Some(pointer) = response.interact_pointer_pos() else { return };
    let found = under::at(cx, view, page(rect, pointer));
    match (found, more) {
        (Some(thing), true) => out.push(Command::Bay(BayAct::Toggle(thing))),
        (None, true) => {}
        (found, false) => out.push(Command::Bay(BayAct::Choose(found.into_iter().collect()))),
    }
}

/// The bay that is being changed, over the plan: what is held or chosen, the menu at the pointer, copies.
pub(super) fn over(
    ui: &Ui,
    (cx, chosen): (PanelContext, &[BayThing]),
    response: &Response,
    rect: Rect,
    view: &View,
    drag: Option<&Drag>,
    out: &mut Vec<Command>,
) {
    let held = if let Some(Drag::Thing(held)) = drag { Some(&**held) } else { None };
    show(ui, cx, rect, view, chosen, held);
    if let Some(Drag::Choose { from, to, .. }) = drag {
        let ends = [from, to].map(|p| on_screen(rect, view, *p));
        let pen = egui::Stroke::new(1.2, screen::colour(cx.theme.ui.accent));
        ui.painter().rect_stroke(Rect::from_two_pos(ends[0], ends[1]), 0.0, pen, egui::StrokeKind::Middle);
    }
    let pointer = response.hover_pos().or(response.interact_pointer_pos());
    let at = pointer.map(|pointer| view.to_bay(page(rect, pointer)));
    if response.secondary_clicked()
        && let Some(thing) = pointer.and_then(|p| under::at(cx, view, page(rect, p)))
        && !chosen.contains(&thing)
    {
        out.push(Command::Bay(BayAct::Choose(vec![thing])));
    }
    menu(response, cx, chosen, at, out);
    let focus = ui.memory(|m| m.focused());
    if focus.is_none_or(|id| id == response.id) && drag.is_none() && cx.view_state.tape.is_none() {
        copies(ui, cx, chosen, at, out);
    }
}

/// Chooses what lies within a rectangle, besides what was chosen before.
pub(super) fn choose_within(
    cx: PanelContext,
    (from, to): (P2, P2),
    before: &[BayThing],
    out: &mut Vec<Command>,
) {
    let found = several::within(&cx.document.bundle().bay, &Bounds::of([from, to]));
    let new = found.into_iter().filter(|t| !before.contains(t)).collect();
    out.push(Command::Bay(BayAct::Choose([before.to_vec(), new].concat())));
}

/// What a drag that begins there holds while the bay is changed: a thing with all that is chosen, else a rectangle that
/// chooses (Shift), else the plan.
pub(super) fn begin(
    cx: PanelContext,
    view: &View,
    chosen: &[BayThing],
    (at, from): ([f32; 2], P2),
    modifiers: Modifiers,
    out: &mut Vec<Command>,
) -> Drag {
    let Some(thing) = under::at(cx, view, at) else {
        return match modifiers.shift {
            true => Drag::Choose { from, to: from, before: chosen.to_vec() },
            false => Drag::Plan,
        };
    };
    let things = if chosen.contains(&thing) { chosen.to_vec() } else { vec![thing] };
    if let Some(name) = cx.view_state.locked(&cx.document.bundle().bay, &things) {
        out.push(Command::Bay(BayAct::Refused(format!("{name} is locked: let it go first"))));
        return Drag::Plan;
    }
    out.push(Command::Bay(BayAct::Choose(things.clone())));
    Dragged::start(cx, things, from).map_or(Drag::Plan, |held| Drag::Thing(Box::new(held)))
}
