//! Fixtures by kind, lift posts and runways, keep-clear areas.

use super::plan::box_of;
use super::{Role, Scene, Show, Spot, Tag, spans_along};
use crate::checks::wording::thing as name_of;
use crate::geometry::{Frame, P2, V2};
use crate::layout::stations::face_size;
use crate::layout::{Layout, Origin, Thing};
use crate::model::{Item, ItemKind, Surface};
use crate::phrases::say;
use crate::report::plan as words;

/// What lies on the floor: runways, flush things, keep-clear areas.
pub(super) fn flat(scene: &mut Scene, layout: &Layout, show: &Show) {
    for lift in &layout.bundle.bay.lifts {
        for runway in &lift.runways {
            scene.area(Role::Runway, runway.0.outline().points(), None);
        }
    }
    for thing in layout.stage.things.iter().filter(|t| role_of(t) == Role::FixtureFlush) {
        draw(scene, thing, show);
    }
    for line in &layout.bundle.bay.floor_lines {
        let points: Vec<P2> = line.points.iter().map(|p| P2::new(p.0, p.1)).collect();
        let tag = Some(Tag::Thing(Item::new(ItemKind::FloorLine, line.name.text.clone())));
        if let (true, Some(end)) = (show.names, points.last()) {
            scene.label(Role::FloorLine, Spot::Near(*end), line.name.as_str(), 90, tag.clone());
        }
        scene.line(Role::FloorLine, points, tag);
    }
    for kept in &layout.stage.keep_clear {
        let outline = kept.solid.shape.outline().points();
        let tag = Some(Tag::Thing(kept.item().item()));
        scene.area(Role::KeepClear, outline, tag.clone());
        if show.names {
            let text = say!(show.say(), words::KEEP_CLEAR, name = kept.name);
            scene.label(Role::KeepClear, Spot::Beside(box_of(outline)), text, 105, tag);
        }
    }
}

/// What stands on the floor or is installed, and ghosts of what was cleared.
pub(super) fn standing(scene: &mut Scene, layout: &Layout, show: &Show) {
    for thing in &layout.stage.cleared {
        ghost(scene, thing, show);
    }
    for thing in layout.stage.things.iter().filter(|t| !hangs(t) && role_of(t) != Role::FixtureFlush) {
        draw(scene, thing, show);
    }
    installed(scene, layout, show);
}

/// What hangs above.
pub(super) fn overhead(scene: &mut Scene, layout: &Layout, show: &Show) {
    for thing in layout.stage.things.iter().filter(|t| hangs(t) && role_of(t) != Role::FixtureFlush) {
        draw(scene, thing, show);
    }
}

/// Targets that are part of the bay.
fn installed(scene: &mut Scene, layout: &Layout, show: &Show) {
    for thing in &layout.bundle.bay.installed {
        let Some(target) = layout.bundle.equipment.targets.get(thing.target.as_str()) else { continue };
        let frame = Frame::heading(P2::new(thing.at.0, thing.at.1), thing.turn.to_radians());
        let size = face_size(target);
        let half = size.half_width;
        let corner = |x: f64, y: f64| frame.to_world(P2::new(x, y));
        let outline = [
            corner(size.back, -half),
            corner(size.front, -half),
            corner(size.front, half),
            corner(size.back, half),
        ];
        let tag = Some(Tag::Thing(Item::new(ItemKind::Installed, thing.name.text.clone())));
        scene.area(Role::Target, &outline, tag.clone());
        scene.line(Role::TargetFront, [outline[1], outline[2]], tag.clone());
        if show.names {
            let text = say!(show.say(), words::INSTALLED, name = thing.name);
            scene.label(Role::Name, Spot::Beside(box_of(&outline)), text, 100, tag);
        }
    }
}

fn hangs(thing: &Thing) -> bool {
    thing.overhead
}

fn role_of(thing: &Thing) -> Role {
    if matches!(thing.origin, Origin::Post { .. }) {
        Role::Post
    } else if thing.solid.z.is_flush() {
        Role::FixtureFlush
    } else if thing.surface.contains(&Surface::Light) {
        Role::FixtureLight
    } else if thing.surface.contains(&Surface::Glass) {
        Role::FixtureGlass
    } else if thing.overhead {
        Role::FixtureOverhead
    } else if thing.movable {
        Role::FixtureMovable
    } else {
        Role::Fixture
    }
}

fn draw(scene: &mut Scene, thing: &Thing, show: &Show) {
    let outline = thing.solid.shape.outline().points();
    let tag = Some(Tag::Thing(thing.item().item()));
    scene.area(role_of(thing), outline, tag.clone());
    if show.names {
        let say = show.say();
        let mut text = name_of(&thing.item().item(), say);
        if thing.overhead {
            text = say!(say, words::FROM, name = text, height = show.length(thing.solid.z.lo));
        }
        if thing.movable {
            text = say!(say, words::MOVABLE, name = text);
        }
        scene.label(Role::Name, Spot::Beside(box_of(outline)), text, 100, tag);
    }
}

fn ghost(scene: &mut Scene, thing: &Thing, show: &Show) {
    let outline = thing.solid.shape.outline().points();
    let tag = Some(Tag::Thing(thing.item().item()));
    scene.area(Role::FixtureCleared, outline, tag.clone());
    let b = box_of(outline);
    let way = b.size().try_normalize(0.0).unwrap_or(V2::new(1.0, 0.0));
    let middle = b.centre();
    let mut cuts = Vec::new();
    let strikes: Vec<[P2; 2]> = spans_along(outline, middle, way, &mut cuts)
        .map(|(from, to)| [middle + way * from, middle + way * to])
        .collect();
    for strike in strikes {
        scene.line(Role::FixtureCleared, strike, None);
    }
    if show.names {
        let text = say!(show.say(), words::CLEARED, name = thing.name);
        scene.label(Role::FixtureCleared, Spot::Beside(b), text, 60, tag);
    }
}
