//! A tape held on the plan: two presses, the length between them, across and along, in both systems of units.

mod ends;

use egui::{Align2, FontId, Rect, Stroke, Ui, vec2};

use crate::app::commands::command::Command;
use crate::app::plan::screen_position::{on_screen, page};
use crate::app::state::panel_context::PanelContext;
use crate::app::state::view_state::TapeEnd;
use crate::app::widgets::number_field::length;
use crate::geometry::P2;
use crate::model::{Item, ItemKind};
use crate::paint::View;
use crate::paint::screen::colour;
use crate::scene::Tag;

/// How near to a point a press takes it, points.
const REACH: f32 = 9.0;

/// A press with the tape: the point under it, else with Shift the outline under it, else the place itself.
pub(super) fn press(
    cx: PanelContext,
    rect: Rect,
    view: &View,
    at: egui::Pos2,
    outlines: bool,
    out: &mut Vec<Command>,
) {
    out.push(Command::TapeEnd(end(cx, rect, view, at, outlines)));
}

fn end(cx: PanelContext, rect: Rect, view: &View, at: egui::Pos2, outlines: bool) -> TapeEnd {
    let layout = cx.layout();
    let place = view.to_bay(page(rect, at));
    if outlines {
        let tags = crate::paint::under(view, &cx.derived.scene, page(rect, at), 3.0);
        let item = |tag: &Tag| match tag {
            Tag::Thing(item) => Some(item.clone()),
            Tag::Vehicle => Some(Item::only(ItemKind::Vehicle)),
            _ => None,
        };
        let found = tags.iter().filter_map(item).find(|item| !ends::outline(layout, item).is_empty());
        if let Some(item) = found {
            return TapeEnd { at: place, name: item.name().to_string(), outline: Some(item) };
        }
    }
    let near = |p: &(P2, String)| on_screen(rect, view, p.0).distance(at);
    let points = ends::points(layout, cx.derived.setup());
    match points.into_iter().min_by(|a, b| near(a).total_cmp(&near(b))).filter(|p| near(p) <= REACH) {
        Some((at, name)) => TapeEnd { at, name, outline: None },
        None => {
            let at = P2::new(place.x.round(), place.y.round());
            TapeEnd { at, name: "a place of the floor".into(), outline: None }
        }
    }
}

/// What the tape reads, in words; none before both ends are held.
pub(super) fn reads(cx: PanelContext, held: &[TapeEnd]) -> Option<String> {
    let [from, to] = held else { return None };
    let (a, b) = ends::laid(cx.layout(), from, to);
    let by = ends::parts(a, b);
    let both = |mm: f64| format!("{} mm ({})", length((mm * 10.0).round() / 10.0, false), length(mm, true));
    Some(format!(
        "{} to {}: {}, across {}, along {}",
        from.name,
        to.name,
        both((b - a).norm()),
        both(by.x.abs()),
        both(by.y.abs())
    ))
}

/// Draws the tape, and what a press would take.
pub(super) fn show(
    ui: &Ui,
    cx: PanelContext,
    rect: Rect,
    view: &View,
    held: &[TapeEnd],
    pointer: Option<egui::Pos2>,
) {
    let painter = ui.painter().with_clip_rect(rect);
    let (accent, text) = (colour(cx.theme.ui.accent), colour(cx.theme.ui.text));
    let pen = Stroke::new(2.0, accent);
    let words = |at: egui::Pos2, words: &str| {
        let galley = painter.layout_no_wrap(words.to_owned(), FontId::proportional(13.0), text);
        let place = Align2::CENTER_CENTER.anchor_size(at, galley.size());
        // never cut off by the edge
        let place = place.translate(vec2(
            (rect.min.x + 6.0 - place.min.x).max(0.0) - (place.max.x - rect.max.x + 6.0).max(0.0),
            0.0,
        ));
        painter.rect_filled(place.expand(4.0), 3.0, colour(cx.theme.ui.raised));
        painter.galley(place.min, galley, text);
        place
    };
    if let [from, to] = held {
        let (a, b) = ends::laid(cx.layout(), from, to);
        let [a, b] = [a, b].map(|p| on_screen(rect, view, p));
        painter.line_segment([a, b], pen);
        for end in [a, b] {
            painter.circle_filled(end, 4.0, accent);
        }
        if let Some(reads) = reads(cx, held) {
            let place = words(a + (b - a) / 2.0 - vec2(0.0, 16.0), &reads);
            let label = ui.interact(place, egui::Id::unique("tape reads"), egui::Sense::hover());
            label.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Label, true, reads.clone()));
            if ui.input(|i| i.events.contains(&egui::Event::Copy)) && !ui.ctx().text_edit_focused() {
                ui.ctx().copy_text(reads);
            }
        }
    } else if let [from] = held {
        painter.circle_filled(on_screen(rect, view, from.at), 4.0, accent);
    }
    if let Some(pointer) = pointer
        && held.len() < 2
    {
        let outlines = ui.input(|i| i.modifiers.shift);
        let next = end(cx, rect, view, pointer, outlines);
        if next.outline.is_none() {
            painter.circle_stroke(on_screen(rect, view, next.at), 6.0, pen);
        }
        words(pointer + vec2(0.0, 26.0), &next.name);
    }
}
