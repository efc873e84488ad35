//! What is drawn over the plan while the bay is changed: handles, what is chosen, and how far it is from the walls.

use egui::{Align2, FontId, Pos2, Rect, Stroke, StrokeKind, Ui, vec2};

use super::dragged::Dragged;
use super::under::HANDLE;
use crate::app::panels::bay::parts::wall_name;
use crate::app::plan::screen_position::on_screen;
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::number_field;
use crate::edit::bay::{BayThing, to_walls};
use crate::geometry::{P2, V2};
use crate::model::Bay;
use crate::paint::View;
use crate::paint::screen::colour;
use crate::report::words::capital;

/// Draws the corners' handles, what is chosen, how far it is from the walls, and what a drag is drawn to.
pub(in crate::app::plan) fn show(
    ui: &Ui,
    cx: PanelContext,
    rect: Rect,
    view: &View,
    chosen: &[BayThing],
    held: Option<&Dragged>,
) {
    let bay = &cx.document.bundle().bay;
    let painter = ui.painter().with_clip_rect(rect);
    let (accent, ground) = (colour(cx.theme.ui.accent), colour(cx.theme.ui.raised));
    for (i, p) in bay.floor.points.iter().enumerate() {
        let middle = on_screen(rect, view, P2::new(p.0, p.1));
        let square = Rect::from_center_size(middle, vec2(2.0 * HANDLE, 2.0 * HANDLE));
        let fill = if chosen.contains(&BayThing::Corner(i)) { accent } else { ground };
        painter.rect(square, 0.0, fill, Stroke::new(1.5, accent), StrokeKind::Middle);
        // its number beside it, away from the floor
        let out = (middle - on_screen(rect, view, bay.floor.outline.0.bounds().centre())).normalized();
        label(&painter, middle + out * 18.0, &i.to_string(), cx);
    }
    for (i, (name, p)) in bay.points.0.iter().enumerate() {
        let middle = on_screen(rect, view, P2::new(p.x, p.y));
        let fill = if chosen.contains(&BayThing::Point(i)) { accent } else { ground };
        painter.circle(middle, HANDLE, fill, Stroke::new(1.5, accent));
        label(&painter, middle + vec2(0.0, 16.0), name.as_str(), cx);
    }
    for thing in chosen.iter().filter(|t| t.is_in(bay)) {
        outline(&painter, cx, rect, view, *thing);
    }
    if let Some(held) = held {
        refused(&painter, cx, rect, view, held);
        told(ui, &painter, cx, held);
    }
    if let [thing] = *chosen
        && thing.is_in(bay)
    {
        lengths(&painter, cx, rect, view, thing);
    }
}

/// The thing's own outline.
fn outline(painter: &egui::Painter, cx: PanelContext, rect: Rect, view: &View, thing: BayThing) {
    let bay = &cx.document.bundle().bay;
    let accent = colour(cx.theme.ui.accent);
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
    } else if let BayThing::Doorway(i) = thing
        && let Some((a, way, _)) = opening(bay, i)
    {
        let door = &bay.doorways[i];
        let ends = [door.from, door.from + door.width].map(|l| on_screen(rect, view, a + way * l));
        painter.line_segment(ends, Stroke::new(4.0, accent));
    } else if let BayThing::FloorLine(i) = thing {
        let line: Vec<Pos2> =
            bay.floor_lines[i].points.iter().map(|p| on_screen(rect, view, P2::new(p.0, p.1))).collect();
        painter.line(line, Stroke::new(4.0, accent));
    } else if let (BayThing::Installed(_), Some(at)) = (thing, thing.place(bay)) {
        painter.circle_stroke(on_screen(rect, view, at), 2.0 * HANDLE, pen);
    }
}

/// A doorway's side: its first corner, its direction, its length.
fn opening(bay: &Bay, door: usize) -> Option<(P2, V2, f64)> {
    let (a, b) = bay.floor.side(bay.doorways.get(door)?.side.index)?;
    let (a, b) = (P2::new(a.0, a.1), P2::new(b.0, b.1));
    Some((a, (b - a).try_normalize(0.0)?, (b - a).norm()))
}

/// Where corners would be that cannot be there, dashed.
fn refused(painter: &egui::Painter, cx: PanelContext, rect: Rect, view: &View, held: &Dragged) {
    let Some((points, why)) = &held.refused else { return };
    let points: Vec<Pos2> = points.iter().map(|p| on_screen(rect, view, *p)).collect();
    let pen = Stroke::new(2.0, colour(cx.theme.ui.text));
    let closed: Vec<Pos2> = points.iter().chain(points.first()).copied().collect();
    painter.extend(egui::Shape::dashed_line(&closed, pen, 8.0, 5.0));
    let middle = rect.center_top() + vec2(0.0, 24.0);
    label(painter, middle, &format!("{}: not taken", capital(why)), cx);
}

/// What draws the thing, and the length that is being typed, beside the pointer.
fn told(ui: &Ui, painter: &egui::Painter, cx: PanelContext, held: &Dragged) {
    let Some(pointer) = ui.input(|i| i.pointer.latest_pos()) else { return };
    let bay = &cx.document.bundle().bay;
    let mut lines = Vec::new();
    if !held.typed.is_empty() {
        let way = if held.typed_along == 0 { "across" } else { "along" };
        let read = if held.typed_length().is_some() { "" } else { " cannot be read yet" };
        lines.push(format!("to the wall {way}: {}{read} (Tab: the other)", held.typed));
    }
    let drawn: Vec<String> =
        held.drawn.iter().flatten().map(|to| to.words(|side| wall_name(bay, side))).collect();
    if !drawn.is_empty() {
        lines.push(format!("at {} (Alt lets go)", drawn.join(", ")));
    }
    for (i, line) in lines.iter().enumerate() {
        label(painter, pointer + vec2(0.0, 28.0 + 22.0 * i as f32), line, cx);
    }
}

/// How far the one that is chosen is from the walls; of a corner, how long its sides are.
fn lengths(painter: &egui::Painter, cx: PanelContext, rect: Rect, view: &View, thing: BayThing) {
    let bay = &cx.document.bundle().bay;
    let accent = colour(cx.theme.ui.accent);
    let long = |mm: f64| number_field::length(mm, cx.view_state.feet);
    if let Some(shape) = thing.shape(bay) {
        for (mm, side, way) in to_walls(bay, &shape.0.bounds()).into_iter().flatten() {
            let bounds = shape.0.bounds();
            let half = way.x.abs() * bounds.size().x / 2.0 + way.y.abs() * bounds.size().y / 2.0;
            let from = bounds.centre() + way * half;
            let (a, b) = (on_screen(rect, view, from), on_screen(rect, view, from + way * mm));
            painter.line_segment([a, b], Stroke::new(1.2, accent));
            label(painter, a + (b - a) / 2.0, &format!("{} to {}", long(mm), wall_name(bay, side)), cx);
        }
    } else if let BayThing::Doorway(i) = thing
        && let Some((a, way, side)) = opening(bay, i)
    {
        let door = &bay.doorways[i];
        let middle = on_screen(rect, view, a + way * (door.from + door.width / 2.0));
        let beyond = side - door.from - door.width;
        label(
            painter,
            middle,
            &format!("{} from the corner, {} beyond it", long(door.from), long(beyond)),
            cx,
        );
    } else if let BayThing::Corner(i) = thing {
        let n = bay.floor.points.len();
        for (a, b) in [(i, (i + 1) % n), (i, (i + n - 1) % n)] {
            let [a, b] = [a, b].map(|k| P2::new(bay.floor.points[k].0, bay.floor.points[k].1));
            label(painter, on_screen(rect, view, a + (b - a) / 2.0), &long((b - a).norm()), cx);
        }
    }
}

fn label(painter: &egui::Painter, middle: Pos2, words: &str, cx: PanelContext) {
    let text = colour(cx.theme.ui.text);
    let galley = painter.layout_no_wrap(words.to_owned(), FontId::proportional(12.0), text);
    let place = Align2::CENTER_CENTER.anchor_size(middle, galley.size());
    painter.rect_filled(place.expand(3.0), 3.0, colour(cx.theme.ui.raised));
    painter.galley(place.min, galley, text);
}
