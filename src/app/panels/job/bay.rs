//! The bay while it is being changed: its size and ceiling, what can be put down, and the thing that is chosen.

use egui::Ui;

use crate::app::commands::command::{Act, BayAct, Command};
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::number_field::WIDTH;
use crate::app::widgets::switch::switch;
use crate::app::widgets::text_field::TextField;
use crate::app::widgets::{number_field, style};
use crate::edit::bay::{BayThing, PutDown, door_at, rectangle, sized, to_walls};
use crate::edit::{Edit, Step};
use crate::geometry::V2;
use crate::model::Bay;
use crate::model::shape::ShapeDef;

/// Shows the panel.
pub(crate) fn show(ui: &mut Ui, cx: PanelContext, chosen: Option<BayThing>, out: &mut Vec<Command>) {
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
    put_down(ui, out);
    match chosen.filter(|thing| thing.is_in(bay)) {
        Some(thing) => one(ui, cx, bay, thing, out),
        None => list(ui, bay, out),
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

fn optional(text: &str) -> Result<Option<f64>, String> {
    if text.is_empty() { Ok(None) } else { number_field::read_length(text).map(Some) }
}

fn text_field(ui: &mut Ui, label: &str, now: &str) -> Option<String> {
    let field = TextField {
        label,
        shown: now.to_owned(),
        plain: now.to_owned(),
        hint: label,
        width: ui.available_width(),
        figure: false,
    };
    field.show(ui, |text| if text.is_empty() { Err("a name is needed".into()) } else { Ok(text.to_owned()) })
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
                out.push(Command::Bay(BayAct::PutDown(what)));
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
        .chain((0..bay.floor.points.len()).map(BayThing::Corner));
    for thing in things {
        let name = thing.name(bay);
        if style::bare_button(ui, name.clone()).on_hover_text(format!("choose {name}")).clicked() {
            out.push(Command::Bay(BayAct::Choose(Some(thing))));
        }
    }
}

/// The thing that is chosen.
fn one(ui: &mut Ui, cx: PanelContext, bay: &Bay, thing: BayThing, out: &mut Vec<Command>) {
    let name = thing.name(bay);
    style::section(ui, "Chosen", |ui| {
        if style::bare_button(ui, "choose none").clicked() {
            out.push(Command::Bay(BayAct::Choose(None)));
        }
    });
    names(ui, bay, thing, &name, out);
    place(ui, cx, bay, thing, &name, out);
    shape(ui, cx, bay, thing, &name, out);
    facts(ui, cx, bay, thing, &name, out);
    ui.horizontal(|ui| {
        if let BayThing::Corner(at) = thing
            && ui
                .button("corner after it")
                .on_hover_text("in the middle of the side that begins here")
                .clicked()
        {
            out.push(Command::Bay(BayAct::CornerAfter(at)));
        }
        if ui.button("take it away").on_hover_text("Delete; undo brings it back").clicked() {
            out.push(Command::Bay(BayAct::TakeAway(thing)));
        }
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

/// What a side of the floor is called.
pub(crate) fn wall_name(bay: &Bay, side: usize) -> String {
    let named = bay.walls.iter().find(|w| w.side.index == side).and_then(|w| w.name.as_ref());
    named.map_or_else(|| format!("wall {side}"), |n| n.to_string())
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

/// Its heights, and whether it can be moved away.
fn facts(ui: &mut Ui, cx: PanelContext, bay: &Bay, thing: BayThing, name: &str, out: &mut Vec<Command>) {
    let feet = cx.view_state.feet;
    let BayThing::Fixture(i) = thing else { return };
    let fixture = &bay.fixtures[i];
    let field = |label: &'static str, mm: Option<f64>| match mm {
        Some(mm) => number_field::length_field(label, mm, feet, WIDTH),
        None => number_field::empty_field(label, "no end", WIDTH),
    };
    let (low, high) = (fixture.z.map(|z| z.0), fixture.z.map(|z| z.1));
    let from =
        field("from the floor up", Some(low.unwrap_or(0.0))).row(ui, "from", number_field::read_length);
    let to = field("up to", high).row(ui, "up to", optional);
    if from.is_some() || to.is_some() {
        let low = from.or(low).unwrap_or(0.0);
        let high = to.unwrap_or(high);
        let mut next = bay.clone();
        next.fixtures[i].z = high.map(|high| (low, high));
        let next = match high {
            Some(high) if high < low => Err("its top is below its foot".into()),
            None if low != 0.0 => Err("type up to where it reaches".into()),
            _ => Ok(next),
        };
        out.push(Command::bay_rewritten(format!("set the height of {name}"), next, Step::New));
    }
    if switch(ui, "can be moved away", if fixture.movable { "yes" } else { "no" }, fixture.movable) {
        let mut next = bay.clone();
        next.fixtures[i].movable = !fixture.movable;
        out.push(Command::bay_rewritten(format!("say whether {name} can be moved"), Ok(next), Step::New));
    }
}
