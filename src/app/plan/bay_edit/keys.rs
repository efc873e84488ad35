//! Keys while the plan has them and the bay is changed.

use egui::{Event, Key, Modifiers, Ui};

use crate::app::commands::command::{BayAct, Command};
use crate::app::state::panel_context::PanelContext;
use crate::edit::Step;
use crate::edit::bay::{BayThing, several};
use crate::geometry::{P2, V2};
use crate::paint::View;

/// Arrows move what is chosen by 10 mm along the page, with Shift by 1 mm; Delete takes it away; Ctrl+D puts a copy beside it;
/// Ctrl+A chooses all that stands in the bay.
pub(in crate::app::plan) fn key(
    cx: PanelContext,
    chosen: &[BayThing],
    (key, modifiers, repeat): (Key, Modifiers, bool),
    view: &View,
    out: &mut Vec<Command>,
) {
    let bay = &cx.document.bundle().bay;
    if modifiers.command && key == Key::A {
        return out.push(Command::Bay(BayAct::Choose(several::shaped(bay).collect())));
    }
    let chosen: Vec<BayThing> = chosen.iter().copied().filter(|t| t.is_in(bay)).collect();
    if chosen.is_empty() {
        return;
    }
    let (right, down) = match key {
        Key::D if modifiers.command => return out.push(Command::Bay(BayAct::Duplicate(chosen))),
        Key::Delete | Key::Backspace => return out.push(Command::Bay(BayAct::TakeAway(chosen))),
        Key::ArrowLeft => (-1.0, 0.0),
        Key::ArrowRight => (1.0, 0.0),
        Key::ArrowUp => (0.0, -1.0),
        Key::ArrowDown => (0.0, 1.0),
        _ => return,
    };
    if let Some(name) = cx.view_state.locked(bay, &chosen) {
        return out.push(Command::Bay(BayAct::Refused(format!("{name} is locked: let it go first"))));
    }
    let way = view.way_to_bay([right, down]).normalize() * if modifiers.shift { 1.0 } else { 10.0 };
    let step = if repeat { Step::Same } else { Step::New };
    let by = V2::new(way.x.round(), way.y.round());
    let title = format!("move {}", several::names(bay, &chosen));
    out.push(Command::bay_rewritten(title, several::moved(bay, &chosen, by), step));
}

/// Copying, cutting and pasting; `at`: the place of the bay under the pointer.
pub(in crate::app::plan) fn copies(
    ui: &Ui,
    cx: PanelContext,
    chosen: &[BayThing],
    at: Option<P2>,
    out: &mut Vec<Command>,
) {
    let bay = &cx.document.bundle().bay;
    let chosen: Vec<BayThing> = chosen.iter().copied().filter(|t| t.is_in(bay)).collect();
    for event in ui.input(|i| i.events.clone()) {
        match event {
            Event::Copy | Event::Cut if !chosen.is_empty() => {
                out.push(Command::Bay(BayAct::Copy(chosen.clone())));
                // something has to be there for the system to tell of pasting
                let names: Vec<String> = chosen.iter().map(|t| t.name(bay)).collect();
                ui.ctx().copy_text(names.join("\n"));
                if event == Event::Cut {
                    out.push(Command::Bay(BayAct::TakeAway(chosen.clone())));
                }
            }
            Event::Paste(_) => out.push(Command::Bay(BayAct::Paste(at))),
            _ => {}
        }
    }
}
