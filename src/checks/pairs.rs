//! What the plan rules hold against what, and with which need. The check judges these pairs; siting turns the same
//! pairs into places where the vehicle may not stand.

use super::acceptance::Acceptances;
use super::finding::{Finding, Outcome};
use crate::driving::DriveIn;
use crate::geometry::{NOISE_MM, P2, gap, stretch_gap};
use crate::layout::{Kept, Layout, Solid, Thing, gap_of};
use crate::model::{Item, ItemKind, ItemRef, RuleId};

/// What a rule looks at: the layout, and names used again and again.
pub struct Cx<'a> {
    pub layout: &'a Layout,
    pub vehicle: Item,
    pub mirrors: Item,
    pub tyres: Item,
    /// The way in, where one was looked for.
    pub driven: Option<&'a DriveIn>,
    /// Findings a person took responsibility for.
    pub accepted: Acceptances,
    /// Setups of the layout that belong to a way not taken.
    idle: Vec<usize>,
}

/// Something that moves with the vehicle held against something that stays.
pub struct Pair<'a> {
    pub rule: RuleId,
    pub procedure: Option<usize>,
    pub setup: Option<usize>,
    pub moving: ItemRef<'a>,
    pub parts: &'a [Solid],
    pub still: Still<'a>,
    /// mm
    pub need: f64,
}

/// What stays.
#[derive(Clone)]
pub enum Still<'a> {
    Thing(&'a Thing),
    /// A thing that stands in the zone's heights, whatever its own.
    InZone(&'a Thing),
    Kept(&'a Kept),
    /// The edge of the usable floor, nearest first.
    Walls,
    /// The same without some bounds: the wall a target hangs on, walls the vehicle is driven up to.
    WallsBut(Vec<u32>),
    /// One bound alone: a wall the vehicle is driven up to.
    Wall(u32),
    /// One side of the floor by its surface, with the shut doors that share it: the label of its bound.
    Side(u32),
}

impl<'a> Cx<'a> {
    pub fn new(layout: &'a Layout) -> Cx<'a> {
        Cx::with(layout, Acceptances::of(&layout.bundle))
    }

    fn with(layout: &'a Layout, accepted: Acceptances) -> Cx<'a> {
        Cx {
            layout,
            vehicle: Item::only(ItemKind::Vehicle),
            mirrors: Item::only(ItemKind::Mirrors),
            tyres: Item::only(ItemKind::Tyres),
            driven: None,
            accepted,
            idle: Vec::new(),
        }
    }

    /// For the same job laid out otherwise, without the way in.
    pub fn beside<'b>(&self, layout: &'b Layout) -> Cx<'b> {
        Cx { idle: self.idle.clone(), ..Cx::with(layout, self.accepted.clone()) }
    }

    /// Sets aside setups of ways that are not taken.
    pub fn set_idle(&mut self, idle: Vec<usize>) {
        self.idle = idle;
    }

    /// Whether a setup is not done, another way being taken.
    pub fn is_idle(&self, setup: usize) -> bool {
        self.idle.contains(&setup)
    }

    /// Whether a person took responsibility for this finding.
    pub fn is_accepted(&self, rule: RuleId, items: &[Item]) -> bool {
        self.accepted.place(rule, items).is_some()
    }

    /// A finding with a margin in mm, its outcome told from the margin alone.
    pub fn measured(&self, rule: RuleId, have: f64, need: f64) -> Finding {
        let mut margin = have - need;
        if margin.abs() <= NOISE_MM {
            margin = 0.0;
        }
        let outcome = if margin < 0.0 {
            Outcome::Fail
        } else if margin < self.layout.needs.measuring {
            Outcome::Tight
        } else {
            Outcome::Pass
        };
        Finding { have: Some(have), need: Some(need), margin: Some(margin), ..Finding::new(rule, outcome) }
    }

    /// Judges one pair; nothing is found where no height bands overlap.
    pub fn judge(&self, pair: &Pair, out: &mut Vec<Finding>) {
        let found = match &pair.still {
            Still::Walls => return self.judge_walls(pair, Vec::new(), out),
            Still::WallsBut(labels) => return self.judge_walls(pair, labels.clone(), out),
            Still::Wall(label) => {
                let others = (0..).take(self.layout.stage.walls.len()).filter(|l| l != label);
                return self.judge_walls(pair, others.collect(), out);
            }
            Still::Side(label) => return self.judge_side(pair, *label, out),
            Still::InZone(thing) => pair
                .parts
                .iter()
                .map(|p| gap(&p.shape, &thing.solid.shape))
                .min_by(|a, b| a.mm.total_cmp(&b.mm))
                .map(|g| (g, thing.item(), thing.movable)),
            Still::Thing(thing) => gap_of(pair.parts, std::slice::from_ref(&thing.solid))
                .map(|g| (g, thing.item(), thing.movable)),
            Still::Kept(kept) if kept.any_height => pair
                .parts
                .iter()
                .map(|p| gap(&p.shape, &kept.solid.shape))
                .min_by(|a, b| a.mm.total_cmp(&b.mm))
                .map(|g| (g, kept.item(), false)),
            Still::Kept(kept) => {
                gap_of(pair.parts, std::slice::from_ref(&kept.solid)).map(|g| (g, kept.item(), false))
            }
        };
        if let Some((g, still, movable)) = found {
            let mut finding = self.measured(pair.rule, g.mm, pair.need);
            if movable && finding.outcome == Outcome::Fail {
                finding.outcome = Outcome::Movable;
            }
            out.push(pair.fill(finding, still, (g.a, g.b)));
        }
    }

    /// A side by its surface: the gap to its stretches, below zero how far the shape reaches through one.
    fn judge_side(&self, pair: &Pair, label: u32, out: &mut Vec<Finding>) {
        let stage = &self.layout.stage;
        let bound = stage.bound(label);
        let stretches = stage.side_stretches(label);
        let gaps = pair
            .parts
            .iter()
            .flat_map(|p| stretches.iter().map(|(a, b)| stretch_gap(&p.shape, *a, *b, bound.inward)));
        if let Some(g) = gaps.min_by(|g, h| g.mm.total_cmp(&h.mm)) {
            let finding = self.measured(pair.rule, g.mm, pair.need);
            out.push(pair.fill(finding, bound.item(), (g.a, g.b)));
        }
    }

    /// One finding, named after the nearest edge; an accepted edge is told of and left out, then the next counts.
    fn judge_walls(&self, pair: &Pair, mut skipped: Vec<u32>, out: &mut Vec<Finding>) {
        let stage = &self.layout.stage;
        loop {
            let nearest = pair
                .parts
                .iter()
                .filter_map(|p| stage.floor.signed(&p.shape, &|label| skipped.contains(&label)))
                .min_by(|a, b| a.mm.total_cmp(&b.mm));
            let Some(nearest) = nearest else { return };
            let edge = stage.bound(nearest.label).item();
            let finding = self.measured(pair.rule, nearest.mm, pair.need);
            let mut finding = pair.fill(finding, edge, (nearest.on_shape, nearest.on_edge));
            if finding.outcome == Outcome::Fail && self.is_accepted(pair.rule, &finding.items) {
                finding.outcome = Outcome::Accepted;
                out.push(finding);
                skipped.push(nearest.label);
            } else {
                out.push(finding);
                return;
            }
        }
    }
}

/// The stretches of the floor's edge under one label.
pub fn stretches(cx: &Cx, label: u32) -> impl Iterator<Item = (P2, P2)> {
    cx.layout.stage.floor.edges_of(label).map(|e| (e.a, e.b))
}

impl Pair<'_> {
    pub fn fill(&self, mut finding: Finding, still: ItemRef, witness: (P2, P2)) -> Finding {
        finding.procedure = self.procedure;
        finding.setup = self.setup;
        finding.items = vec![self.moving.item(), still.item()];
        finding.witness = Some(witness);
        finding
    }
}
