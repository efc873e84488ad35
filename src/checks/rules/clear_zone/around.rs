//! Zones round the faces of targets.

use std::sync::Arc;

use super::{RuleId, forbids, forbids_anything, judged, sides, told, tolerates};
use crate::checks::finding::{Finding, Outcome};
use crate::checks::halo::{Span, halo_gap, spans, ways_out};
use crate::checks::pairs::{Cx, stretches};
use crate::geometry::{Frame, NOISE_MM, P2, V2};
use crate::layout::{Area, Band, Halo, Setup, Thing, Zone};
use crate::model::{Item, ItemKind, ItemRef};

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
    /// The nearest bound of the floor.
    Walls,
    /// One side of the floor by its surface, with the shut doors that share it: the label of its bound.
    Side(u32),
}

/// Zones round faces, against things, the edge of the floor, and sides by their surface: these only where the edge of
/// the floor is not held against the zone anyway.
pub fn halo_pairs<'a>(cx: &'a Cx<'a>, each: &mut dyn FnMut(HaloPair<'a>)) {
    for (s, setup) in cx.layout.setups.iter().enumerate() {
        for zone in judged(setup) {
            let Ok(Area::Around(halos)) = &zone.place else { continue };
            let pair = |still| halo_pair(s, setup, zone, halos, still);
            halo_things(cx, zone, &mut |still| each(pair(still)));
            if forbids_anything(zone) {
                each(pair(HaloStill::Walls));
            } else {
                sides(cx, zone).for_each(|label| each(pair(HaloStill::Side(label))));
            }
        }
    }
}

/// Judges one zone round faces.
pub(super) fn judge(cx: &Cx, s: usize, setup: &Setup, zone: &Zone, halos: &[Halo], out: &mut Vec<Finding>) {
    let pair = |still| halo_pair(s, setup, zone, halos, still);
    halo_things(cx, zone, &mut |still| pair(still).judge(cx, out));
    let first = out.len();
    if forbids_anything(zone) {
        pair(HaloStill::Walls).judge(cx, out);
    }
    let told = told(cx, &out[first..]);
    for label in sides(cx, zone).filter(|label| !told.contains(label)) {
        pair(HaloStill::Side(label)).judge(cx, out);
    }
}

fn halo_pair<'a>(
    s: usize,
    setup: &Setup,
    zone: &'a Zone,
    halos: &'a [Halo],
    still: HaloStill<'a>,
) -> HaloPair<'a> {
    HaloPair { procedure: setup.procedure, setup: s, name: &zone.name, halos, still }
}

fn halo_things<'a>(cx: &'a Cx<'a>, zone: &Zone, each: &mut dyn FnMut(HaloStill<'a>)) {
    for thing in &cx.layout.stage.things {
        if forbids(zone, thing) && !tolerates(zone, thing) {
            each(HaloStill::Thing(thing));
        }
    }
}

impl HaloPair<'_> {
    fn judge(&self, cx: &Cx, out: &mut Vec<Finding>) {
        let stage = &cx.layout.stage;
        match &self.still {
            HaloStill::Thing(thing) => {
                let pieces: Vec<Span> = spans(&thing.solid.shape).collect();
                if let Some(mut finding) = self.finding(cx, &pieces, thing.solid.z, thing.item()) {
                    if thing.movable && finding.outcome == Outcome::Fail {
                        finding.outcome = Outcome::Movable;
                    }
                    out.push(finding);
                }
            }
            HaloStill::Walls => self.judge_walls(cx, out),
            HaloStill::Side(label) => {
                out.extend(self.against(cx, stage.side_stretches(*label), stage.bound(*label).item()));
            }
        }
    }

    /// One finding, named after the nearest bound; an accepted one is told of and left out, then the next counts.
    fn judge_walls(&self, cx: &Cx, out: &mut Vec<Finding>) {
        let bounds = (0..).zip(&cx.layout.stage.walls);
        let mut all: Vec<Finding> = bounds
            .filter_map(|(label, bound)| {
                let stretches: Vec<_> = stretches(cx, label).collect();
                self.against(cx, &stretches, bound.item())
            })
            .collect();
        let have = |f: &Finding| f.have.unwrap_or(0.0);
        loop {
            let least = all.iter().map(have).fold(f64::INFINITY, f64::min);
            // of equals the first
            let Some(nearest) = all.iter().position(|f| have(f) <= least + NOISE_MM) else { return };
            let mut finding = all.remove(nearest);
            let accepted = finding.outcome == Outcome::Fail && cx.is_accepted(finding.rule, &finding.items);
            if accepted {
                finding.outcome = Outcome::Accepted;
            }
            out.push(finding);
            if !accepted {
                return;
            }
        }
    }

    fn against(&self, cx: &Cx, stretches: &[(P2, P2)], still: ItemRef) -> Option<Finding> {
        let ends: Vec<[P2; 2]> = stretches.iter().map(|(a, b)| [*a, *b]).collect();
        let pieces: Vec<Span> = ends.iter().map(|e| Span::Ring(e)).collect();
        self.finding(cx, &pieces, Band::ALL, still)
    }

    /// The least clearance over the boxes, and where it fails the shift that cures it.
    fn finding(&self, cx: &Cx, pieces: &[Span], z: Band, still: ItemRef) -> Option<Finding> {
        let gaps = self.halos.iter().filter_map(|h| halo_gap(h, pieces.iter().copied(), z));
        let gap = gaps.reduce(|a, b| if b.have < a.have { b } else { a })?;
        let mut finding = cx.measured(RuleId::ClearZone, gap.have, 0.0);
        finding.procedure = Some(self.procedure);
        finding.setup = Some(self.setup);
        finding.items = vec![Item::new(ItemKind::Zone, self.name.clone()), still.item()];
        finding.witness = Some(gap.witness);
        if finding.outcome == Outcome::Fail {
            finding.escape = self.way_out(pieces, z);
        }
        Some(finding)
    }

    /// The shortest shift of the vehicle, along or across a box, that takes the thing out of all the boxes.
    fn way_out(&self, pieces: &[Span], z: Band) -> Option<V2> {
        let mut ways = Vec::new();
        self.halos.iter().for_each(|h| ways_out(h, pieces, &mut ways));
        ways.sort_by(|a, b| a.norm().total_cmp(&b.norm()));
        let clears = |by: &V2| {
            self.halos.iter().all(|h| {
                let frame = Frame { origin: h.frame.origin + by, ..h.frame };
                let shifted = Halo { frame, ..h.clone() };
                halo_gap(&shifted, pieces.iter().copied(), z).is_none_or(|g| g.have >= -NOISE_MM)
            })
        };
        ways.into_iter().find(clears)
    }
}
