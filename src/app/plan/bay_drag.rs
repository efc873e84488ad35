//! Things of the bay chosen, dragged and nudged on the plan while the bay is being changed.

use std::sync::Arc;

use egui::{Align2, FontId, Key, Modifiers, Pos2, Rect, Response, Stroke, StrokeKind, Ui, vec2};

use crate::app::commands::command::{BayAct, Command};
use crate::app::panels::job::bay::wall_name;
use crate::app::plan::screen_position::{on_screen, page};
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::number_field;
use crate::edit::Step;
use crate::edit::bay::{BayThing, to_walls};
use crate::geometry::{P2, V2};
use crate::layout::Origin;
use crate::model::{Bay, Item, ItemKind};
use crate::paint::screen::colour;
use crate::paint::{View, pick};
use crate::scene::Tag;

/// Half the width of a corner's handle, points.
const HANDLE: f32 = 5.0;
/// How near to a thing a press counts, points.
const REACH: f32 = 6.0;

/// The thing under a point of the page: a corner first.
pub(super) fn at(cx: PanelContext, view: &View, at: [f32; 2]) -> Option<BayThing> {
    let bay = &cx.document.bundle().bay;
    let near = |p: &(f64, f64)| {
        let [x, y] = view.to_page(P2::new(p.0, p.1));
        (x - at[0]).abs() <= HANDLE + 3.0 && (y - at[1]).abs() <= HANDLE + 3.0
    };
    if let Some(corner) = bay.floor.points.iter().position(near) {
        return Some(BayThing::Corner(corner));
    }
    let tags = crate::paint::under(view, &cx.derived.scene, at, REACH);
    tags.iter()
        .find_map(|tag| of_tag(cx, tag))
        .or_else(|| of_tag(cx, &pick(view, &cx.derived.scene, at, REACH)?))
}

fn of_tag(cx: PanelContext, tag: &Tag) -> Option<BayThing> {
    let Tag::Thing(item) = tag else { return None };
    of_item(cx, item)
}

fn of_item(cx: PanelContext, item: &Item) -> Option<BayThing> {
    let bay = &cx.document.bundle().bay;
    let called = |name: &crate::model::Name| name.text == *item.name();
    match item.kind() {
        ItemKind::KeepClear => bay.keep_clear.iter().position(|k| called(&k.name)).map(BayThing::KeepClear),
        ItemKind::Doorway => bay.doorways.iter().position(|d| called(&d.name)).map(BayThing::Doorway),
        ItemKind::Fixture => bay.fixtures.iter().position(|f| called(&f.name)).map(BayThing::Fixture),
        ItemKind::Post => {
            let thing = cx.layout().stage.things.iter().find(|t| t.item().item() == *item)?;
            match thing.origin {
                Origin::Post { lift, post } => Some(BayThing::Post { lift, post }),
                Origin::Fixture(_) => None,
            }
        }
        _ => None,
    }
}

/// A thing that is being dragged.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Dragged {
    pub thing: BayThing,
    /// Where it was taken, in the bay.
    from: P2,
    /// The bay before.
    before: Arc<Bay>,
    /// How far it was dragged so far, whole mm.
    by: V2,
    moved: bool,
}

impl Dragged {
    pub(super) fn start(cx: PanelContext, thing: BayThing, from: P2) -> Dragged {
        Dragged { thing, from, before: cx.document.bundle().bay.clone(), by: V2::zeros(), moved: false }
    }

    /// The pointer is over another place: `straight` keeps the move to one bay axis.
    pub(super) fn drag(&mut self, to: P2, straight: bool, out: &mut Vec<Command>) {
        let by = to - self.from;
        let by = match straight {
            true if by.x.abs() < by.y.abs() => V2::new(0.0, by.y),
            true => V2::new(by.x, 0.0),
            false => by,
        };
        // to whole millimetres, where it moves at all
        let place = self.thing.place(&self.before).unwrap_or(P2::origin());
        let whole = |at: f64, by: f64| if by.round() == 0.0 { 0.0 } else { (at + by).round() - at };
        let by = V2::new(whole(place.x, by.x), whole(place.y, by.y));
        if by == self.by {
            return;
        }
        self.by = by;
        let next = self.thing.moved(&self.before, by);
        let step = if self.moved { Step::Same } else { Step::New };
        self.moved |= next.is_ok();
        out.push(Command::bay_rewritten(format!("move {}", self.thing.name(&self.before)), next, step));
    }

    /// Back to where it was.
    pub(super) fn let_go(&self, out: &mut Vec<Command>) {
        if self.moved {
            let title = format!("move {}", self.thing.name(&self.before));
            out.push(Command::bay_rewritten(title, Ok((*self.before).clone()), Step::Same));
        }
    }
}

/// A press chooses what is under it, or nothing.
pub(super) fn press(cx: PanelContext, view: &View, response: &Response, rect: Rect, out: &mut Vec<Command>) {
    let Some(pointer) = response.interact_pointer_pos() else { return };
    out.push(Command::Bay(BayAct::Choose(at(cx, view, page(rect, pointer)))));
}

/// Keys while the plan has them: arrows move what is chosen by 10 mm along the page, with Shift by 1 mm; Delete takes it away.
pub(super) fn key(
    cx: PanelContext,
    chosen: BayThing,
    key: Key,
    modifiers: Modifiers,
    repeat: bool,
    view: &View,
    out: &mut Vec<Command>,
) {
    let bay = &cx.document.bundle().bay;
    if !chosen.is_in(bay) {
        return;
    }
    let (right, down) = match key {
        Key::Delete | Key::Backspace => return out.push(Command::Bay(BayAct::TakeAway(chosen))),
        Key::ArrowLeft => (-1.0, 0.0),
        Key::ArrowRight => (1.0, 0.0),
        Key::ArrowUp => (0.0, -1.0),
        Key::ArrowDown => (0.0, 1.0),
        _ => return,
    };
    let way = view.way_to_bay([right, down]).normalize() * if modifiers.shift { 1.0 } else { 10.0 };
    let step = if repeat { Step::Same } else { Step::New };
    let by = V2::new(way.x.round(), way.y.round());
    out.push(Command::bay_rewritten(format!("move {}", chosen.name(bay)), chosen.moved(bay, by), step));
}

/// Draws the corners' handles, what is chosen, and how far it is from the walls.
pub(super) fn show(ui: &Ui, cx: PanelContext, rect: Rect, view: &View, chosen: Option<BayThing>) {
    let bay = &cx.document.bundle().bay;
    let painter = ui.painter().with_clip_rect(rect);
    let (accent, ground) = (colour(cx.theme.ui.accent), colour(cx.theme.ui.raised));
    for (i, p) in bay.floor.points.iter().enumerate() {
        let middle = on_screen(rect, view, P2::new(p.0, p.1));
        let square = Rect::from_center_size(middle, vec2(2.0 * HANDLE, 2.0 * HANDLE));
        let fill = if chosen == Some(BayThing::Corner(i)) { accent } else { ground };
        painter.rect(square, 0.0, fill, Stroke::new(1.5, accent), StrokeKind::Middle);
    }
    let Some(thing) = chosen.filter(|t| t.is_in(bay)) else { return };
    let pen = Stroke::new(2.5, accent);
    if let Some(shape) = thing.shape(bay) {
        let r = shape.0.radius();
        for ring in shape.0.pieces() {
            let points: Vec<Pos2> = ring.iter().map(|p| on_screen(rect, view, *p)).collect();
            match points[..] {
                [middle] => drop(painter.circle_stroke(middle, (r * view.scale) as f32, pen)),
                _ => drop(painter.add(egui::Shape::closed_line(points, pen))),
            }
        }
        for (mm, side, way) in to_walls(bay, &shape.0.bounds()).into_iter().flatten() {
            let bounds = shape.0.bounds();
            let half = way.x.abs() * bounds.size().x / 2.0 + way.y.abs() * bounds.size().y / 2.0;
            let from = bounds.centre() + way * half;
            let (a, b) = (on_screen(rect, view, from), on_screen(rect, view, from + way * mm));
            painter.line_segment([a, b], Stroke::new(1.2, accent));
            let words =
                format!("{} to {}", number_field::length(mm, cx.view_state.feet), wall_name(bay, side));
            label(&painter, a + (b - a) / 2.0, &words, cx);
        }
    } else if let BayThing::Doorway(i) = thing
        && let door = &bay.doorways[i]
        && let Some((a, b)) = bay.floor.side(door.side.index)
    {
        let (a, b) = (P2::new(a.0, a.1), P2::new(b.0, b.1));
        let way = (b - a).normalize();
        let ends = [door.from, door.from + door.width].map(|l| on_screen(rect, view, a + way * l));
        painter.line_segment(ends, Stroke::new(4.0, accent));
        let words = format!(
            "{} from the corner, {} beyond it",
            number_field::length(door.from, cx.view_state.feet),
            number_field::length((b - a).norm() - door.from - door.width, cx.view_state.feet)
        );
        label(&painter, ends[0] + (ends[1] - ends[0]) / 2.0, &words, cx);
    }
}

fn label(painter: &egui::Painter, middle: Pos2, words: &str, cx: PanelContext) {
    let text = colour(cx.theme.ui.text);
    let galley = painter.layout_no_wrap(words.to_owned(), FontId::proportional(12.0), text);
    let place = Align2::CENTER_CENTER.anchor_size(middle, galley.size());
    painter.rect_filled(place.expand(3.0), 3.0, colour(cx.theme.ui.raised));
    painter.galley(place.min, galley, text);
}
