//! Which thing of the bay lies under a point of the plan.

use crate::app::state::panel_context::PanelContext;
use crate::edit::bay::BayThing;
use crate::geometry::P2;
use crate::layout::Origin;
use crate::model::{Item, ItemKind};
use crate::paint::{View, pick};
use crate::scene::Tag;

/// Half the width of a corner's handle, points.
pub(super) const HANDLE: f32 = 5.0;
/// How near to a thing a press counts, points.
const REACH: f32 = 6.0;

/// The thing under a point of the page: a corner first.
pub(in crate::app::plan) fn at(cx: PanelContext, view: &View, at: [f32; 2]) -> Option<BayThing> {
    let bay = &cx.document.bundle().bay;
    let near = |p: &(f64, f64)| {
        let [x, y] = view.to_page(P2::new(p.0, p.1));
        (x - at[0]).abs() <= HANDLE + 3.0 && (y - at[1]).abs() <= HANDLE + 3.0
    };
    if let Some(corner) = bay.floor.points.iter().position(near) {
        return Some(BayThing::Corner(corner));
    }
    // points are drawn by nobody else
    let on_point = |p: &(crate::model::Name, crate::model::vehicle::Place3)| near(&(p.1.x, p.1.y));
    if let Some(point) = bay.points.0.iter().position(on_point) {
        return Some(BayThing::Point(point));
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
        ItemKind::FloorLine => bay.floor_lines.iter().position(|l| called(&l.name)).map(BayThing::FloorLine),
        ItemKind::Installed => bay.installed.iter().position(|i| called(&i.name)).map(BayThing::Installed),
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
