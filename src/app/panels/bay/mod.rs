//! The bay while it is being changed: its size and ceiling, its tapes, what can be put down, and what is chosen.

pub(crate) mod arrange;
mod facts;
pub(crate) mod parts;
mod tapes;
mod thing;

use egui::Ui;
use parts::{choose_none, optional, text_field};

use crate::app::commands::command::{Act, BayAct, Command};
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::number_field::WIDTH;
use crate::app::widgets::{number_field, style};
use crate::edit::Step;
use crate::edit::bay::{BayThing, PutDown, rectangle, sized};
use crate::model::Bay;

pub(crate) use tapes::forget;

/// Shows the panel.
pub(crate) fn show(ui: &mut Ui, cx: PanelContext, chosen: &[BayThing], out: &mut Vec<Command>) {
    let bay = &*cx.document.bundle().bay;
    style::section(ui, "Changing the bay", |ui| {
        if style::bare_button(ui, "done").on_hover_text("back to the job (E)").clicked() {
            out.push(Command::Act(Act::ChangeBay));
        }
    });
    style::quiet(
        ui,
        "Press a thing on the plan to choose it, drag it to move it. What is changed here is changed for every job of this bay; saving writes the bay's file.",
    );
    whole(ui, cx, bay, out);
    tapes::show(ui, cx, bay, out);
    put_down(ui, out);
    let chosen: Vec<BayThing> = chosen.iter().copied().filter(|t| t.is_in(bay)).collect();
    match chosen[..] {
        [] => list(ui, bay, out),
        [thing] => thing::show(ui, cx, bay, thing, out),
        _ => together(ui, cx, bay, &chosen, out),
    }
}

/// Size, ceiling and name of the bay itself.
fn whole(ui: &mut Ui, cx: PanelContext, bay: &Bay, out: &mut Vec<Command>) {
    let feet = cx.view_state.feet;
    if let Some(name) = text_field(ui, "bay name", bay.name.as_str()) {
        let next = Bay { name: name.as_str().into(), ..bay.clone() };
        out.push(Command::bay_rewritten(format!("rename {}", bay.name), Ok(next), Step::New));
    }
    if let Some((width, length)) = rectangle(bay) {
        let field = |label, mm| number_field::length_field(label, mm, feet, WIDTH);
        let wide = field("bay width", width).row(ui, "width", number_field::read_length);
        let long = field("bay length", length).row(ui, "length", number_field::read_length);
        if wide.is_some() || long.is_some() {
            let next = sized(bay, wide.unwrap_or(width), long.unwrap_or(length));
            out.push(Command::bay_rewritten("set the size of the bay".into(), next, Step::New));
        }
    }
    let ceiling = match bay.ceiling {
        Some(mm) => number_field::length_field("ceiling", mm, feet, WIDTH),
        None => number_field::empty_field("ceiling", "not given", WIDTH),
    };
    if let Some(mm) = ceiling.row(ui, "ceiling", optional) {
        let next = Bay { ceiling: mm, ..bay.clone() };
        out.push(Command::bay_rewritten("set the ceiling".into(), Ok(next), Step::New));
    }
}

/// Words to press; each puts its thing down in the middle of the plan, chosen.
fn put_down(ui: &mut Ui, out: &mut Vec<Command>) {
    style::section(ui, "Put down", |_| {});
    ui.horizontal_wrapped(|ui| {
        for what in PutDown::ALL {
            let button = ui.button(what.words());
            let label = format!("put down: {}", what.words());
            button.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, label.clone()));
            if button.on_hover_text(what.size()).clicked() {
                out.push(Command::Bay(BayAct::PutDown(what, None)));
            }
        }
    });
}

/// Every thing of the bay, to be chosen without the pointer.
fn list(ui: &mut Ui, bay: &Bay, out: &mut Vec<Command>) {
    style::section(ui, "What is in it", |_| {});
    let posts = bay.lifts.iter().enumerate();
    let posts = posts.flat_map(|(lift, l)| (0..l.posts.len()).map(move |post| BayThing::Post { lift, post }));
    let things = (0..bay.doorways.len())
        .map(BayThing::Doorway)
        .chain((0..bay.fixtures.len()).map(BayThing::Fixture))
        .chain(posts)
        .chain((0..bay.keep_clear.len()).map(BayThing::KeepClear))
        .chain((0..bay.floor_lines.len()).map(BayThing::FloorLine))
        .chain((0..bay.points.0.len()).map(BayThing::Point))
        .chain((0..bay.installed.len()).map(BayThing::Installed))
        .chain((0..bay.floor.points.len()).map(BayThing::Corner));
    for thing in things {
        let name = thing.name(bay);
        if style::bare_button(ui, name.clone()).on_hover_text(format!("choose {name}")).clicked() {
            out.push(Command::Bay(BayAct::Choose(vec![thing])));
        }
    }
}

/// Several things that are chosen.
fn together(ui: &mut Ui, cx: PanelContext, bay: &Bay, chosen: &[BayThing], out: &mut Vec<Command>) {
    style::section(ui, &format!("{} chosen", chosen.len()), |ui| choose_none(ui, out));
    ui.horizontal_wrapped(|ui| arrange::acts(ui, cx, chosen, out));
    for thing in chosen {
        let name = thing.name(bay);
        if style::bare_button(ui, name.clone()).on_hover_text(format!("choose {name} alone")).clicked() {
            out.push(Command::Bay(BayAct::Choose(vec![*thing])));
        }
    }
}
