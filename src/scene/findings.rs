//! Findings on the plan: the things they are about, and a dimension between the two nearest points.

use super::{Item, Role, Scene, Show, Spot, Tag};
use crate::checks::{Finding, Judgement, Outcome};
use crate::geometry::{Bounds, P2};
use crate::layout::{BoundKind, Layout};
use crate::model::{Item as About, ItemKind};
use crate::phrases::Say;
use crate::report::label::label;

/// Witness points nearer than this are one place, mm.
const TOGETHER: f64 = 1.0;

/// Marks what fails, what is movable, tight or unknown; and the chosen finding, whatever it is.
pub(super) fn findings(scene: &mut Scene, layout: &Layout, judgement: &Judgement, show: &Show) {
    let shown = |f: &Finding| show.setup.is_none() || f.setup.is_none() || f.setup == show.setup;
    let marked = |i: usize, f: &Finding| {
        Some(i) != show.chosen
            && shown(f)
            && matches!(f.outcome, Outcome::Fail | Outcome::Movable | Outcome::Tight | Outcome::Unknown)
    };
    let mut said = Vec::new();
    let mut ringed = Vec::new();
    // quiet ones first, so that the worse lie on top
    for outcome in [Outcome::Unknown, Outcome::Tight, Outcome::Movable, Outcome::Fail] {
        for (i, f) in judgement.findings.iter().enumerate() {
            if f.outcome == outcome && marked(i, f) {
                ring(scene, layout, i, f, &mut ringed);
                let bonus = u8::from(judgement.binding == Some(i));
                measure(scene, layout, (i, f), bonus, show.say(), &mut said);
            }
        }
    }
    if let Some(i) = show.chosen
        && let Some(f) = judgement.findings.get(i)
        && shown(f)
    {
        stress(scene, layout, f);
        ring(scene, layout, i, f, &mut Vec::new());
        measure(scene, layout, (i, f), 30, show.say(), &mut Vec::new());
    }
}

/// Outlines the thing that stands in the way.
fn ring(scene: &mut Scene, layout: &Layout, i: usize, f: &Finding, ringed: &mut Vec<(Role, About)>) {
    if !matches!(f.outcome, Outcome::Fail | Outcome::Movable) {
        return;
    }
    let (Some(role), Some(about)) = (Role::of(f.outcome), f.items.last()) else {
        return;
    };
    if f.items.len() < 2 || ringed.iter().any(|(r, n)| *r == role && n == about) {
        return;
    }
    let still = layout.stage.things.iter().map(|t| (t.item(), &t.solid));
    let kept = layout.stage.keep_clear.iter().map(|k| (k.item(), &k.solid));
    for (_, solid) in still.chain(kept).filter(|(n, _)| *n == about.by_ref()) {
        ringed.push((role, about.clone()));
        scene.area(role, solid.shape.outline().points(), Some(Tag::Finding(i)));
    }
}

/// Halos behind everything the chosen finding is about.
fn stress(scene: &mut Scene, layout: &Layout, f: &Finding) {
    for about in &f.items {
        for outline in outlines_of(layout, f, about) {
            scene.area(Role::Chosen, &outline, None);
        }
        for wall in layout.stage.walls.iter().filter(|w| w.item() == about.by_ref()) {
            let label = layout.stage.label(&wall.name);
            for edge in layout.stage.floor.edges().iter().filter(|e| Some(e.label) == label) {
                scene.line(Role::Chosen, [edge.a, edge.b], None);
            }
        }
    }
}

/// A dimension between the two nearest points, or a mark where the two are one place.
fn measure(
    scene: &mut Scene,
    layout: &Layout,
    (i, f): (usize, &Finding),
    bonus: u8,
    say: Say,
    said: &mut Vec<(Role, P2, String)>,
) {
    let Some(role) = Role::of(f.outcome) else {
        return;
    };
    let Some((a, b)) = f.witness.or_else(|| place_of(layout, f).map(|p| (p, p))) else {
        return;
    };
    let text = label(f, say);
    let middle = nalgebra::center(&a, &b);
    // a missing figure is said once, not at everything that rests on it
    let again = |(r, at, t): &(Role, P2, String)| {
        *r == role && *t == text && (role == Role::Unknown || (at - middle).norm() < TOGETHER)
    };
    if said.iter().any(again) {
        return;
    }
    said.push((role, middle, text.clone()));
    let weight = bonus
        + match f.outcome {
            Outcome::Fail => 220,
            Outcome::Movable => 210,
            Outcome::Unknown => 200,
            Outcome::Tight
            | Outcome::Confirm
            | Outcome::Accepted
            | Outcome::Pass
            | Outcome::NotApplicable => 110,
        };
    let tag = Some(Tag::Finding(i));
    if (b - a).norm() < TOGETHER {
        scene.label(role, Spot::Near(middle), text, weight, tag);
    } else {
        scene.items.push(Item::Dimension { role, a, b, aside: 0.0, text, weight, tag });
    }
}

/// Where to mark a finding that has no nearest points: at the first thing it names that has a place.
fn place_of(layout: &Layout, f: &Finding) -> Option<P2> {
    let outlines = f.items.iter().find_map(|about| {
        let found = outlines_of(layout, f, about);
        found.into_iter().next()
    });
    if let Some(outline) = outlines {
        return Some(Bounds::of(&outline).centre());
    }
    let setup = f.setup.and_then(|s| layout.setups.get(s));
    let mut marks =
        setup.iter().flat_map(|s| &s.marks).filter(|m| f.items.iter().any(|i| i.by_ref() == m.item()));
    let mark = marks.find_map(|m| m.at.as_ref().ok().copied());
    // what cannot be placed for want of a figure is told at the vehicle it is counted from
    mark.or_else(|| (!f.missing.is_empty()).then_some(layout.frame().origin))
}

/// The outlines of something a finding is about.
fn outlines_of(layout: &Layout, f: &Finding, about: &About) -> Vec<Vec<P2>> {
    let moved = f.setup.and_then(|s| layout.setups.get(s)).and_then(|s| s.moved.as_ref());
    let body = moved.map_or(&layout.body, |m| &m.body);
    let parts =
        [(ItemKind::Vehicle, &body.hull), (ItemKind::Mirrors, &body.mirrors), (ItemKind::Tyres, &body.tyres)];
    let part = parts.into_iter().find(|(kind, _)| *kind == about.kind()).map(|(_, part)| part);
    let about = about.by_ref();
    if let Some(part) = part {
        return part.iter().map(|s| s.shape.outline().points().to_vec()).collect();
    }
    let mut found = Vec::new();
    if let Some(setup) = f.setup.and_then(|s| layout.setups.get(s)) {
        for station in setup.stations.iter().filter(|s| s.item() == about) {
            if let Ok(stand) = &station.place {
                found.extend(stand.parts.iter().map(|p| p.shape.outline().points().to_vec()));
            }
        }
        for zone in setup.zones.iter().filter(|z| z.item() == about) {
            if let Ok(area) = &zone.place {
                found.extend(area.outlines().iter().map(|o| o.points().to_vec()));
            }
        }
    }
    let things = layout.stage.things.iter().chain(&layout.stage.cleared);
    for thing in things.filter(|t| t.item() == about) {
        found.push(thing.solid.shape.outline().points().to_vec());
    }
    for kept in layout.stage.keep_clear.iter().filter(|k| k.item() == about) {
        found.push(kept.solid.shape.outline().points().to_vec());
    }
    for wall in layout.stage.walls.iter().filter(|w| w.item() == about) {
        if let BoundKind::Apron(d) = wall.kind
            && let Some(apron) = layout.bundle.bay.doorways.get(d).and_then(|d| d.apron.as_ref())
        {
            found.push(apron.0.points().to_vec());
        }
    }
    found
}
