//! The corners of a bay that was measured by tape, adjusted by least squares.
//!
//! Corner 0 stays and the side from corner 0 to corner 1 keeps its direction; what `floor` says is only where the
//! adjustment begins. A jamb lies on its side at a distance of its own.

use std::collections::{BTreeMap, BTreeSet};

use crate::geometry::adjust::{Adjusted, Doubt, NotAdjusted, Reading, Row, adjust, row, settling};
use crate::geometry::{P2, Polygon, V2, twice_area};
use crate::model::Spot;
use crate::model::bay::Bay;
use crate::model::taped::{JambEnd, Taped, TapedPoint};

/// The standard error of one tape reading, mm: the root of `error` squared and (`per_metre` times the metres) squared.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TapeError {
    pub error: f64,
    pub per_metre: f64,
}

impl Default for TapeError {
    fn default() -> TapeError {
        TapeError { error: 2.0, per_metre: 0.0 }
    }
}

impl TapeError {
    pub fn of(&self, mm: f64) -> f64 {
        self.error.hypot(self.per_metre * mm / 1000.0).max(1e-6)
    }
}

/// The corners as adjusted.
#[derive(Clone, Debug, PartialEq)]
pub struct Corners {
    /// In the floor's order, mm.
    pub corners: Vec<P2>,
    /// Standard errors in x and y from the tape's given error, mm.
    pub errors: Vec<V2>,
    /// Doorways of which a jamb was read, by their place in the bay: how far each read jamb lies along the side.
    pub jambs: Vec<(usize, [Option<f64>; 2])>,
    /// By reading: adjusted minus read, mm.
    pub residuals: Vec<f64>,
    pub redundant: usize,
    pub sigma0: Option<f64>,
    pub doubt: Doubt,
    /// Readings that no other reading checks: a mistake in one of them would not be seen.
    pub unchecked: Vec<usize>,
    /// Where it cannot be told which reading is wrong, tapes that would tell; else tapes that would check the unchecked ones.
    pub next: Vec<Tape>,
}

/// A tape between two points, with or without a reading.
pub type Tape = (TapedPoint, TapedPoint);

/// Why there are no corners.
#[derive(Clone, Debug, PartialEq)]
pub enum NoCorners {
    /// The bay lists no tapes.
    NoTapes,
    /// The readings leave these points open; tapes that would do.
    Open { points: Vec<TapedPoint>, missing: usize, needed: Vec<Tape> },
    /// The readings contradict each other so far that no floor comes near to all of them.
    Contradicting,
    /// The floor they give is no floor: its walls cross, or it is turned over.
    Crossed,
}

/// More tapes than this are not proposed.
const MOST: usize = 4;

struct Network<'a> {
    bay: &'a Bay,
    /// Along the side from corner 0 to corner 1.
    way: V2,
    /// The first unknown of a jamb, by doorway and end.
    jambs: BTreeMap<(usize, JambEnd), usize>,
}

/// The bay's corners from its tapes; the bay is one that was read without a fault.
pub fn corners(bay: &Bay, tape: TapeError) -> Result<Corners, NoCorners> {
    if bay.taped.is_empty() {
        return Err(NoCorners::NoTapes);
    }
    let network = Network::new(bay);
    let start = network.start();
    let adjusted = match adjust(&start, &network.readings(bay.taped.iter().cloned(), tape)) {
        Ok(adjusted) => adjusted,
        Err(NotAdjusted::Contradicting) => return Err(NoCorners::Contradicting),
        Err(NotAdjusted::Open { unknowns, free }) => {
            let (missing, points) = (free.ncols(), network.points(&unknowns));
            let unread = network.unread();
            let needed = settling(free, &network.rows(&start, &unread, tape), MOST);
            return Err(NoCorners::Open { points, missing, needed: chosen(unread, &needed) });
        }
    };
    network.told(adjusted, tape)
}

impl<'a> Network<'a> {
    fn new(bay: &'a Bay) -> Network<'a> {
        // a floor without faults has no side without length
        let way = match bay.floor.points[..] {
            [a, b, ..] => V2::new(b.0 - a.0, b.1 - a.1).try_normalize(0.0).unwrap_or(V2::x()),
            [] | [_] => V2::x(),
        };
        let mut network = Network { bay, way, jambs: BTreeMap::new() };
        let ends = bay.taped.iter().flat_map(|t| [&t.0, &t.1]);
        for (door, end) in ends.filter_map(|p| network.jamb(p)).collect::<Vec<_>>() {
            let next = network.corners_unknown() + network.jambs.len();
            network.jambs.entry((door, end)).or_insert(next);
        }
        network
    }

    fn count(&self) -> usize {
        self.bay.floor.points.len()
    }

    /// One unknown of corner 1, two of each further corner.
    fn corners_unknown(&self) -> usize {
        2 * self.count() - 3
    }

    fn jamb(&self, point: &TapedPoint) -> Option<(usize, JambEnd)> {
        let TapedPoint::Jamb(name, end) = point else { return None };
        Some((self.bay.doorways.iter().position(|d| d.name == *name)?, *end))
    }

    fn start(&self) -> Vec<f64> {
        let at = |i: usize| self.bay.floor.points.get(i).map_or(P2::origin(), |p| P2::new(p.0, p.1));
        let mut start = vec![(at(1) - at(0)).norm()];
        start.extend((2..self.count()).flat_map(|i| [at(i).x, at(i).y]));
        start.resize(self.corners_unknown() + self.jambs.len(), 0.0);
        for ((door, end), at) in &self.jambs {
            let door = &self.bay.doorways[*door];
            start[*at] = door.from + if *end == JambEnd::To { door.width } else { 0.0 };
        }
        start
    }

    /// A corner with the derivatives of its x and y by the unknowns.
    fn corner(&self, x: &[f64], i: usize) -> (P2, Vec<(usize, V2)>) {
        let first = self.bay.floor.points[0];
        let first = P2::new(first.0, first.1);
        match i {
            0 => (first, Vec::new()),
            1 => (first + self.way * x[0], vec![(0, self.way)]),
            _ => {
                let at = 2 * i - 3;
                (P2::new(x[at], x[at + 1]), vec![(at, V2::x()), (at + 1, V2::y())])
            }
        }
    }

    /// A point with the derivatives of its x and y by the unknowns.
    fn point(&self, x: &[f64], point: &TapedPoint) -> (P2, Vec<(usize, V2)>) {
        let (door, end) = match (point, self.jamb(point)) {
            (TapedPoint::Corner(i, _), _) => return self.corner(x, *i),
            (TapedPoint::Jamb(..), Some(jamb)) => jamb,
            (TapedPoint::Jamb(..), None) => return (P2::origin(), Vec::new()),
        };
        let side = self.bay.doorways[door].side.index;
        let ((a, by_a), (b, by_b)) = (self.corner(x, side), self.corner(x, (side + 1) % self.count()));
        let long = (b - a).norm().max(1e-9);
        let way = (b - a) / long;
        let unknown = self.jambs[&(door, end)];
        let along = x[unknown];
        // a + way * along; a change d of b turns the way by what of d is square to it
        let square = |d: V2| d - way * way.dot(&d);
        let mut slopes: Vec<(usize, V2)> = vec![(unknown, way)];
        slopes.extend(by_a.into_iter().map(|(k, d)| (k, d - square(d) * (along / long))));
        slopes.extend(by_b.into_iter().map(|(k, d)| (k, square(d) * (along / long))));
        (a + way * along, slopes)
    }

    fn readings<'b>(&'b self, tapes: impl Iterator<Item = Taped>, tape: TapeError) -> Vec<Reading<'b>> {
        tapes
            .map(|Taped(from, to, mm)| Reading {
                read: mm,
                error: tape.of(mm),
                model: Box::new(move |x: &[f64]| {
                    let ((a, by_a), (b, by_b)) = (self.point(x, &from), self.point(x, &to));
                    let long = (b - a).norm();
                    let way = if long > 1e-9 { (b - a) / long } else { V2::x() };
                    let mut slopes: Vec<(usize, f64)> =
                        by_b.into_iter().map(|(k, d)| (k, way.dot(&d))).collect();
                    slopes.extend(by_a.into_iter().map(|(k, d)| (k, -way.dot(&d))));
                    (long, slopes)
                }),
            })
            .collect()
    }

    /// The points that these unknowns belong to.
    fn points(&self, unknowns: &[usize]) -> Vec<TapedPoint> {
        let mut points: Vec<TapedPoint> = Vec::new();
        for k in unknowns {
            // the first belongs to corner 1, then two to each
            let corner = TapedPoint::Corner(k.div_ceil(2) + 1, Spot::NOWHERE);
            let jamb = self
                .jambs
                .iter()
                .find(|(_, at)| *at == k)
                .map(|((door, end), _)| TapedPoint::Jamb(self.bay.doorways[*door].name.clone(), *end));
            let point = jamb.unwrap_or(corner);
            if !points.contains(&point) {
                points.push(point);
            }
        }
        points
    }

    /// A point told from others without its spelling: corners before jambs.
    fn rank(&self, point: &TapedPoint) -> (usize, usize) {
        match (point, self.jamb(point)) {
            (TapedPoint::Corner(i, _), _) => (*i, 0),
            (TapedPoint::Jamb(..), at) => {
                at.map_or((usize::MAX, 0), |(door, end)| (self.count() + door, end as usize))
            }
        }
    }

    /// Every tape that could be read and was not, sides before diagonals, corners before jambs.
    fn unread(&self) -> Vec<Tape> {
        let n = self.count();
        let corner = |i: usize| TapedPoint::Corner(i, Spot::NOWHERE);
        let between = |a: &TapedPoint, b: &TapedPoint| {
            let (a, b) = (self.rank(a), self.rank(b));
            (a.min(b), a.max(b))
        };
        let mut known: BTreeSet<_> = self.bay.taped.iter().map(|t| between(&t.0, &t.1)).collect();
        let mut all = Vec::new();
        for step in 1..=n / 2 {
            all.extend(
                (0..n)
                    .map(|i| (i.min((i + step) % n), i.max((i + step) % n)))
                    .map(|(i, j)| (corner(i), corner(j))),
            );
        }
        for door in &self.bay.doorways {
            let side = door.side.index;
            for end in [JambEnd::From, JambEnd::To] {
                let far = (0..n).filter(|i| *i != side && *i != (side + 1) % n);
                let near = [side, (side + 1) % n];
                let jamb = TapedPoint::Jamb(door.name.clone(), end);
                all.extend(far.chain(near).map(|i| (corner(i), jamb.clone())));
            }
        }
        all.retain(|(a, b)| known.insert(between(a, b)));
        all
    }

    /// What these tapes would depend on if they were read; nothing where a jamb is not among the unknowns.
    fn rows(&self, at: &[f64], tapes: &[Tape], tape: TapeError) -> Vec<Row> {
        let known = |p: &TapedPoint| self.jamb(p).is_none_or(|j| self.jambs.contains_key(&j));
        let unknown = |a: &TapedPoint, b: &TapedPoint| !known(a) || !known(b);
        tapes
            .iter()
            .map(|(from, to)| {
                if unknown(from, to) {
                    return Row::new();
                }
                let long = (self.point(at, to).0 - self.point(at, from).0).norm();
                let would = Taped(from.clone(), to.clone(), long);
                self.readings(std::iter::once(would), tape).iter().flat_map(|r| row(at, r)).collect()
            })
            .collect()
    }

    /// Which tapes to read next, and which readings no other one checks.
    fn next(&self, adjusted: &Adjusted, tape: TapeError) -> (Vec<usize>, Vec<Tape>) {
        let read: Vec<Tape> = self.bay.taped.iter().map(|t| (t.0.clone(), t.1.clone())).collect();
        let (unchecked, mut unread) = (adjusted.unchecked(), self.unread());
        let again = |which: &[usize]| which.iter().take(MOST).map(|i| read[*i].clone()).collect();
        if adjusted.doubt == Doubt::Undecided {
            let alike = adjusted.alike();
            unread.truncate(MOST);
            return (unchecked, if unread.is_empty() { again(&alike) } else { unread });
        }
        let own = self.rows(&adjusted.unknowns, &chosen(read.clone(), &unchecked), tape);
        let candidates = self.rows(&adjusted.unknowns, &unread, tape);
        let checking = adjusted.checking(&own, &candidates, MOST);
        let next = if checking.is_empty() { again(&unchecked) } else { chosen(unread, &checking) };
        (unchecked, next)
    }

    fn told(&self, adjusted: Adjusted, tape: TapeError) -> Result<Corners, NoCorners> {
        let x = &adjusted.unknowns;
        let corners: Vec<P2> = (0..self.count()).map(|i| self.corner(x, i).0).collect();
        let before: Vec<P2> = self.bay.floor.points.iter().map(|p| P2::new(p.0, p.1)).collect();
        let turned_over = twice_area(&corners) * twice_area(&before) <= 0.0;
        if turned_over || x[0] <= 0.0 || Polygon::new(corners.clone()).is_err() {
            return Err(NoCorners::Crossed);
        }
        let errors = (0..self.count())
            .map(|i| {
                let by = self.corner(x, i).1;
                let variance = by.iter().fold(V2::zeros(), |sum, (k, d)| {
                    sum + d.component_mul(d) * adjusted.covariance[(*k, *k)]
                });
                variance.map(f64::sqrt)
            })
            .collect();
        let mut jambs: BTreeMap<usize, [Option<f64>; 2]> = BTreeMap::new();
        for ((door, end), at) in &self.jambs {
            jambs.entry(*door).or_default()[usize::from(*end == JambEnd::To)] = Some(x[*at]);
        }
        let (unchecked, next) = self.next(&adjusted, tape);
        Ok(Corners {
            corners,
            errors,
            jambs: jambs.into_iter().collect(),
            residuals: adjusted.residuals,
            redundant: adjusted.redundant,
            sigma0: adjusted.sigma0,
            doubt: adjusted.doubt,
            unchecked,
            next,
        })
    }
}

fn chosen(tapes: Vec<Tape>, which: &[usize]) -> Vec<Tape> {
    which.iter().filter_map(|i| tapes.get(*i).cloned()).collect()
}

#[cfg(test)]
mod tests;
