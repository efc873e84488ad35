//! The one thing of the bay that is chosen: each of its figures can be typed.

use egui::Ui;

use super::parts::{choose_none, text_field, wall_name};
use super::{arrange, facts};
use crate::app::commands::command::{BayAct, Command};
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::number_field::WIDTH;
use crate::app::widgets::text_field::TextField;
use crate::app::widgets::{number_field, style};
use crate::edit::bay::{BayThing, door_at, place_in_words, to_walls};
use crate::edit::{Edit, Step};
use crate::geometry::V2;
use crate::model::Bay;
use crate::model::shape::ShapeDef;

/// Shows the thing.
pub(super) fn show(ui: &mut Ui, cx: PanelContext, bay: &Bay, thing: BayThing, out: &mut Vec<Command>) {
    let name = thing.name(bay);
    style::section(ui, "Chosen", |ui| choose_none(ui, out));
    names(ui, bay, thing, &name, out);
    place(ui, cx, bay, thing, &name, out);
    shape(ui, cx, bay, thing, &name, out);
    facts::show(ui, cx, bay, thing, &name, out);
    ui.horizontal_wrapped(|ui| {
        if let BayThing::Corner(at) = thing
            && ui
                .button("corner after it")
                .on_hover_text("in the middle of the side that begins here")
                .clicked()
        {
            out.push(Command::Bay(BayAct::CornerAfter(at)));
        }
        arrange::acts(ui, cx, &[thing], out);
    });
}

fn names(ui: &mut Ui, bay: &Bay, thing: BayThing, name: &str, out: &mut Vec<Command>) {
    if matches!(thing, BayThing::Corner(_) | BayThing::Post { .. }) {
        ui.label(name);
        return;
    }
    let Some(typed) = text_field(ui, "name of the thing", name) else { return };
    let command = match thing {
        BayThing::Fixture(_) => {
            Command::Edit(Edit::RenameFixture { from: name.into(), to: typed.into() }, Step::New)
        }
        BayThing::KeepClear(i) => {
            let mut next = bay.clone();
            next.keep_clear[i].name = typed.into();
            Command::bay_rewritten(format!("rename {name}"), Ok(next), Step::New)
        }
        BayThing::Doorway(i) => {
            let mut next = bay.clone();
            next.doorways[i].name = typed.into();
            Command::bay_rewritten(format!("rename {name}"), Ok(next), Step::New)
        }
        BayThing::FloorLine(i) => {
            let mut next = bay.clone();
            next.floor_lines[i].name = typed.into();
            Command::bay_rewritten(format!("rename {name}"), Ok(next), Step::New)
        }
        BayThing::Point(i) => {
            let mut next = bay.clone();
            next.points.0[i].0 = typed.into();
            Command::bay_rewritten(format!("rename {name}"), Ok(next), Step::New)
        }
        BayThing::Installed(i) => {
            let mut next = bay.clone();
            next.installed[i].name = typed.into();
            Command::bay_rewritten(format!("rename {name}"), Ok(next), Step::New)
        }
        BayThing::Post { .. } | BayThing::Corner(_) => return,
    };
    out.push(command);
}

/// Where it is, and how far from the walls: each figure can be typed.
fn place(ui: &mut Ui, cx: PanelContext, bay: &Bay, thing: BayThing, name: &str, out: &mut Vec<Command>) {
    let feet = cx.view_state.feet;
    let title = || format!("move {name}");
    if let BayThing::Doorway(i) = thing {
        let door = &bay.doorways[i];
        let from = number_field::length_field("from the side's first corner", door.from, feet, WIDTH);
        if let Some(mm) = from.row(ui, "from the corner", number_field::read_length) {
            out.push(Command::bay_rewritten(title(), door_at(bay, i, mm), Step::New));
        }
        return;
    }
    let Some(at) = thing.place(bay) else { return };
    let field = |label, mm| number_field::length_field(label, mm, feet, WIDTH);
    let x = field("its middle to the right", at.x).row(ui, "to the right", number_field::read_length);
    let y = field("its middle into the bay", at.y).row(ui, "into the bay", number_field::read_length);
    let by = V2::new(x.map_or(0.0, |x| x - at.x), y.map_or(0.0, |y| y - at.y));
    if by != V2::zeros() {
        out.push(Command::bay_rewritten(title(), thing.moved(bay, by), Step::New));
    }
    in_words(ui, bay, thing, name, out);
    let Some(shape) = thing.shape(bay) else { return };
    let labels = ["to the wall across", "to the wall along"];
    for (label, found) in labels.into_iter().zip(to_walls(bay, &shape.0.bounds())) {
        let Some((mm, side, way)) = found else { continue };
        let row = format!("to {}", wall_name(bay, side));
        if let Some(typed) = field(label, mm).row(ui, &row, number_field::read_length) {
            out.push(Command::bay_rewritten(title(), thing.moved(bay, way * (mm - typed)), Step::New));
        }
    }
}

/// Where its middle is, told as one says it to the other end of a tape.
fn in_words(ui: &mut Ui, bay: &Bay, thing: BayThing, name: &str, out: &mut Vec<Command>) {
    let field = TextField {
        label: "its middle in words",
        shown: String::new(),
        plain: String::new(),
        hint: "1200 right, 850 up from corner 0",
        width: ui.available_width(),
        figure: false,
    };
    if let (Some(to), Some(at)) = (field.show(ui, |text| place_in_words(bay, text)), thing.place(bay)) {
        out.push(Command::bay_rewritten(format!("move {name}"), thing.moved(bay, to - at), Step::New));
    }
}

/// Its size and how it is turned.
fn shape(ui: &mut Ui, cx: PanelContext, bay: &Bay, thing: BayThing, name: &str, out: &mut Vec<Command>) {
    let feet = cx.view_state.feet;
    let field = |label, mm| number_field::length_field(label, mm, feet, WIDTH);
    let title = format!("set the size of {name}");
    if let BayThing::Doorway(i) = thing {
        let door = &bay.doorways[i];
        let width = field("doorway width", door.width).row(ui, "width", number_field::read_length);
        let height = field("doorway height", door.height).row(ui, "height", number_field::read_length);
        if width.is_some() || height.is_some() {
            let mut next = bay.clone();
            next.doorways[i].width = width.unwrap_or(door.width);
            next.doorways[i].height = height.unwrap_or(door.height);
            out.push(Command::bay_rewritten(title, Ok(next), Step::New));
        }
        return;
    }
    let Some(now) = thing.shape(bay).map(|s| s.def().clone()) else { return };
    let next = match now.clone() {
        ShapeDef::Box { at, size, turn } => {
            let x = field("size across", size.0).row(ui, "across", number_field::read_length);
            let y = field("size along", size.1).row(ui, "along", number_field::read_length);
            let turned = number_field::number_field("turned by", turn, "°", "anticlockwise");
            let turned = turned.row(ui, "turned", |text| number_field::read_number(text, "°"));
            let size = (x.unwrap_or(size.0), y.unwrap_or(size.1));
            ShapeDef::Box { at, size, turn: turned.unwrap_or(turn) }
        }
        ShapeDef::Round { at, diameter } => {
            let across = field("diameter", diameter).row(ui, "diameter", number_field::read_length);
            ShapeDef::Round { at, diameter: across.unwrap_or(diameter) }
        }
        outline @ ShapeDef::Outline(_) => {
            style::quiet(ui, "Its outline stands in the bay's file, point by point.");
            outline
        }
    };
    if next != now {
        out.push(Command::bay_rewritten(title, thing.reshaped(bay, next), Step::New));
    }
}
