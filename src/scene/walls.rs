//! Walls as bands outside the floor, broken at doorways; doors shut or open.

use std::f64::consts::FRAC_PI_2;

use super::{Role, Scene, Show, Spot, Tag};
use crate::geometry::{Bounds, P2, V2, rotate, twice_area};
use crate::layout::{BoundKind, Layout};
use crate::model::bay::{Doorway, Leaf};
use crate::model::{Item, ItemKind};
use crate::phrases::say;
use crate::report::plan as words;

/// How thick walls are drawn; the files give only their inside faces. mm
pub(super) const THICKNESS: f64 = 150.0;
/// How thick a door's leaf or curtain is drawn, mm.
const LEAF: f64 = 50.0;
/// A mitre longer than this many wall thicknesses is cut off.
const LONGEST_MITRE: f64 = 3.0;

/// Walls and doors.
pub(super) fn walls(scene: &mut Scene, layout: &Layout, show: &Show) {
    let floor = &layout.bundle.bay.floor;
    let ring: Vec<P2> = floor.points.iter().map(|p| P2::new(p.0, p.1)).collect();
    let turn = if twice_area(&ring) < 0.0 { -1.0 } else { 1.0 };
    let n = ring.len();
    let side = |i: usize| Side::new(ring[i % n], ring[(i + 1) % n], turn);
    for i in 0..n {
        let (Some(before), Some(this), Some(after)) = (side(i + n - 1), side(i), side(i + 1)) else {
            continue;
        };
        let named = layout.stage.walls.iter().find(|w| w.kind == BoundKind::Wall(i));
        let tag = named.map(|w| Tag::Thing(w.item().item()));
        let corners = (mitre(&before, &this), mitre(&this, &after));
        let mut doors: Vec<&Doorway> =
            layout.bundle.bay.doorways.iter().filter(|d| d.side.index == i).collect();
        doors.sort_by(|a, b| a.from.total_cmp(&b.from));
        let mut done = 0.0;
        let mut longest = (0.0, 0.0);
        let mut stretch = |scene: &mut Scene, from: f64, to: f64| {
            band(scene, &this, (from, to), corners, tag.clone());
            if to - from > longest.1 - longest.0 {
                longest = (from, to);
            }
        };
        for door in doors {
            let from = door.from.clamp(done, this.length);
            let to = (door.from + door.width).clamp(from, this.length);
            stretch(scene, done, from);
            doorway(scene, layout, &this, (from, to), door, show);
            done = to;
        }
        stretch(scene, done, this.length);
        let given = layout.bundle.bay.walls.iter().any(|w| w.side.index == i && w.name.is_some());
        if let (true, true, Some(wall)) = (show.names, given, named) {
            let (middle, some) = ((longest.0 + longest.1) / 2.0, (longest.1 - longest.0) * 0.05);
            let face = [this.at(middle - some, 0.0), this.at(middle + some, THICKNESS)];
            scene.label(Role::Wall, Spot::Beside(Bounds::of(face)), &*wall.name, 40, tag);
        }
    }
}

/// One side of the floor: points along it and out of it.
struct Side {
    a: P2,
    along: V2,
    out: V2,
    length: f64,
}

impl Side {
    fn new(a: P2, b: P2, turn: f64) -> Option<Side> {
        let length = (b - a).norm();
        let along = (b - a).try_normalize(1e-9)?;
        Some(Side { a, along, out: V2::new(along.y, -along.x) * turn, length })
    }

    fn at(&self, along: f64, out: f64) -> P2 {
        self.a + self.along * along + self.out * out
    }
}

/// The outer corner where one side's wall meets the next one's, as a shift from the inner corner.
fn mitre(before: &Side, after: &Side) -> V2 {
    let sum = before.out + after.out;
    let shift = sum * (THICKNESS / (1.0 + before.out.dot(&after.out)).max(1e-6));
    let longest = THICKNESS * LONGEST_MITRE;
    if shift.norm() > longest { shift * (longest / shift.norm()) } else { shift }
}

/// A stretch of wall, mitred where it ends at a corner.
fn band(scene: &mut Scene, side: &Side, (from, to): (f64, f64), corners: (V2, V2), tag: Option<Tag>) {
    if to - from < 1.0 {
        return;
    }
    let (a, b) = (side.at(from, 0.0), side.at(to, 0.0));
    let start = if from > 0.0 { side.at(from, THICKNESS) } else { a + corners.0 };
    let end = if to < side.length { side.at(to, THICKNESS) } else { b + corners.1 };
    scene.area(Role::Wall, &[a, b, end, start], tag);
}

fn doorway(
    scene: &mut Scene,
    layout: &Layout,
    side: &Side,
    (from, to): (f64, f64),
    door: &Doorway,
    show: &Show,
) {
    if to - from < 1.0 {
        return;
    }
    let open = layout.bundle.job.doors_open.contains(&door.name);
    let name = &door.name;
    let tag = Some(Tag::Thing(Item::new(ItemKind::Doorway, name.text.clone())));
    let gap = [side.at(from, 0.0), side.at(to, 0.0), side.at(to, THICKNESS), side.at(from, THICKNESS)];
    scene.area(Role::Threshold, &gap, tag.clone());
    match door.leaf {
        Leaf::Roller => roller(scene, side, (from, to), open, &tag),
        Leaf::Swing => leaf(scene, side, from, to, open, &tag),
        Leaf::Double => {
            let middle = (from + to) / 2.0;
            leaf(scene, side, from, middle, open, &tag);
            leaf(scene, side, to, middle, open, &tag);
        }
    }
    if show.names {
        let size = format!("{} × {}", show.length(door.width), show.length(door.height));
        let text = say!(show.say(), if open { words::OPEN } else { words::SHUT }, name, size);
        scene.label(Role::Name, Spot::Beside(Bounds::of(gap)), text, 90, tag);
    }
}

fn roller(scene: &mut Scene, side: &Side, (from, to): (f64, f64), open: bool, tag: &Option<Tag>) {
    let middle = THICKNESS / 2.0;
    if open {
        let line = [side.at(from, middle), side.at(to, middle)];
        scene.line(Role::DoorOpen, line, tag.clone());
        return;
    }
    let (inner, outer) = (middle - LEAF / 2.0, middle + LEAF / 2.0);
    let curtain = [side.at(from, inner), side.at(to, inner), side.at(to, outer), side.at(from, outer)];
    scene.area(Role::DoorShut, &curtain, tag.clone());
}

/// A leaf hung at `hinge`, shutting as far as `end`, with the arc it swings outward.
fn leaf(scene: &mut Scene, side: &Side, hinge: f64, end: f64, open: bool, tag: &Option<Tag>) {
    let pivot = side.at(hinge, THICKNESS);
    let shut = side.along * (end - hinge);
    let swung = side.out * shut.norm();
    let toward = if shut.perp(&side.out) > 0.0 { 1.0 } else { -1.0 };
    let arc: Vec<P2> =
        (0..=18).map(|i| pivot + rotate(shut, toward * FRAC_PI_2 * f64::from(i) / 18.0)).collect();
    scene.line(Role::Swing, arc, None);
    let way = if open { swung } else { shut };
    // the leaf lies on the far side of its hinge line, so that it shows beside the wall's face
    let thick = if open { shut.normalize() * LEAF } else { side.out * -LEAF };
    let role = if open { Role::DoorOpen } else { Role::DoorShut };
    let outline = [pivot, pivot + way, pivot + way + thick, pivot + thick];
    scene.area(role, &outline, tag.clone());
}
