//! Targets and marks whose place the bay decides, as places where the vehicle may stand.
//!
//! A target that hangs on a wall leaves a strip along that wall, twice its tolerance wide; an installed one a small
//! rectangle; a mark on a painted line a strip along it. Which wall, or which stretch of a line, is a choice: every
//! combination makes a space of its own.

use std::sync::Arc;

use super::still::{Item, Stills};
use crate::geometry::{Frame, P2, V2};
use crate::layout::fixed::{Axis, Covers, FACES, NotBare, not_bare, value, with};
use crate::layout::{BoundKind, Known, Layout, Setup, Stand, Station, lengths};
use crate::model::further::FixedTo;
use crate::model::{Figure, Name};

/// The vehicle's origin must stay where `out . p <= limit`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    pub out: V2,
    pub limit: f64,
}

/// What is not bare wall: along the wall from, to; its name, and what it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Occupied {
    pub from: f64,
    pub to: f64,
    pub still: Arc<str>,
    pub item: Item,
    pub piece: usize,
}

/// One place the bay decides, at one heading.
#[derive(Clone, Debug, PartialEq)]
pub struct Fixing {
    pub procedure: usize,
    pub setup: usize,
    /// The station or the mark.
    pub moving: Arc<str>,
    pub still: Arc<str>,
    pub limits: Vec<Limit>,
    /// The still piece it goes with when the bay grows.
    pub piece: usize,
    /// The wall a target hangs on.
    pub label: Option<u32>,
    /// Along that wall, for the origin: where the wall is not bare.
    pub along: V2,
    pub occupied: Vec<Occupied>,
}

/// More combinations than this are not tried.
const MOST: usize = 16;

/// Every combination of walls and stretches at the heading of `turned`, whose vehicle stands at the bay's origin.
/// Empty when something cannot be where the bay wants it at this heading; one empty combination when nothing is
/// fixed. What is not known fixes nothing: the checks tell of it. `idle` setups are left out.
pub(super) fn combinations(turned: &Layout, stills: &Stills, idle: &[usize]) -> Vec<Vec<Fixing>> {
    let mut all: Vec<Vec<Fixing>> = vec![Vec::new()];
    for (s, setup) in turned.setups.iter().enumerate().filter(|(s, _)| !idle.contains(s)) {
        let cast = Cast { turned, stills, s, setup };
        let stations = setup.stations.iter().filter_map(|station| {
            let stand = station.place.as_ref().ok()?;
            match &station.def.fixed_to {
                Some(FixedTo::Wall) => cast.on_walls(station, stand),
                Some(FixedTo::Bay(name)) => cast.installed(station, stand, name),
                Some(FixedTo::Earlier(_)) | None => None,
            }
        });
        let line =
            setup.def.stand_on.as_ref().and_then(|on| cast.on_line(&on.mark, &on.floor_line, &on.within));
        for choices in stations.chain(line) {
            all = all
                .iter()
                .flat_map(|chosen| {
                    choices.iter().map(|c| chosen.iter().cloned().chain([c.clone()]).collect())
                })
                .take(MOST)
                .collect();
        }
    }
    all
}

struct Cast<'a> {
    turned: &'a Layout,
    stills: &'a Stills,
    s: usize,
    setup: &'a Setup,
}

impl Cast<'_> {
    fn fixing(&self, moving: &Arc<str>, still: &Arc<str>, limits: Vec<Limit>, piece: usize) -> Fixing {
        Fixing {
            procedure: self.setup.procedure,
            setup: self.s,
            moving: moving.clone(),
            still: still.clone(),
            limits,
            piece,
            label: None,
            along: V2::zeros(),
            occupied: Vec::new(),
        }
    }

    fn tolerance(&self, printed: &Option<Figure>, axis: Axis, stand: &Stand) -> Known<f64> {
        with(self.turned, self.setup, printed, axis, stand).map(|(allowed, _)| allowed)
    }

    /// Each wall that faces the way the target's front looks.
    fn on_walls(&self, station: &Station, stand: &Stand) -> Option<Vec<Fixing>> {
        let tolerance = &station.def.tolerance;
        let along = self.tolerance(&tolerance.along, Axis::Along, stand).ok()?;
        let turn = self.tolerance(&tolerance.turn, Axis::Turn, stand).ok()?;
        let mut choices = Vec::new();
        for (label, bound) in (0..).zip(&self.turned.stage.walls) {
            let facing = stand.frame.x.dot(&bound.inward);
            let off = stand.frame.x.perp(&bound.inward).atan2(facing).to_degrees();
            if !matches!(bound.kind, BoundKind::Wall(_)) || facing <= FACES || off.abs() > turn + 1e-9 {
                continue;
            }
            let way = (bound.side.1 - bound.side.0).normalize();
            let length = (bound.side.1 - bound.side.0).norm();
            let edge = |y: f64| way.dot(&(stand.frame.to_world(P2::new(stand.size.back, y)) - bound.side.0));
            let (a, b) = (edge(stand.size.half_width), edge(-stand.size.half_width));
            let (low, high) = (a.min(b), a.max(b));
            let behind = bound.inward.dot(&(bound.side.0 - stand.mark));
            let limits = vec![
                Limit { out: bound.inward, limit: behind + along * facing },
                Limit { out: -bound.inward, limit: along * facing - behind },
                Limit { out: -way, limit: low },
                Limit { out: way, limit: length - high },
            ];
            let piece = self.piece_of(label);
            let mut fixing = self.fixing(&station.name, &bound.name, limits, piece);
            fixing.label = Some(label);
            fixing.along = way;
            fixing.occupied = self.occupied(stand, label, (low, high));
            choices.push(fixing);
        }
        Some(choices)
    }

    /// A piece of the wall, or where doorways leave nothing of it, of a doorway in it.
    fn piece_of(&self, label: u32) -> usize {
        let stage = &self.turned.stage;
        let of_side = |l: &u32| stage.bound(*l).side == stage.bound(label).side;
        let others = (0..).take(stage.walls.len()).filter(of_side);
        let pieces = std::iter::once(label).chain(others).flat_map(|l| self.stills.stretches(l));
        pieces.take(1).last().unwrap_or(self.stills.edges.start)
    }

    /// Doorways of the wall and things that stand before it: the origins that bring the target there.
    fn occupied(&self, stand: &Stand, label: u32, (low, high): (f64, f64)) -> Vec<Occupied> {
        let taken = not_bare(self.turned, stand, label).into_iter();
        let of = |n: NotBare| {
            let (item, piece) = match n.what {
                Covers::Door(other) => (Item::Edge(other), self.stills.stretches(other).next()?),
                Covers::Thing(t) => (Item::Thing(t), self.stills.thing(t).start),
            };
            Some(Occupied { from: n.from - high, to: n.to - low, still: n.of.name().clone(), item, piece })
        };
        taken.filter_map(of).collect()
    }

    fn installed(&self, station: &Station, stand: &Stand, name: &Name) -> Option<Vec<Fixing>> {
        let at = self.turned.bundle.bay.installed.iter().position(|i| i.name == *name)?;
        let thing = &self.turned.bundle.bay.installed[at];
        let want = Frame::heading(P2::new(thing.at.0, thing.at.1), thing.turn.to_radians());
        let tolerance = &station.def.tolerance;
        let along = self.tolerance(&tolerance.along, Axis::Along, stand).ok()?;
        let across = self.tolerance(&tolerance.across, Axis::Across, stand).ok()?;
        let turn = self.tolerance(&tolerance.turn, Axis::Turn, stand).ok()?;
        let (x, y) = (stand.frame.x, stand.frame.y());
        if x.perp(&want.x).atan2(x.dot(&want.x)).to_degrees().abs() > turn + 1e-9 {
            return Some(Vec::new());
        }
        let off = want.origin - stand.frame.origin;
        let limits =
            between(x, off.dot(&x), along).into_iter().chain(between(y, off.dot(&y), across)).collect();
        Some(vec![self.fixing(&station.name, &name.text, limits, self.stills.installed(at))])
    }

    /// Each stretch of a painted line.
    fn on_line(&self, mark: &Name, line: &Name, within: &Option<Figure>) -> Option<Vec<Fixing>> {
        let layout = self.turned;
        let at = layout.bundle.bay.floor_lines.iter().position(|l| l.name == *line)?;
        let here = lengths::at(self.setup, mark).ok()?;
        let (allowed, _) = value(layout, self.setup, within, layout.needs.measuring).ok()?;
        let points: Vec<P2> =
            layout.bundle.bay.floor_lines[at].points.iter().map(|p| P2::new(p.0, p.1)).collect();
        let stretches = points.windows(2).filter_map(|w| {
            let way = (w[1] - w[0]).try_normalize(0.0)?;
            let left = V2::new(-way.y, way.x);
            let (from, to) = (way.dot(&(w[0] - here)), way.dot(&(w[1] - here)));
            let mut limits = between(left, left.dot(&(w[0] - here)), allowed).to_vec();
            limits.extend([Limit { out: -way, limit: -from }, Limit { out: way, limit: to }]);
            Some(self.fixing(&mark.text, &line.text, limits, self.stills.line(at)))
        });
        Some(stretches.collect())
    }
}

/// Within `by` of `at` along `way`.
pub(super) fn between(way: V2, at: f64, by: f64) -> [Limit; 2] {
    [Limit { out: way, limit: at + by }, Limit { out: -way, limit: by - at }]
}
