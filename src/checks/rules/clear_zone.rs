//! Zones kept free of what the procedure forbids there.

use std::sync::Arc;

use super::{Page, Rule, RuleId};
use crate::checks::finding::{Finding, Outcome};
use crate::checks::halo::{HaloGap, halo_gap};
use crate::checks::pairs::{Cx, Pair, Still, stretches};
use crate::geometry::{NOISE_MM, P2, Shape, gap};
use crate::layout::{Area, Band, BoundKind, Halo, Setup, Solid, Thing, Zone};
use crate::model::language::FreeOf;

pub const RULE: Rule = Rule {
    id: RuleId::ClearZone,
    page: Page {
        title: "Zones free of what disturbs the sensor",
        checks: "Every zone of the procedure is free of what it forbids: anything at all, metal, mirror-like things, patterns, lights, glass, drains. Walls count where the zone forbids anything, or their surface.",
        matters: "A post in the radar field or a lamp beside the board is read as part of the target. The tester may still say 'completed'.",
        measured: "The plan distance between zone and thing where their heights overlap; inside the zone it counts below zero, by the shortest shift that takes the thing out. Round a target's face: sideways and vertical clearance, each less what is asked; the larger counts.",
        remedy: "Clear the thing, switch the lamp off, close the blind, drive the vehicle so that the zone misses it, or use another bay.",
        source: "The procedure file, after the maker's text. The vehicle and the job's own targets never break the job's own zones.",
    },
    run,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    pairs(cx, &mut |pair| cx.judge(&pair, out));
    halo_pairs(cx, &mut |pair| pair.judge(cx, out));
    for (s, setup) in cx.layout.setups.iter().enumerate() {
        for zone in &setup.zones {
            unknowns(s, setup, zone, out);
            tolerated_things(cx, s, setup, zone, out);
        }
    }
}

/// Zones that are plan shapes, against things, the edge of the floor, and sides by their surface.
pub fn pairs<'a>(cx: &'a Cx<'a>, each: &mut dyn FnMut(Pair<'a>)) {
    for (s, setup) in cx.layout.setups.iter().enumerate() {
        for zone in judged(setup) {
            let Ok(Area::Plan { solid, .. }) = &zone.place else { continue };
            let pair = |still| Pair {
                rule: RuleId::ClearZone,
                procedure: Some(setup.procedure),
                setup: Some(s),
                name: &zone.name,
                parts: std::slice::from_ref(solid),
                still,
                need: 0.0,
            };
            for thing in &cx.layout.stage.things {
                if forbids(zone, thing) && !tolerates(zone, thing) && within(solid, thing) {
                    each(pair(Still::InZone(thing)));
                }
            }
            if zone.free_of.contains(&FreeOf::Anything) {
                each(pair(Still::Walls));
            }
            for label in sides(cx, zone) {
                each(pair(Still::Side(label)));
            }
        }
    }
}

/// The boxes round faces of one zone, held against one thing or against the floor's edge.
pub struct HaloPair<'a> {
    pub procedure: usize,
    pub setup: usize,
    pub name: &'a Arc<str>,
    pub halos: &'a [Halo],
    pub still: HaloStill<'a>,
}

pub enum HaloStill<'a> {
    Thing(&'a Thing),
    /// The nearest of these bounds of the floor, by label.
    Bounds(Vec<u32>),
}

/// Zones round faces, against things and bounds.
pub fn halo_pairs<'a>(cx: &'a Cx<'a>, each: &mut dyn FnMut(HaloPair<'a>)) {
    for (s, setup) in cx.layout.setups.iter().enumerate() {
        for zone in judged(setup) {
            let Ok(Area::Around(halos)) = &zone.place else { continue };
            let pair =
                |still| HaloPair { procedure: setup.procedure, setup: s, name: &zone.name, halos, still };
            for thing in &cx.layout.stage.things {
                if forbids(zone, thing) && !tolerates(zone, thing) {
                    each(pair(HaloStill::Thing(thing)));
                }
            }
            if zone.free_of.contains(&FreeOf::Anything) {
                let all = (0..).take(cx.layout.stage.walls.len()).collect();
                each(pair(HaloStill::Bounds(all)));
            }
            for label in sides(cx, zone) {
                each(pair(HaloStill::Bounds(vec![label])));
            }
        }
    }
}

/// What a thing's sideways reach is taken from: its convex pieces where it has a hollow, else its outline, which for a
/// round thing is the round itself.
fn spans(shape: &Shape) -> impl Iterator<Item = &[P2]> {
    let hollow = shape.pieces().len() > 1;
    let pieces = shape.pieces().iter().filter(move |_| hollow).map(Vec::as_slice);
    pieces.chain((!hollow).then_some(shape.outline().points()))
}

impl HaloPair<'_> {
    /// The least clearance over the boxes, the name of what it is to, and whether that can be moved.
    pub fn measure(&self, cx: &Cx) -> Option<(HaloGap, Arc<str>, bool)> {
        let least = |a: HaloGap, b: HaloGap| if b.have < a.have { b } else { a };
        match &self.still {
            HaloStill::Thing(thing) => self
                .halos
                .iter()
                .filter_map(|h| halo_gap(h, spans(&thing.solid.shape), thing.solid.z))
                .reduce(least)
                .map(|g| (g, thing.name.clone(), thing.movable)),
            HaloStill::Bounds(labels) => labels
                .iter()
                .filter_map(|label| {
                    stretches(cx, *label)
                        .flat_map(|(a, b)| {
                            self.halos.iter().filter_map(move |h| halo_gap(h, [&[a, b][..]], Band::ALL))
                        })
                        .reduce(least)
                        .map(|g| (g, cx.layout.stage.bound(*label).name.clone(), false))
                })
                .reduce(|a, b| if b.0.have < a.0.have { b } else { a }),
        }
    }

    fn judge(&self, cx: &Cx, out: &mut Vec<Finding>) {
        let Some((gap, name, movable)) = self.measure(cx) else { return };
        let mut finding = cx.measured(RuleId::ClearZone, gap.have, 0.0);
        if movable && finding.outcome == Outcome::Fail {
            finding.outcome = Outcome::Movable;
        }
        finding.procedure = Some(self.procedure);
        finding.setup = Some(self.setup);
        finding.items = vec![self.name.clone(), name];
        finding.witness = Some(gap.witness);
        out.push(finding);
    }
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
fn sides(cx: &Cx, zone: &Zone) -> Vec<u32> {
    let named =
        |surface: &Vec<_>| zone.free_of.iter().any(|w| w.surface().is_some_and(|s| surface.contains(&s)));
    (0..)
        .zip(&cx.layout.stage.walls)
        .filter(|(_, b)| matches!(b.kind, BoundKind::Wall(_)) || b.own_surface)
        .filter(|(_, b)| named(&b.surface))
        .map(|(label, _)| label)
        .collect()
}

fn unknowns(s: usize, setup: &Setup, zone: &Zone, out: &mut Vec<Finding>) {
    let missing = match (&zone.place, &zone.tolerate_below) {
        (Err(missing), _) | (Ok(_), Err(missing)) => missing.0.clone(),
        _ if zone.seen && setup.def.sights.iter().any(|s| s.to == *zone.name) => {
            out.push(Finding {
                procedure: Some(setup.procedure),
                setup: Some(s),
                items: vec![zone.name.clone()],
                note: Some("an area to be seen, not kept empty: see sight-line and in-view".into()),
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
        items: vec![zone.name.clone()],
        note: missing.is_empty().then(|| {
            "an area to be seen, but the procedure does not say by which sensor: it lists no sight to it"
                .into()
        }),
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
                items: vec![zone.name.clone(), thing.name.clone()],
                note: Some("low enough to be tolerated".into()),
                ..Finding::new(RuleId::ClearZone, Outcome::NotApplicable)
            });
        }
    }
}

#[cfg(test)]
mod tests;
