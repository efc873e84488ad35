//! What a drawn thing says of itself: its name, its size, its height, and the file it stands in.

use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::number_field;
use crate::checks::wording::thing;
use crate::geometry::{Bounds, P2};
use crate::layout::{Band, Solid};
use crate::model::{Item, ItemKind};
use crate::report::words;
use crate::scene::Tag;

/// Everything that is known of it, a line each; `None` for what is gone.
pub(in crate::app::plan) fn told(cx: PanelContext, tag: &Tag) -> Option<String> {
    let job = cx.document.job();
    let lines = match tag {
        Tag::Finding(at) => vec![words::title(cx.findings().get(*at)?, cx.layout(), cx.show())],
        Tag::Vehicle => {
            let v = &cx.document.bundle().vehicle;
            let size = format!("{} × {}", mm(cx, v.length), mm(cx, v.width));
            let high = format!("{} high", mm(cx, v.height));
            vec![v.name.to_string(), format!("{size}, {high}"), job.vehicle.to_string()]
        }
        Tag::Thing(item) => {
            let mut lines = vec![words::capital(&thing(item, cx.show()))];
            lines.extend(of_the_bay(cx, item));
            lines.push(job.bay.to_string());
            lines
        }
        Tag::Station { setup, name } => {
            let setup = cx.layout().setups.get(*setup)?;
            let station = setup.stations.iter().find(|s| s.name == *name)?;
            let mut lines = vec![name.to_string()];
            if let Ok(stand) = &station.place {
                let face = &stand.face;
                let size = format!("face {} wide", mm(cx, stand.size.half_width * 2.0));
                lines.push(format!("{size}, {}", height(cx, face.z)));
                lines.extend(stand.foot.as_ref().map(|f| format!("stands on {}", size_of(cx, f))));
            }
            let piece = station.piece.as_ref().unwrap_or(&station.target);
            lines.push(format!("{piece} of {}", job.equipment));
            lines.extend(procedure(cx, setup.procedure));
            lines
        }
        Tag::Zone { setup, name } => {
            let setup = cx.layout().setups.get(*setup)?;
            let zone = setup.zones.iter().find(|z| z.name == *name)?;
            let mut lines = vec![name.to_string()];
            if let Ok(area) = &zone.place {
                let outlines = area.outlines();
                let points: Vec<P2> = outlines.iter().flat_map(|o| o.points()).copied().collect();
                lines.push(format!("{}, to be kept as {} says", size(cx, &points), setup.name));
            }
            lines.extend(procedure(cx, setup.procedure));
            lines
        }
        Tag::Mark { setup, name } => {
            let setup = cx.layout().setups.get(*setup)?;
            let at = setup.marks.iter().find(|m| m.name == *name)?.at.clone().ok()?;
            let place = format!("{} to the right, {} into the bay", mm(cx, at.x), mm(cx, at.y));
            let mut lines = vec![format!("mark {name} of {}", setup.name), place];
            lines.extend(procedure(cx, setup.procedure));
            lines
        }
    };
    Some(lines.join("\n"))
}

fn procedure(cx: PanelContext, at: usize) -> Option<String> {
    cx.document.job().procedures.get(at).map(|p| p.file.to_string())
}

/// Size and height of a thing of the bay, as far as the bay's file gives them.
fn of_the_bay(cx: PanelContext, item: &Item) -> Option<String> {
    let layout = cx.layout();
    let stage = &layout.stage;
    let bay = &layout.bundle.bay;
    let things = stage.things.iter().chain(&stage.cleared);
    if let Some(t) = things.into_iter().find(|t| t.item() == item.by_ref()) {
        let high = if t.endless { "no height given".to_owned() } else { height(cx, t.solid.z) };
        return Some(format!("{}, {high}", size_of(cx, &t.solid)));
    }
    if let Some(kept) = stage.keep_clear.iter().find(|k| k.item() == item.by_ref()) {
        let why = kept.because.as_ref().map(|b| format!(": {b}")).unwrap_or_default();
        return Some(format!("{}{why}", size_of(cx, &kept.solid)));
    }
    match item.kind() {
        ItemKind::Doorway => {
            let door = bay.doorways.iter().find(|d| d.name.as_str() == &**item.name())?;
            Some(format!("{} wide, {} high", mm(cx, door.width), mm(cx, door.height)))
        }
        ItemKind::Wall => {
            let wall = stage.walls.iter().find(|w| w.item() == item.by_ref())?;
            let long = format!("{} long", mm(cx, (wall.side.1 - wall.side.0).norm()));
            Some(match bay.ceiling {
                Some(ceiling) => format!("{long}, {} to the ceiling", mm(cx, ceiling)),
                None => format!("{long}, the ceiling's height is not given"),
            })
        }
        _ => None,
    }
}

/// "500 × 900": a box's sides, or what a thing takes along the bay's axes.
fn size_of(cx: PanelContext, solid: &Solid) -> String {
    size(cx, solid.shape.outline().points())
}

fn size(cx: PanelContext, points: &[P2]) -> String {
    if let [a, b, c, d] = points {
        let (one, two) = (b - a, c - b);
        let square = one.dot(&two).abs() <= 1e-6 * one.norm() * two.norm();
        if square && ((d - a) - two).norm() <= 1e-3 {
            return format!("{} × {}", mm(cx, one.norm()), mm(cx, two.norm()));
        }
    }
    let extent = Bounds::of(points).size();
    format!("within {} × {}", mm(cx, extent.x), mm(cx, extent.y))
}

/// "to 1 100 high", "from 2 300 to 2 500 high"
fn height(cx: PanelContext, z: Band) -> String {
    match (z.lo.is_finite() && z.lo.abs() > 0.5, z.hi.is_finite()) {
        (false, true) => format!("to {} high", mm(cx, z.hi)),
        (true, true) => format!("from {} to {} high", mm(cx, z.lo), mm(cx, z.hi)),
        (true, false) => format!("from {} up", mm(cx, z.lo)),
        (false, false) => "at any height".to_owned(),
    }
}

fn mm(cx: PanelContext, mm: f64) -> String {
    number_field::length(mm, cx.view_state.feet)
}
