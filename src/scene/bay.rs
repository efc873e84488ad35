//! The floor with its aprons and grid, and the bay's overall dimensions.

use super::plan::aside_of;
use super::walls::THICKNESS;
use super::{Item, Role, Scene, Show, spans_along};
use crate::geometry::{Bounds, P2, V2};
use crate::layout::Layout;

/// How far outside the walls the overall dimensions stand, mm.
const OUTSIDE: f64 = 420.0;

/// Floor, aprons of open and shut doors, and a grid.
pub(super) fn floor(scene: &mut Scene, layout: &Layout, show: &Show) {
    let bay = &*layout.bundle.bay;
    for door in &bay.doorways {
        if let Some(apron) = &door.apron {
            let open = layout.bundle.job.doors_open.contains(&door.name);
            let role = if open { Role::Apron } else { Role::ApronShut };
            scene.area(role, apron.0.points(), None);
        }
    }
    let ring = bay.floor.outline.0.points();
    scene.area(Role::Floor, ring, None);
    if show.grid {
        grid(scene, ring);
    }
}

/// Lines a metre apart, counted from the bay's origin; ten metres on a very large floor.
fn grid(scene: &mut Scene, ring: &[P2]) {
    const METRE: f64 = 1000.0;
    const MOST: f64 = 100.0;
    let b = Bounds::of(ring);
    let size = b.size();
    let step = if size.x.max(size.y) > METRE * MOST { METRE * 10.0 } else { METRE };
    if size.x.max(size.y) > step * MOST || size.x.is_nan() || size.y.is_nan() {
        return;
    }
    let mut cuts = Vec::new();
    let (right, up) = (V2::new(1.0, 0.0), V2::new(0.0, 1.0));
    for (across, way, lo, hi) in [(right, up, b.min.x, b.max.x), (up, right, b.min.y, b.max.y)] {
        let mut n = (lo / step).floor() + 1.0;
        while n * step < hi {
            let at = P2::from(across * (n * step));
            for (from, to) in spans_along(ring, at, way, &mut cuts) {
                scene.line(Role::Grid, [at + way * from, at + way * to], None);
            }
            n += 1.0;
        }
    }
}

/// Overall length and width as dimension lines outside the walls, on the sides with the least in the way.
pub(super) fn dimensions(scene: &mut Scene, layout: &Layout, show: &Show) {
    let b = layout.bundle.bay.floor.outline.0.bounds();
    let (low, high) = (b.min, b.max);
    let (low_right, high_left) = (P2::new(high.x, low.y), P2::new(low.x, high.y));
    let left = (low, high_left);
    let right = (high, low_right);
    let far = (high_left, high);
    let near = (low_right, low);
    for (first, second) in [(left, right), (far, near)] {
        let (a, b) = if in_the_way(layout, first) <= in_the_way(layout, second) { first } else { second };
        scene.items.push(Item::Dimension {
            role: Role::Dimension,
            a,
            b,
            aside: THICKNESS + OUTSIDE,
            text: show.length((b - a).norm()),
            weight: 160,
            tag: None,
        });
    }
}

/// How many things, aprons and doorways lie where a dimension line of this side would run.
fn in_the_way(layout: &Layout, (a, b): (P2, P2)) -> usize {
    let shift = aside_of(a, b, THICKNESS + OUTSIDE);
    let strip = Bounds::of([a, b, a + shift * 1.5, b + shift * 1.5]);
    let outside = |o: &Bounds| {
        let reach = aside_of(a, b, 1.0);
        let beyond = |p: P2| (p - a).dot(&reach) > THICKNESS;
        o.distance(&strip) == 0.0 && (beyond(o.min) || beyond(o.max))
    };
    let things = layout.stage.things.iter().map(|t| t.solid.shape.bounds());
    let aprons = layout.bundle.bay.doorways.iter().filter_map(|d| d.apron.as_ref());
    things.chain(aprons.map(|a| a.0.bounds())).filter(|o| outside(o)).count()
}
