//! What a setup puts into the bay: zones, targets with stands, marks with tapes and strings.

use super::plan::box_of;
use super::{Item, Role, Scene, Show, Spot, Tag};
use crate::checks::wording::things;
use crate::geometry::{Bounds, P2};
use crate::layout::drawn;
use crate::layout::{Area, Layout, Setup, Station, Zone};
use crate::model::language::FreeOf;
use crate::phrases::say;
use crate::report::plan as words;

/// Shorter strings are not drawn, mm.
const SHORTEST: f64 = 1.0;

/// The setup's zones, hatched by what they forbid.
pub(super) fn zones(scene: &mut Scene, layout: &Layout, s: usize, show: &Show) {
    for zone in &layout.setups[s].zones {
        let Ok(area) = &zone.place else { continue };
        let role = zone_role(zone);
        let tag = || Some(Tag::Zone { setup: s, name: zone.name.clone() });
        let outlines = area.outlines();
        for outline in &outlines {
            scene.area(role, outline.points(), tag());
        }
        if let (true, Some(first)) = (show.names, outlines.first()) {
            let text = zone_text(zone, area, show);
            if !said(scene, &text, first.centre()) {
                scene.label(role, Spot::Within(first.bounds()), text, 120, tag());
            }
        }
    }
}

fn zone_role(zone: &Zone) -> Role {
    let forbids = |what| zone.free_of.contains(&what);
    if zone.seen {
        Role::ZoneSeen
    } else if forbids(FreeOf::Anything) {
        Role::ZoneAnything
    } else if forbids(FreeOf::Metal) {
        Role::ZoneRadar
    } else if forbids(FreeOf::Light) || forbids(FreeOf::Shine) || forbids(FreeOf::Glass) {
        Role::ZoneLight
    } else if forbids(FreeOf::Pattern) {
        Role::ZonePattern
    } else if forbids(FreeOf::People) {
        Role::ZonePeople
    } else {
        Role::ZoneOther
    }
}

/// "radar field", and below it "3 000 × 5 000, to 3 000 high"
fn zone_text(zone: &Zone, area: &Area, show: &Show) -> String {
    let (say, length) = (show.say(), |mm| show.length(mm));
    let mut parts = Vec::new();
    if let Area::Plan { solid, printed } = area {
        if let [a, b, c, d] = solid.shape.outline().points() {
            let (one, two) = (b - a, c - b);
            let square = one.dot(&two).abs() <= 1e-6 * one.norm() * two.norm();
            if square && ((d - a) - two).norm() <= 1e-3 {
                parts.push(format!("{} × {}", length(one.norm()), length(two.norm())));
            }
        }
        if *printed && solid.z.hi.is_finite() {
            parts.push(say!(say, words::TO_HIGH, height = length(solid.z.hi)));
        }
    }
    if zone.seen {
        parts.push(say.word(words::TO_BE_SEEN));
    }
    if parts.is_empty() {
        zone.name.to_string()
    } else {
        format!("{}\n{}", zone.name, say.list(parts, things::COMMA))
    }
}

/// The room a person needs behind each target.
pub(super) fn rooms(scene: &mut Scene, layout: &Layout, s: usize) {
    for station in &layout.setups[s].stations {
        for room in station.place.iter().flat_map(|stand| &stand.room) {
            scene.area(Role::Room, room.shape.outline().points(), None);
        }
    }
}

/// The setup's targets: foot, face with its front stressed, an arrow where it looks.
pub(super) fn stations(scene: &mut Scene, layout: &Layout, s: usize, show: &Show) {
    for station in &layout.setups[s].stations {
        let Ok(stand) = &station.place else { continue };
        let tag = Some(Tag::Station { setup: s, name: station.name.clone() });
        let face = stand.face.shape.outline().points();
        let mut whole = box_of(face);
        let flat = lies_flat(layout, station);
        if stand.path.len() > 1 {
            // what the target sweeps on its way
            for part in &stand.parts {
                scene.area(Role::Ghost, part.shape.outline().points(), tag.clone());
            }
        }
        if let Some(foot) = &stand.foot {
            let foot = foot.shape.outline().points();
            scene.area(Role::Foot, foot, tag.clone());
            whole = whole.union(&box_of(foot));
        }
        let role = if flat { Role::Mat } else { Role::Target };
        scene.area(role, face, tag.clone());
        let front = |y: f64| stand.frame.to_world(P2::new(stand.size.front, y));
        let half = stand.size.half_width;
        if !flat {
            scene.line(Role::TargetFront, [front(-half), front(half)], tag.clone());
        }
        scene.items.push(Item::Arrow { role: Role::TargetFront, at: front(0.0), toward: stand.frame.x });
        if show.names && !said(scene, &station.name, whole.centre()) {
            let spot = if flat { Spot::Within(whole) } else { Spot::Beside(whole) };
            scene.label(Role::Target, spot, &*station.name, 140, tag);
        }
    }
}

/// Lines a person chalks on the floor.
pub(super) fn chalk(scene: &mut Scene, layout: &Layout, s: usize) {
    for line in drawn::chalk(layout, &layout.setups[s]) {
        if let Ok((a, b)) = line.ends {
            scene.line(Role::FloorLine, [a, b], None);
        }
    }
}

fn lies_flat(layout: &Layout, station: &Station) -> bool {
    let piece = station.piece.as_ref().unwrap_or(&station.target);
    layout.bundle.equipment.targets.get(piece).is_some_and(|t| t.kind.lies_flat())
}

/// Marks with their letters, and the tapes and strings that find them; of several setups each once.
pub(super) fn marks(scene: &mut Scene, layout: &Layout, shown: &[usize], show: &Show) {
    if show.tapes {
        let mut drawn: Vec<(P2, P2)> = Vec::new();
        for &s in shown {
            tapes(scene, &layout.setups[s], shown.len() == 1 && show.names, show, &mut drawn);
        }
    }
    let mut made: Vec<(&str, P2)> = Vec::new();
    for &s in shown {
        for mark in &layout.setups[s].marks {
            let Ok(at) = mark.at else { continue };
            if made.iter().any(|(name, p)| **name == *mark.name && near(*p, at)) {
                continue;
            }
            made.push((&mark.name, at));
            let text = match whose(layout, shown, s, &mark.name, at) {
                Some(setup) => say!(show.say(), words::MARK_OF, name = mark.name, setup),
                None => mark.name.to_string(),
            };
            let tag = Some(Tag::Mark { setup: s, name: mark.name.clone() });
            scene.items.push(Item::Dot { role: Role::Mark, at, tag: tag.clone() });
            if show.names {
                scene.label(Role::Mark, Spot::Near(at), text, 180, tag);
            }
        }
    }
}

/// Whose a mark is, where another setup gives its name to another place: the setup's, or where that is called the same too
/// the procedure's.
fn whose<'a>(layout: &'a Layout, shown: &[usize], s: usize, name: &str, at: P2) -> Option<&'a str> {
    let of = |s: usize| (&*layout.setups[s].name, layout.setups[s].procedure);
    let is_elsewhere = |other: &usize| {
        let marks = layout.setups[*other].marks.iter().filter(|m| *m.name == *name);
        marks.filter_map(|m| m.at.as_ref().ok()).any(|p| !near(*p, at))
    };
    let others: Vec<usize> = shown.iter().copied().filter(is_elsewhere).collect();
    let (setup, procedure) = of(s);
    let same = others.iter().any(|o| of(*o).0 == setup);
    (!others.is_empty()).then(|| if same { layout.bundle.procedures[procedure].name.as_str() } else { setup })
}

fn tapes(scene: &mut Scene, setup: &Setup, figures: bool, show: &Show, drawn: &mut Vec<(P2, P2)>) {
    for &(a, b) in setup.marks.iter().flat_map(|m| &m.strings) {
        let length = (b - a).norm();
        let again = |&(p, q): &(P2, P2)| (near(p, a) && near(q, b)) || (near(p, b) && near(q, a));
        if length < SHORTEST || drawn.iter().any(again) {
            continue;
        }
        drawn.push((a, b));
        if figures {
            scene.items.push(Item::Dimension {
                role: Role::Tape,
                a,
                b,
                aside: 0.0,
                text: show.length(length),
                weight: 70,
                tag: None,
            });
        } else {
            scene.line(Role::Tape, [a, b], None);
        }
    }
}

fn near(a: P2, b: P2) -> bool {
    (a - b).norm() < SHORTEST
}

/// Whether the same text already names the same place, as when several setups share a target.
fn said(scene: &Scene, text: &str, at: P2) -> bool {
    scene.items.iter().any(|item| {
        matches!(item, Item::Label { text: other, spot: Spot::Within(b) | Spot::Beside(b), .. }
            if other == text && near_box(b, at))
    })
}

fn near_box(b: &Bounds, at: P2) -> bool {
    (b.centre() - at).norm() < SHORTEST
}
