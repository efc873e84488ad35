//! Marks and lines: the floor points of a setup, constructed in vehicle axes as with string, tape and plumb bob.

use std::sync::Arc;

use super::body::{self, Body};
use super::setup::Mark;
use super::solid::{Known, both};
use super::values::Values;
use crate::geometry::{Line, NOISE_MM, P2, V2, meet_of_circles, rotate};
use crate::model::language::{Construction, Feature, LineRef, Side};
use crate::model::procedure::MarkDef;
use crate::model::{Figure, Job, Name, Spot, Vehicle};

/// How many marks every setup knows, long and short names.
const GIVEN: usize = 8;

/// A sentence about a construction that has no solution, and where it stands.
pub type NoWay = (Spot, String);

/// Whatever a construction asks: a value, a missing figure, or no solution.
pub type Found<T> = Result<Known<T>, NoWay>;

/// The marks known so far in one setup.
pub struct Marks<'a> {
    pub vehicle: &'a Vehicle,
    pub body: &'a Body,
    pub job: &'a Job,
    pub values: &'a Values<'a>,
    made: Vec<(Arc<str>, Known<P2>)>,
}

impl<'a> Marks<'a> {
    /// With "nose", "tail", "front axle", "rear axle" and their short names, which every setup knows.
    pub fn new(vehicle: &'a Vehicle, body: &'a Body, job: &'a Job, values: &'a Values<'a>) -> Self {
        let nose = P2::new(body::nose(vehicle), 0.0);
        let tail = P2::new(body::tail(vehicle), 0.0);
        let rear = P2::new(-vehicle.wheelbase, 0.0);
        let known = [
            ("nose", "N", nose),
            ("tail", "T", tail),
            ("front axle", "FA", P2::origin()),
            ("rear axle", "RA", rear),
        ];
        let made = known
            .iter()
            .flat_map(|(long, short, p)| [(Arc::from(*long), Ok(*p)), (Arc::from(*short), Ok(*p))])
            .collect();
        Marks { vehicle, body, job, values, made }
    }

    /// Where a mark lies; one listed later shadows one of the same name.
    pub fn point(&self, name: &Name) -> Found<P2> {
        self.made
            .iter()
            .rev()
            .find(|(n, _)| *name == **n)
            .map(|(_, at)| at.clone())
            .ok_or_else(|| (name.spot, format!("mark {name:?} is used before it is made")))
    }

    /// The marks every setup knows.
    pub fn given(&self) -> Vec<Mark> {
        let given = self.made[..GIVEN].iter();
        given.map(|(name, at)| Mark { name: name.clone(), at: at.clone(), strings: Vec::new() }).collect()
    }

    /// The height of a feature above the tyre plane, plus: as it was measured on this vehicle, else as its file has it.
    pub fn height(&self, feature: &Feature, plus: &Figure, spot: Spot) -> Found<f64> {
        let z = match self.values.height_of(feature) {
            Some(z) => Ok(z),
            None => match body::feature(self.vehicle, feature) {
                Ok((_, Some(z))) => Ok(z),
                Ok((_, None)) => {
                    return Err((
                        spot,
                        "the nose and the tail are planes and have no height to level with".into(),
                    ));
                }
                Err(missing) => Err(missing),
            },
        };
        Ok(both(z, self.values.of(plus)).map(|(z, plus)| z + plus))
    }

    /// Makes one mark and remembers it.
    pub fn make(&mut self, def: &MarkDef) -> Result<Mark, NoWay> {
        let mut strings = Vec::new();
        let at = self.construct(def, &mut strings)?;
        self.made.push((def.0.text.clone(), at.clone()));
        Ok(Mark { name: def.0.text.clone(), at, strings })
    }

    /// A directed line in vehicle axes.
    pub fn line(&self, line: &LineRef, spot: Spot) -> Found<Line> {
        Ok(match line {
            LineRef::Centre => Ok(body::centre_line(self.vehicle)),
            LineRef::Thrust => body::thrust_line(self.vehicle, self.job),
            LineRef::WheelSide(hand) => match body::wheel_side(self.vehicle, *hand) {
                Some(line) => Ok(line),
                None => {
                    return Err((
                        spot,
                        "the wheels of that side share one point: no line goes through them".into(),
                    ));
                }
            },
            LineRef::BodySide(hand) => Ok(body::body_side(self.vehicle, self.body, *hand)),
            LineRef::WheelPlane(corner) => body::wheel_plane(self.vehicle, self.job, *corner),
            LineRef::Nose => Ok(Line { at: P2::new(body::nose(self.vehicle), 0.0), dir: V2::new(0.0, 1.0) }),
            LineRef::Tail => Ok(Line { at: P2::new(body::tail(self.vehicle), 0.0), dir: V2::new(0.0, 1.0) }),
            LineRef::Through(a, b) => match both(self.point(a)?, self.point(b)?) {
                Ok((p, q)) => match Line::through(p, q) {
                    Some(line) => Ok(line),
                    None => {
                        return Err((
                            a.spot,
                            format!("marks {a:?} and {b:?} are the same point: no line goes through them"),
                        ));
                    }
                },
                Err(missing) => Err(missing),
            },
            LineRef::Reversed(line) => self.line(line, spot)?.map(|l| Line { at: l.at, dir: -l.dir }),
            LineRef::Square { line, at } => {
                both(self.line(line, spot)?, self.point(at)?).map(|(l, p)| Line { at: p, dir: l.left() })
            }
        })
    }

    fn construct(&self, def: &MarkDef, strings: &mut Vec<(P2, P2)>) -> Found<P2> {
        let spot = def.0.spot;
        let v = self.values;
        Ok(match &def.1 {
            Construction::Under(feature) => body::feature(self.vehicle, feature).map(|(p, _)| p),
            Construction::Along { line, from, by } => {
                let known = both(both(self.line(line, spot)?, self.point(from)?), v.of(by));
                known.map(|((line, from), by)| {
                    let foot = line.foot(from);
                    let at = foot + line.dir * by;
                    strings.extend([(from, foot), (foot, at)]);
                    at
                })
            }
            Construction::Foot { line, from } => {
                both(self.line(line, spot)?, self.point(from)?).map(|(line, from)| {
                    let foot = line.foot(from);
                    strings.push((from, foot));
                    foot
                })
            }
            Construction::Place { line, from, along, left } => {
                let known =
                    both(both(self.line(line, spot)?, self.point(from)?), both(v.of(along), v.of(left)));
                known.map(|((line, from), (along, left))| {
                    let foot = line.foot(from);
                    let turn = foot + line.dir * along;
                    let at = turn + line.left() * left;
                    strings.extend([(from, foot), (foot, turn), (turn, at)]);
                    at
                })
            }
            Construction::Off { line, from, by } => {
                let known = both(both(self.line(line, spot)?, self.point(from)?), v.of(by));
                known.map(|((line, from), by)| {
                    let at = from + line.left() * by;
                    strings.push((from, at));
                    at
                })
            }
            Construction::Midway(a, b) => both(self.point(a)?, self.point(b)?).map(|(a, b)| {
                strings.push((a, b));
                nalgebra::center(&a, &b)
            }),
            Construction::Crossing(a, b) => match both(self.line(a, spot)?, self.line(b, spot)?) {
                Ok((a, b)) => match a.crossing(&b) {
                    Some(at) => {
                        strings.extend([(a.at, at), (b.at, at)]);
                        Ok(at)
                    }
                    None => {
                        return Err((
                            spot,
                            format!("mark {:?} is where two lines cross, but the lines are parallel", def.0),
                        ));
                    }
                },
                Err(missing) => Err(missing),
            },
            Construction::Bearing { from, line, angle, by } => {
                let known =
                    both(both(self.line(line, spot)?, self.point(from)?), both(v.of(angle), v.of(by)));
                known.map(|((line, from), (angle, by))| {
                    let at = from + rotate(line.dir, angle.to_radians()) * by;
                    strings.push((from, at));
                    at
                })
            }
            Construction::Lengths { a, b, side } => {
                let known = both(both(self.point(&a.0)?, v.of(&a.1)), both(self.point(&b.0)?, v.of(&b.1)));
                match known {
                    Ok((a, b)) => {
                        let at = tapes_meet(def, a, b, *side).map_err(|why| (spot, why))?;
                        strings.extend([(a.0, at), (b.0, at)]);
                        Ok(at)
                    }
                    Err(missing) => Err(missing),
                }
            }
        })
    }
}

/// Where two tapes meet, on the side that is asked for.
fn tapes_meet(def: &MarkDef, (p, r): (P2, f64), (q, s): (P2, f64), side: Side) -> Result<P2, String> {
    let meet = |left| meet_of_circles(p, r, q, s, left).ok_or_else(|| tapes_apart(def, (p, r), (q, s)));
    let (axis, words) = match side {
        Side::Left => return meet(true),
        Side::Right => return meet(false),
        Side::Ahead => (V2::new(1.0, 0.0), "ahead of"),
        Side::Behind => (V2::new(-1.0, 0.0), "behind"),
        Side::CarLeft => (V2::new(0.0, 1.0), "left of"),
        Side::CarRight => (V2::new(0.0, -1.0), "right of"),
    };
    let (one, other) = (meet(true)?, meet(false)?);
    let farther = axis.dot(&(one - other));
    if farther.abs() <= NOISE_MM && nalgebra::distance(&one, &other) > NOISE_MM {
        return Err(format!(
            "the tapes of mark {:?} meet at two points, of which neither lies {words} the other; say it with another side",
            def.0
        ));
    }
    Ok(if farther >= 0.0 { one } else { other })
}

fn tapes_apart(def: &MarkDef, (p, r): (P2, f64), (q, s): (P2, f64)) -> String {
    let apart = nalgebra::distance(&p, &q);
    let why = if r < 0.0 || s < 0.0 {
        "a tape cannot be shorter than nothing".to_string()
    } else if r + s < apart {
        format!("together they are {:.1} mm long, their ends {apart:.1} mm apart", r + s)
    } else {
        format!("their ends are only {apart:.1} mm apart and one is {:.1} mm longer", (r - s).abs())
    };
    format!("mark {:?} is where two tapes of {r:.1} and {s:.1} mm meet, but they cannot meet: {why}", def.0)
}
