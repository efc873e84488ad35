//! Where the vehicle may stand, on the plan: the region of its front axle's middle at one heading, the place where it
//! stands deepest inside, with its slack as a circle, and the vehicle there as a ghost.

use super::plan::box_of;
use super::{Item, Role, Scene, Show, Spot, Tag};
use crate::geometry::{P2, V2};
use crate::layout::{Layout, Stance};
use crate::report::plan as words;

/// What was found at the heading the vehicle has.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Found {
    /// Outlines in bay axes, holes clockwise.
    pub rings: Vec<Vec<P2>>,
    /// The deepest place and its slack, mm.
    pub best: Option<(Stance, f64)>,
}

/// Draws what was found over a plan.
pub fn place(scene: &mut Scene, layout: &Layout, found: &Found, show: &Show) {
    for ring in &found.rings {
        // holes are drawn as outlines only; their area is left to the eye
        if twice_area(ring) > 0.0 {
            scene.area(Role::Region, ring, None);
        } else {
            let closed = ring.iter().chain(ring.first()).copied().collect();
            scene.items.push(Item::Line { role: Role::Region, points: closed, tag: None });
        }
    }
    let largest = found.rings.iter().max_by(|a, b| twice_area(a).total_cmp(&twice_area(b)));
    if let (true, Some(ring)) = (show.names, largest) {
        scene.label(Role::Region, Spot::Beside(box_of(ring)), show.say().word(words::AXLE_HERE), 95, None);
    }
    let Some((best, slack)) = found.best else { return };
    let moved = (best.x - layout.stance.x).hypot(best.y - layout.stance.y) >= 1.0
        || (best.heading - layout.stance.heading).rem_euclid(360.0) != 0.0;
    let at = P2::new(best.x, best.y);
    if moved {
        let frame = best.frame();
        for solid in layout.rig.body.hull.iter().chain(&layout.rig.body.mirrors) {
            let shape = solid.shape.place(&frame);
            let outline = shape.outline().points();
            let closed = outline.iter().chain(outline.first()).copied().collect();
            scene.items.push(Item::Line { role: Role::Ghost, points: closed, tag: None });
        }
    }
    if slack >= 1.0 {
        let circle = (0..=48).map(|i| {
            let a = f64::from(i) / 48.0 * std::f64::consts::TAU;
            at + V2::new(a.cos(), a.sin()) * slack
        });
        scene.items.push(Item::Line { role: Role::Region, points: circle.collect(), tag: None });
    }
    scene.items.push(Item::Dot { role: Role::Region, at, tag: Some(Tag::Vehicle) });
}

fn twice_area(ring: &[P2]) -> f64 {
    ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| a.x * b.y - b.x * a.y).sum()
}
