//! The plan of a layout: bay, vehicle, setups and findings in painting order.

use super::{Item, Role, Scene, Show, bay, findings, setup, things, vehicle, walls};
use crate::checks::Judgement;
use crate::geometry::{Bounds, Frame, P2, V2};
use crate::layout::{Body, Layout};

/// Draws a layout, and what was found about it, in bay axes.
///
/// Only the setups that `show` asks for are drawn, with the findings about them and about the job as a whole.
/// Everything that fails, or fails for something movable, is marked.
pub fn plan(layout: &Layout, judgement: Option<&Judgement>, show: &Show) -> Scene {
    let mut scene = Scene::default();
    let shown = shown(layout, judgement, show);
    bay::floor(&mut scene, layout, show);
    things::flat(&mut scene, layout, show);
    for &s in &shown {
        setup::zones(&mut scene, layout, s, show);
    }
    walls::walls(&mut scene, layout, show);
    things::standing(&mut scene, layout, show);
    for &s in &shown {
        setup::rooms(&mut scene, layout, s);
    }
    vehicles(&mut scene, layout, &shown, show);
    for &s in &shown {
        setup::stations(&mut scene, layout, s, show);
    }
    for &s in &shown {
        setup::chalk(&mut scene, layout, s);
    }
    things::overhead(&mut scene, layout, show);
    setup::marks(&mut scene, layout, &shown, show);
    bay::dimensions(&mut scene, layout);
    if let Some(judgement) = judgement {
        findings::findings(&mut scene, layout, judgement, show);
    }
    scene
}

/// The shift of a dimension line that stands `aside` mm to the left of a to b.
pub fn aside_of(a: P2, b: P2, aside: f64) -> V2 {
    let way = (b - a).try_normalize(0.0).unwrap_or(V2::zeros());
    V2::new(-way.y, way.x) * aside
}

/// The setups to draw, by index; of all those that are done, where several ways would do.
fn shown(layout: &Layout, judgement: Option<&Judgement>, show: &Show) -> Vec<usize> {
    let idle = |s: &usize| judgement.is_some_and(|j| j.ways.iter().any(|w| w.idle.contains(s)));
    match show.setup {
        Some(s) if s < layout.setups.len() => vec![s],
        Some(_) => Vec::new(),
        None => (0..layout.setups.len()).filter(|s| !idle(s)).collect(),
    }
}

/// The vehicle where it stands for the setups shown, and ghosts of it where it is driven on to.
fn vehicles(scene: &mut Scene, layout: &Layout, shown: &[usize], show: &Show) {
    let moved = |s: &&usize| layout.setups[**s].moved.is_some();
    let (later, first): (Vec<&usize>, Vec<&usize>) = shown.iter().partition(moved);
    if let ([], [s]) = (&first[..], &later[..])
        && let Some(moved) = &layout.setups[**s].moved
    {
        let reach = reach(layout, &moved.frame, &moved.body, &[**s]);
        vehicle::vehicle(scene, layout, (&moved.frame, &moved.body), reach, show);
        return;
    }
    for setup in later.iter().map(|s| &layout.setups[**s]) {
        if let Some(moved) = &setup.moved {
            vehicle::ghost(scene, &moved.body, &setup.name, show);
        }
    }
    let first: Vec<usize> = first.into_iter().copied().collect();
    let frame = layout.frame();
    let reach = reach(layout, &frame, &layout.body, &first);
    vehicle::vehicle(scene, layout, (&frame, &layout.body), reach, show);
}

/// From where to where the vehicle's centre line is drawn, along it from the front axle: past body, marks and stands.
fn reach(layout: &Layout, line: &Frame, body: &Body, shown: &[usize]) -> (f64, f64) {
    const PAST: f64 = 300.0;
    let along = |p: P2| line.to_local(p).x;
    let hull = body.hull.iter().flat_map(|s| s.shape.outline().points());
    let mut span =
        hull.fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), p| (lo.min(along(*p)), hi.max(along(*p))));
    for &s in shown {
        let setup = &layout.setups[s];
        let marks = setup.marks.iter().filter_map(|m| m.at.as_ref().ok());
        let stands = setup.stations.iter().filter_map(|s| s.place.as_ref().ok());
        for p in marks.copied().chain(stands.map(|s| s.mark)) {
            span = (span.0.min(along(p)), span.1.max(along(p)));
        }
    }
    (span.0 - PAST, span.1 + PAST)
}

/// The box about an outline.
pub(super) fn box_of(outline: &[P2]) -> Bounds {
    Bounds::of(outline)
}

impl Scene {
    /// Every item with this role.
    pub fn of_role(&self, role: Role) -> impl Iterator<Item = &Item> {
        self.items.iter().filter(move |i| i.role() == role)
    }
}
