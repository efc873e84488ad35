//! What holds the vehicle in a place of the bay: a lift, and marks the bay decides.

use std::sync::Arc;

use super::Maker;
use crate::checks::RuleId;
use crate::checks::pairs::Cx;
use crate::checks::rules::LiftPair;
use crate::geometry::{P2, V2};
use crate::layout::Station;
use crate::layout::fixed::hung_by;
use crate::model::{ItemKind, ItemRef};
use crate::siting::fixed::{Fixing, Limit};
use crate::siting::space::Hold;
use crate::siting::still::{Item, Piece, REACH};

impl Maker<'_> {
    /// The lift the vehicle is put on: each tyre inside the runways or each post between the axles,
    /// both axles' middles in a strip along the lift.
    pub(super) fn lift(&mut self, cx: &Cx, pair: &LiftPair) {
        let stills = self.stills;
        let name = &pair.lift.name.text;
        let lift = ItemRef { kind: ItemKind::Lift, name };
        let (tyres, vehicle) = (cx.tyres.by_ref(), cx.vehicle.by_ref());
        let hold = |moving: &Arc<str>, need| Hold {
            rule: RuleId::OnLift,
            procedure: pair.procedure,
            setup: pair.setup,
            moving: moving.clone(),
            still: name.clone(),
            item: Item::Lift,
            need,
        };
        if !stills.runway_edges.is_empty() {
            let need = self.relaxed.need(RuleId::OnLift, pair.setup, [tyres, lift], 0.0);
            let id = self.push(hold(tyres.name, need));
            // past an edge accepted to be overlapped, what is off the runways tells how far
            let edges = stills.runway_edges.clone().filter(|_| need >= 0.0);
            for i in edges.chain(stills.off_runways.clone()) {
                for tyre in pair.tyres {
                    for ring in tyre.shape.pieces() {
                        self.keep_off(ring, tyre.shape.radius(), i, &stills.pieces[i], need, id);
                    }
                }
            }
        }
        if let (Some((line, allowed)), Some(piece)) = (pair.strip(), stills.lift()) {
            let allowed = self.relaxed.most(RuleId::OnLift, pair.setup, [vehicle, lift], allowed);
            let id = self.push(hold(vehicle.name, 0.0));
            for side in [line.left(), -line.left()] {
                let off = half_plane(line.at + side * allowed, side);
                for axle in pair.axles {
                    self.keep_off(&[axle], 0.0, piece, &Piece::new(Item::Lift, off.clone(), 0.0), 0.0, id);
                }
            }
        }
        for (post, piece) in pair.posts().into_iter().zip(stills.posts()) {
            let still = ItemRef { kind: ItemKind::Post, name: &post.name };
            let need = self.relaxed.need(RuleId::OnLift, pair.setup, [vehicle, still], 0.0);
            let id = self.push(Hold {
                still: post.name,
                item: stills.pieces[piece].item,
                ..hold(vehicle.name, need)
            });
            let (middle, [front, rear], ahead) = (vec![post.at], pair.axles, pair.ahead());
            let middle = Piece::new(Item::Lift, middle, 0.0);
            for (axle, out) in [(front, ahead), (rear, -ahead)] {
                // never nearer to an axle than half a tyre
                let past = half_plane(axle - out * pair.radius, out);
                self.keep_off(&past, 0.0, piece, &middle, need, id);
            }
        }
    }

    /// The walls the vehicle is driven up to in the place it stands in for a setup, or in its first place.
    pub(super) fn driven_up_to(&self, setup: Option<usize>) -> Vec<u32> {
        let setups = &self.layout.setups;
        let here = |s: &usize| match setup {
            Some(one) => *s == one,
            None => setups[*s].moved.is_none() && !self.idle.contains(s),
        };
        let hangs = |(at, decides): (usize, &Station)| {
            let of_it = |f: &&Fixing| f.setup == at && f.moving == decides.name;
            self.fixings.iter().find(of_it).and_then(|f| f.label)
        };
        let stations =
            (0..setups.len()).filter(here).flat_map(|s| setups[s].stations.iter().map(move |d| (s, d)));
        stations.filter_map(|(s, station)| hangs(hung_by(self.layout, s, station))).collect()
    }

    /// A place the bay decides: half planes, and stretches of wall that are not bare.
    pub(super) fn fixed(&mut self, fixing: &Fixing) {
        let hold = |still: &Arc<str>, item| Hold {
            rule: RuleId::FixedPlace,
            procedure: Some(fixing.procedure),
            setup: Some(fixing.setup),
            moving: fixing.moving.clone(),
            still: still.clone(),
            item,
            need: 0.0,
        };
        let id = self.push(hold(&fixing.still, Item::Fixed));
        for limit in &fixing.limits {
            self.beyond(limit, id, fixing.piece);
        }
        for o in &fixing.occupied {
            let id = self.push(hold(&o.still, o.item));
            let (a, b) = (P2::from(fixing.along * o.from), P2::from(fixing.along * o.to));
            let side = V2::new(-fixing.along.y, fixing.along.x) * REACH;
            let ring = [a - side, b - side, b + side, a + side];
            let obstacle = self.space.sides.obstacle(&ring, 0.0, id, o.piece as u32);
            self.space.obstacles.push(obstacle);
        }
    }

    /// The origins beyond a limit.
    fn beyond(&mut self, Limit { out, limit }: &Limit, hold: u32, piece: usize) {
        let ring = half_plane(P2::from(out * *limit), *out);
        let obstacle = self.space.sides.obstacle(&ring, 0.0, hold, piece as u32);
        self.space.obstacles.push(obstacle);
    }
}

/// Everything beyond the line through `base` that `out` stands square on, as far as anything reaches.
fn half_plane(base: P2, out: V2) -> Vec<P2> {
    let (side, far) = (V2::new(-out.y, out.x) * REACH, out * REACH);
    vec![base - side, base - side + far, base + side + far, base + side]
}
