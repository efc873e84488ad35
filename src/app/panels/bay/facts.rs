//! What a thing of the bay is, beyond its place and size: heights, surfaces, whether and how it is moved away.

use egui::Ui;

use super::parts::{optional, optional_text};
use crate::app::commands::command::Command;
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::number_field::WIDTH;
use crate::app::widgets::switch::switch;
use crate::app::widgets::text_field::TextField;
use crate::app::widgets::{number_field, style};
use crate::edit::Step;
use crate::edit::bay::BayThing;
use crate::model::Bay;
use crate::model::bay::{Surface, Wall};

/// What surfaces are, as a person says it.
const SURFACES: [(Surface, &str); 6] = [
    (Surface::Metal, "metal"),
    (Surface::Shine, "shines"),
    (Surface::Pattern, "patterned"),
    (Surface::Light, "gives light"),
    (Surface::Glass, "glass"),
    (Surface::Drain, "drain"),
];

/// Shows them.
pub(super) fn show(
    ui: &mut Ui,
    cx: PanelContext,
    bay: &Bay,
    thing: BayThing,
    name: &str,
    out: &mut Vec<Command>,
) {
    let mut change = |title: String, next: Bay| out.push(Command::bay_rewritten(title, Ok(next), Step::New));
    match thing {
        BayThing::Fixture(i) => fixture(ui, cx, bay, i, name, out),
        BayThing::KeepClear(i) => {
            let now = bay.keep_clear[i].because.clone().unwrap_or_default();
            if let Some(because) = optional_text(ui, "kept clear because", &now) {
                let mut next = bay.clone();
                next.keep_clear[i].because = because;
                change(format!("say why {name} is kept clear"), next);
            }
        }
        BayThing::Corner(i) => {
            let wall = bay.walls.iter().find(|w| w.side.index == i);
            let named = wall.and_then(|w| w.name.as_ref()).map(|n| n.to_string()).unwrap_or_default();
            style::quiet(ui, "The wall that begins here");
            if let Some(typed) = optional_text(ui, "name of the wall", &named) {
                let mut next = bay.clone();
                wall_of(&mut next, i).name = typed.map(|n| n.as_str().into());
                change("name a wall".into(), next);
            }
            if let Some(surface) = surfaces(ui, wall.map(|w| w.surface.as_slice()).unwrap_or_default()) {
                let mut next = bay.clone();
                wall_of(&mut next, i).surface = surface;
                change("say what a wall is of".into(), next);
            }
        }
        BayThing::Doorway(i) => {
            let now = bay.doorways[i].surface.clone().unwrap_or_default();
            style::quiet(ui, "The shut door");
            if let Some(surface) = surfaces(ui, &now) {
                let mut next = bay.clone();
                next.doorways[i].surface = (!surface.is_empty()).then_some(surface);
                change(format!("say what {name} is of"), next);
            }
        }
        BayThing::Post { lift, .. } => lift_facts(ui, cx, bay, lift, out),
        BayThing::Point(i) => {
            let z = number_field::length_field(
                "height of the point",
                bay.points.0[i].1.z,
                cx.view_state.feet,
                WIDTH,
            );
            if let Some(z) = z.row(ui, "height", number_field::read_length) {
                let mut next = bay.clone();
                next.points.0[i].1.z = z;
                change(format!("set the height of {name}"), next);
            }
        }
        BayThing::Installed(i) => {
            let of = &bay.installed[i];
            let turn =
                number_field::number_field("looks toward", of.turn, "°", "0 into the bay, anticlockwise");
            if let Some(turn) = turn.row(ui, "looks toward", |text| number_field::read_number(text, "°")) {
                let mut next = bay.clone();
                next.installed[i].turn = turn;
                change(format!("turn {name}"), next);
            }
            if let Some(Some(target)) = optional_text(ui, "it is of the target", of.target.as_str()) {
                let mut next = bay.clone();
                next.installed[i].target = target.as_str().into();
                change(format!("say which target {name} is"), next);
            }
        }
        BayThing::FloorLine(_) => {
            style::quiet(ui, "Its points stand in the bay's file.");
        }
    }
}

/// The wall that begins at a corner, made where the file lists none.
fn wall_of(bay: &mut Bay, side: usize) -> &mut Wall {
    let at = match bay.walls.iter().position(|w| w.side.index == side) {
        Some(at) => at,
        None => {
            let side = crate::model::bay::Side { index: side, spot: Default::default() };
            bay.walls.push(Wall { side, name: None, surface: Vec::new() });
            bay.walls.len() - 1
        }
    };
    &mut bay.walls[at]
}

fn fixture(ui: &mut Ui, cx: PanelContext, bay: &Bay, i: usize, name: &str, out: &mut Vec<Command>) {
    fixture_heights(ui, cx, bay, i, name, out);
    let mut change = |title: String, next: Bay| out.push(Command::bay_rewritten(title, Ok(next), Step::New));
    let fixture = &bay.fixtures[i];
    if switch(ui, "can be moved away", ("no", "yes"), fixture.movable) {
        let mut next = bay.clone();
        next.fixtures[i].movable = !fixture.movable;
        change(format!("say whether {name} can be moved"), next);
    }
    if fixture.movable {
        let now = fixture.clear_by.clone().unwrap_or_default();
        if let Some(by) = optional_text(ui, "how it is moved away", &now) {
            let mut next = bay.clone();
            next.fixtures[i].clear_by = by;
            change(format!("say how {name} is moved away"), next);
        }
    }
    if switch(ui, "hangs overhead", ("no", "yes"), fixture.overhead) {
        let mut next = bay.clone();
        next.fixtures[i].overhead = !fixture.overhead;
        change(format!("say whether {name} hangs overhead"), next);
    }
    if let Some(surface) = surfaces(ui, &fixture.surface) {
        let mut next = bay.clone();
        next.fixtures[i].surface = surface;
        change(format!("say what {name} is of"), next);
    }
}

/// Heights the lift holds a vehicle at, its posts, how far off its middle a vehicle may stand.
fn lift_facts(ui: &mut Ui, cx: PanelContext, bay: &Bay, lift: usize, out: &mut Vec<Command>) {
    let feet = cx.view_state.feet;
    let of = &bay.lifts[lift];
    let mut change = |title: String, next: Bay| out.push(Command::bay_rewritten(title, Ok(next), Step::New));
    let optional_field = |label: &'static str, mm: Option<f64>| match mm {
        Some(mm) => number_field::length_field(label, mm, feet, WIDTH),
        None => number_field::empty_field(label, "not given", WIDTH),
    };
    if let Some(Some(named)) = optional_text(ui, "name of the lift", of.name.as_str()) {
        let mut next = bay.clone();
        next.lifts[lift].name = named.as_str().into();
        change(format!("rename {}", of.name), next);
    }
    if let Some(mm) = optional_field("height of the posts", of.post_height).row(ui, "posts up to", optional) {
        let mut next = bay.clone();
        next.lifts[lift].post_height = mm;
        change(format!("set the height of the posts of {}", of.name), next);
    }
    if let Some(mm) =
        optional_field("off the middle at most", of.tolerance).row(ui, "off the middle", optional)
    {
        let mut next = bay.clone();
        next.lifts[lift].tolerance = mm;
        change(format!("say how far off the middle of {} a vehicle may stand", of.name), next);
    }
    let shown: Vec<String> = of.heights.iter().map(|mm| number_field::length(*mm, feet)).collect();
    let field = TextField {
        label: "heights it holds",
        shown: shown.join("; "),
        plain: shown.join("; "),
        hint: "900; 1 200",
        width: WIDTH,
        figure: true,
    };
    let read = |text: &str| -> Result<Vec<f64>, String> {
        let parts = text.split(';').map(str::trim).filter(|t| !t.is_empty());
        parts.map(number_field::read_length).collect()
    };
    if let Some(heights) = field.row(ui, "holds at", read) {
        let mut next = bay.clone();
        next.lifts[lift].heights = heights;
        change(format!("set the heights of {}", of.name), next);
    }
}

/// What it is of: each word on or off. Gives the new list where one was pressed.
fn surfaces(ui: &mut Ui, now: &[Surface]) -> Option<Vec<Surface>> {
    let mut pressed = None;
    ui.horizontal_wrapped(|ui| {
        for (surface, words) in SURFACES {
            let on = now.contains(&surface);
            let button = ui.add(egui::Button::selectable(on, words).frame_when_inactive(true));
            let label = format!("surface: {words}");
            button.widget_info(|| egui::WidgetInfo::selected(egui::Role::CheckBox, true, on, label.clone()));
            if button.clicked() {
                pressed = Some(surface);
            }
        }
    });
    let surface = pressed?;
    let mut next: Vec<Surface> = now.iter().copied().filter(|s| *s != surface).collect();
    if next.len() == now.len() {
        next.push(surface);
    }
    Some(next)
}

/// From which height to which it reaches.
fn fixture_heights(ui: &mut Ui, cx: PanelContext, bay: &Bay, i: usize, name: &str, out: &mut Vec<Command>) {
    let feet = cx.view_state.feet;
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
}
