//! Zones kept free of what the procedure forbids there.

use super::{OBSTACLES, Page, Policy, Rule, RuleId, Wording};
use crate::checks::finding::{Finding, Outcome};
use crate::checks::note::Note;
use crate::checks::pairs::{Cx, Pair, Still};
use crate::geometry::{NOISE_MM, gap};
use crate::layout::{Area, Bound, BoundKind, Setup, Solid, Thing, Zone};
use crate::model::ItemKind;
use crate::model::language::FreeOf;

mod around;
mod words;

pub use around::{HaloPair, HaloStill, halo_pairs};

pub(super) const RULE: Rule = Rule {
    id: RuleId::ClearZone,
    page: Page {
        title: "Zones free of what disturbs the sensor",
        checks: "Every zone of the procedure is free of what it forbids: anything at all, metal, mirror-like things, patterns, lights, glass, drains. Walls count where the zone forbids anything, or their surface.",
        matters: "A post in the radar field or a lamp beside the board is read as part of the target. The tester may still say 'completed'.",
        measured: "The plan distance between zone and thing where their heights overlap; inside the zone it counts below zero, by the shortest shift that takes the thing out. Walls by their surface: the distance to the side's own stretches, its shut doors without a surface of their own among them; where the zone reaches through one, minus how deep what lies squarely behind it is. A side already named as the nearest wall is not told again by its surface. Round a target's face: sideways and vertical clearance, each less what is asked; the larger counts.",
        remedy: "Clear the thing, switch the lamp off, close the blind, drive the vehicle so that the zone misses it, or use another bay.",
        source: "The procedure file, after the maker's text. The vehicle and the job's own targets never break the job's own zones.",
    },
    policy: Policy::PLAN,
    wording: Wording {
        past: words::INSIDE,
        remedy: words::remedy,
        instead: words::instead,
        ..Wording::titled(words::title)
    },
    phrases: words::PHRASES,
    about: &[&[ItemKind::Zone], OBSTACLES],
    run,
    pairs: Some(pairs),
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    for (s, setup) in cx.layout.setups.iter().enumerate() {
        for zone in judged(setup) {
            match &zone.place {
                Ok(Area::Plan { solid, .. }) => {
                    let pair = |still| zone_pair(s, setup, zone, solid, still);
                    thing_stills(cx, zone, solid, &mut |still| cx.judge(&pair(still), out));
                    let first = out.len();
                    if forbids_anything(zone) {
                        cx.judge(&pair(Still::Walls), out);
                    }
                    let told = told(cx, &out[first..]);
                    for label in sides(cx, zone).filter(|label| !told.contains(label)) {
                        cx.judge(&pair(Still::Side(label)), out);
                    }
                }
                Ok(Area::Around(halos)) => around::judge(cx, s, setup, zone, halos, out),
                Err(_) => {}
            }
        }
        for zone in &setup.zones {
            unknowns(s, setup, zone, out);
            tolerated_things(cx, s, setup, zone, out);
        }
    }
}

/// The sides that findings about walls name: they are not told again by their surface.
fn told(cx: &Cx, of_walls: &[Finding]) -> Vec<u32> {
    let stage = &cx.layout.stage;
    let named = of_walls.iter().filter_map(|f| stage.label(f.items.get(1)?.name()));
    named.map(|label| stage.side_of(label)).collect()
}

/// Zones that are plan shapes, against things, the edge of the floor, and sides by their surface: these only where the
/// edge of the floor is not held against the zone anyway.
pub(super) fn pairs<'a>(cx: &'a Cx<'a>, each: &mut dyn FnMut(Pair<'a>)) {
    for (s, setup) in cx.layout.setups.iter().enumerate() {
        for zone in judged(setup) {
            let Ok(Area::Plan { solid, .. }) = &zone.place else { continue };
            let pair = |still| zone_pair(s, setup, zone, solid, still);
            thing_stills(cx, zone, solid, &mut |still| each(pair(still)));
            if forbids_anything(zone) {
                each(pair(Still::Walls));
            } else {
                sides(cx, zone).for_each(|label| each(pair(Still::Side(label))));
            }
        }
    }
}

fn zone_pair<'a>(s: usize, setup: &Setup, zone: &'a Zone, solid: &'a Solid, still: Still<'a>) -> Pair<'a> {
    Pair {
        rule: RuleId::ClearZone,
        procedure: Some(setup.procedure),
        setup: Some(s),
        moving: zone.item(),
        parts: std::slice::from_ref(solid),
        still,
        need: 0.0,
    }
}

fn thing_stills<'a>(cx: &'a Cx<'a>, zone: &Zone, solid: &Solid, each: &mut dyn FnMut(Still<'a>)) {
    for thing in &cx.layout.stage.things {
        if forbids(zone, thing) && !tolerates(zone, thing) && within(solid, thing) {
            each(Still::InZone(thing));
        }
    }
}

fn forbids_anything(zone: &Zone) -> bool {
    zone.free_of.contains(&FreeOf::Anything)
}

/// Zones that can be judged: placed, not to be seen instead, with nothing missing.
fn judged(setup: &Setup) -> impl Iterator<Item = &Zone> {
    setup.zones.iter().filter(|z| !z.seen && z.place.is_ok() && z.tolerate_below.is_ok())
}

/// Whether the zone's words name this thing.
fn forbids(zone: &Zone, thing: &Thing) -> bool {
    let standing = !thing.overhead && !thing.solid.z.is_flush();
    zone.free_of.iter().any(|word| match word.surface() {
        Some(surface) => thing.surface.contains(&surface),
        None => *word == FreeOf::Anything && standing,
    })
}

/// Whether the thing is low enough for the zone to let it stay.
fn tolerates(zone: &Zone, thing: &Thing) -> bool {
    matches!(zone.tolerate_below, Ok(Some(height)) if thing.top <= height + NOISE_MM)
}

/// Whether the thing stands in the zone's heights; one without thickness is where its top is, too.
fn within(zone: &Solid, thing: &Thing) -> bool {
    let z = thing.solid.z;
    let flat = z.is_flush() || thing.top - z.lo <= NOISE_MM;
    let holds = |h: f64| zone.z.lo <= h + NOISE_MM && h <= zone.z.hi + NOISE_MM;
    (flat && holds(thing.top)) || (!z.is_flush() && zone.z.overlaps(&z))
}

/// Labels of the sides this zone forbids by their surface. A shut door that shares its side's surface belongs to it.
fn sides<'a>(cx: &'a Cx<'a>, zone: &'a Zone) -> impl Iterator<Item = u32> + 'a {
    let named = move |b: &Bound| {
        let surfaces = || zone.free_of.iter().filter_map(|w| w.surface());
        surfaces().any(|s| b.surface.contains(&s))
    };
    (0..)
        .zip(&cx.layout.stage.walls)
        .filter(|(_, b)| matches!(b.kind, BoundKind::Wall(_)) || b.own_surface)
        .filter(move |(_, b)| named(b))
        .map(|(label, _)| label)
}

fn unknowns(s: usize, setup: &Setup, zone: &Zone, out: &mut Vec<Finding>) {
    let missing = match (&zone.place, &zone.tolerate_below) {
        (Err(missing), _) | (Ok(_), Err(missing)) => missing.0.clone(),
        _ if zone.seen && setup.def.sights.iter().any(|s| s.to == *zone.name) => {
            out.push(Finding {
                procedure: Some(setup.procedure),
                setup: Some(s),
                items: vec![zone.item().item()],
                note: Some(Note::ToBeSeen),
                ..Finding::new(RuleId::ClearZone, Outcome::NotApplicable)
            });
            return;
        }
        _ if zone.seen => Vec::new(),
        _ => return,
    };
    out.push(Finding {
        procedure: Some(setup.procedure),
        setup: Some(s),
        items: vec![zone.item().item()],
        note: missing.is_empty().then_some(Note::SeenByNobody),
        missing,
        ..Finding::new(RuleId::ClearZone, Outcome::Unknown)
    });
}

/// Things that stand in a zone and are low enough to stay.
fn tolerated_things(cx: &Cx, s: usize, setup: &Setup, zone: &Zone, out: &mut Vec<Finding>) {
    let Ok(Area::Plan { solid, .. }) = &zone.place else { return };
    for thing in &cx.layout.stage.things {
        if !zone.seen
            && forbids(zone, thing)
            && tolerates(zone, thing)
            && within(solid, thing)
            && gap(&solid.shape, &thing.solid.shape).mm < -NOISE_MM
        {
            out.push(Finding {
                procedure: Some(setup.procedure),
                setup: Some(s),
                items: vec![zone.item().item(), thing.item().item()],
                note: Some(Note::LowEnough),
                ..Finding::new(RuleId::ClearZone, Outcome::NotApplicable)
            });
        }
    }
}

#[cfg(test)]
mod tests;
