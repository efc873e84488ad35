//! The other side of a setup: the same constructions from the other side's own features.
//!
//! Left and right, signs, corners and names are exchanged in the definition; the layout then builds it like any other.
//! On a vehicle that is not symmetrical the result is not the reflection of the first side. Every line becomes the
//! line that would be its mirror image on a symmetrical vehicle, pointing the mirrored way, so one exchange of signs
//! holds for all: to the left of a line, anticlockwise, and across change their sign; along does not.
//!
//! What the setup shares with the others is built again too, so that a mark under the left radar, say, is under the right
//! one here even where it stands in the procedure's own list.

use crate::model::figure::Term;
use crate::model::further::{CheckLength, FaceLine, FixedTo, Mirrored, OnlyIf, Pair, Sits};
use crate::model::language::{
    Construction, Corner, Feature, Hand, HeightRef, LineRef, Looks, Over, Side, Sight, StringLine, Zone,
    ZoneShape,
};
use crate::model::procedure::{Anchor, MarkDef, Procedure, Setup, Station};
use crate::model::{Figure, List, Name, Table};

/// The setup for the other side; `setup` with what it shares with the others.
pub fn other_side(procedure: &Procedure, setup: &Setup, mirrored: &Mirrored) -> Setup {
    let m = Exchange { swap: &mirrored.swap, pairs: &procedure.pairs, setups: &procedure.setups };
    Setup {
        name: mirrored.name.clone(),
        marks: setup.marks.iter().map(|d| MarkDef(m.mark(&d.0), m.construction(&d.1))).collect(),
        stations: setup.stations.iter().map(|s| m.station(s)).collect(),
        zones: setup.zones.iter().map(|z| m.zone(z)).collect(),
        sights: setup.sights.iter().map(|s| Sight { from: m.thing(&s.from), to: m.mark(&s.to) }).collect(),
        level: setup.level.clone().map(|mut l| {
            if let Over::Marks(names) = &mut l.over {
                *names = names.iter().map(|n| m.mark(n)).collect();
            }
            l
        }),
        lines: setup
            .lines
            .iter()
            .map(|l| StringLine { line: m.line(&l.line), from: m.mark(&l.from), ..l.clone() })
            .collect(),
        mirrored: None,
        stand_on: setup.stand_on.clone().map(|mut s| {
            s.mark = m.mark(&s.mark);
            s
        }),
        only_if: setup.only_if.as_ref().map(|o| m.only_if(o)),
        checks: setup.checks.iter().map(|c| m.check(c)).collect(),
        needs: Table(setup.needs.iter().map(|(n, need)| (m.target(n), need.clone())).collect()),
        draw: setup
            .draw
            .iter()
            .cloned()
            .map(|mut d| {
                (d.from, d.to) = (m.mark(&d.from), m.mark(&d.to));
                d
            })
            .collect(),
        ..setup.clone()
    }
}

struct Exchange<'a> {
    swap: &'a [Pair],
    pairs: &'a [Pair],
    setups: &'a [Setup],
}

fn exchanged(name: &Name, pairs: &[Pair]) -> Option<Name> {
    pairs.iter().find_map(|Pair(a, b)| {
        let other = if a == name {
            b
        } else if b == name {
            a
        } else {
            return None;
        };
        Some(Name { text: other.text.clone(), spot: name.spot })
    })
}

fn minus(figure: &Figure) -> Figure {
    let terms = figure.terms.iter().map(|(sign, t): &(f64, Term)| (-sign, t.clone())).collect();
    Figure { terms, spot: figure.spot }
}

fn other(hand: Hand) -> Hand {
    match hand {
        Hand::Left => Hand::Right,
        Hand::Right => Hand::Left,
    }
}

fn other_side_of(side: Side) -> Side {
    match side {
        Side::Left => Side::Right,
        Side::Right => Side::Left,
        Side::CarLeft => Side::CarRight,
        Side::CarRight => Side::CarLeft,
        Side::Ahead | Side::Behind => side,
    }
}

fn other_corner(corner: Corner) -> Corner {
    match corner {
        Corner::FrontLeft => Corner::FrontRight,
        Corner::FrontRight => Corner::FrontLeft,
        Corner::RearLeft => Corner::RearRight,
        Corner::RearRight => Corner::RearLeft,
    }
}

impl Exchange<'_> {
    /// A mark or station.
    fn mark(&self, name: &Name) -> Name {
        exchanged(name, self.swap).unwrap_or_else(|| name.clone())
    }

    /// A sensor, point or target: by the procedure's pairs, else by the words left and right in its name.
    fn thing(&self, name: &Name) -> Name {
        exchanged(name, self.pairs).unwrap_or_else(|| {
            let words: Vec<&str> = name
                .as_str()
                .split(' ')
                .map(|word| match word {
                    "left" => "right",
                    "right" => "left",
                    word => word,
                })
                .collect();
            Name { text: words.join(" ").into(), spot: name.spot }
        })
    }

    /// An earlier setup: its own other side, where it has one.
    fn setup(&self, name: &Name) -> Name {
        let earlier = self.setups.iter().find(|s| s.name == *name).and_then(|s| s.mirrored.as_ref());
        earlier.map_or_else(|| name.clone(), |m| Name { text: m.name.text.clone(), spot: name.spot })
    }

    fn target(&self, name: &Name) -> Name {
        exchanged(name, self.pairs).unwrap_or_else(|| name.clone())
    }

    fn feature(&self, feature: &Feature) -> Feature {
        match feature {
            Feature::Wheel(corner) => Feature::Wheel(other_corner(*corner)),
            Feature::Sensor(name) => Feature::Sensor(self.thing(name)),
            Feature::Point(name) => Feature::Point(self.thing(name)),
            Feature::Axle(_) | Feature::Nose | Feature::Tail => feature.clone(),
        }
    }

    fn line(&self, line: &LineRef) -> LineRef {
        match line {
            LineRef::Centre | LineRef::Thrust => line.clone(),
            LineRef::WheelSide(hand) => LineRef::WheelSide(other(*hand)),
            LineRef::BodySide(hand) => LineRef::BodySide(other(*hand)),
            LineRef::WheelPlane(corner) => LineRef::WheelPlane(other_corner(*corner)),
            // these point to the left: their image points to the right
            LineRef::Nose | LineRef::Tail => LineRef::Reversed(Box::new(line.clone())),
            LineRef::Through(a, b) => LineRef::Through(self.mark(a), self.mark(b)),
            // turned anticlockwise: its image is turned clockwise
            LineRef::Square { line, at } => LineRef::Reversed(Box::new(LineRef::Square {
                line: Box::new(self.line(line)),
                at: self.mark(at),
            })),
            LineRef::Reversed(line) => match self.line(line) {
                LineRef::Reversed(twice) => *twice,
                once => LineRef::Reversed(Box::new(once)),
            },
        }
    }

    fn construction(&self, c: &Construction) -> Construction {
        match c {
            Construction::Under(f) => Construction::Under(self.feature(f)),
            Construction::Along { line, from, by } => {
                Construction::Along { line: self.line(line), from: self.mark(from), by: by.clone() }
            }
            Construction::Foot { line, from } => {
                Construction::Foot { line: self.line(line), from: self.mark(from) }
            }
            Construction::Place { line, from, along, left } => Construction::Place {
                line: self.line(line),
                from: self.mark(from),
                along: along.clone(),
                left: minus(left),
            },
            Construction::Off { line, from, by } => {
                Construction::Off { line: self.line(line), from: self.mark(from), by: minus(by) }
            }
            Construction::Midway(a, b) => Construction::Midway(self.mark(a), self.mark(b)),
            Construction::Crossing(a, b) => Construction::Crossing(self.line(a), self.line(b)),
            Construction::Bearing { from, line, angle, by } => Construction::Bearing {
                from: self.mark(from),
                line: self.line(line),
                angle: minus(angle),
                by: by.clone(),
            },
            Construction::Lengths { a, b, side } => Construction::Lengths {
                a: (self.mark(&a.0), a.1.clone()),
                b: (self.mark(&b.0), b.1.clone()),
                side: other_side_of(*side),
            },
        }
    }

    fn looks(&self, looks: &Looks) -> Looks {
        match looks {
            Looks::Forward | Looks::Backward => looks.clone(),
            Looks::Left => Looks::Right,
            Looks::Right => Looks::Left,
            Looks::At(mark) => Looks::At(self.mark(mark)),
            Looks::AtSensor(name) => Looks::AtSensor(self.thing(name)),
            Looks::Along(line) => Looks::Along(self.line(line)),
            Looks::Against(line) => Looks::Against(self.line(line)),
        }
    }

    fn height(&self, height: &HeightRef) -> HeightRef {
        match height {
            HeightRef::Floor(_) => height.clone(),
            HeightRef::Level(feature, plus) => HeightRef::Level(self.feature(feature), plus.clone()),
        }
    }

    fn only_if(&self, only: &OnlyIf) -> OnlyIf {
        let OnlyIf::SensorOn(sensor, sits) = only;
        let sits = match sits {
            Sits::Left => Sits::Right,
            Sits::Middle => Sits::Middle,
            Sits::Right => Sits::Left,
        };
        OnlyIf::SensorOn(self.thing(sensor), sits)
    }

    fn station(&self, s: &Station) -> Station {
        Station {
            name: self.mark(&s.name),
            target: self.target(&s.target),
            at: self.mark(&s.at),
            looks: s.looks.as_ref().map(|l| self.looks(l)),
            faces: s.faces.as_ref().map(|l| self.line(l)),
            turn: s.turn.as_ref().map(minus),
            anchor: s.anchor.as_ref().map(|a| Anchor(a.0.clone(), minus(&a.1))),
            height: s.height.as_ref().map(|h| self.height(h)),
            fixed_to: s.fixed_to.as_ref().map(|f| match f {
                FixedTo::Bay(name) => FixedTo::Bay(self.thing(name)),
                FixedTo::Earlier(name) => FixedTo::Earlier(self.setup(name)),
                FixedTo::Wall => f.clone(),
            }),
            path: s.path.iter().map(|n| self.mark(n)).collect(),
            only_if: s.only_if.as_ref().map(|o| self.only_if(o)),
            on_face: s
                .on_face
                .iter()
                .map(|l| match l {
                    FaceLine::Upright(mark) => FaceLine::Upright(self.mark(mark)),
                    FaceLine::Level(feature, plus) => FaceLine::Level(self.feature(feature), plus.clone()),
                    FaceLine::At(_) => l.clone(),
                })
                .collect(),
            ..s.clone()
        }
    }

    fn zone(&self, z: &Zone) -> Zone {
        let names = |list: &List<Name>| list.iter().map(|n| self.mark(n)).collect();
        let across = |(a, b): &(Figure, Figure)| (minus(b), minus(a));
        let shape = match &z.shape {
            ZoneShape::Strip { line, from, along, left, across: width } => ZoneShape::Strip {
                line: self.line(line),
                from: self.mark(from),
                along: along.clone(),
                left: left.as_ref().map(across),
                across: width.clone(),
            },
            ZoneShape::Fan { at, line, angles, reach } => ZoneShape::Fan {
                at: self.mark(at),
                line: self.line(line),
                angles: across(angles),
                reach: reach.clone(),
            },
            ZoneShape::Around { stations, station, beside, above, below, behind, ahead } => {
                ZoneShape::Around {
                    stations: names(stations),
                    station: station.as_ref().map(|n| self.mark(n)),
                    beside: beside.clone(),
                    above: above.clone(),
                    below: below.clone(),
                    behind: behind.clone(),
                    ahead: ahead.clone(),
                }
            }
            ZoneShape::AroundVehicle { ahead, behind, left, right } => ZoneShape::AroundVehicle {
                ahead: ahead.clone(),
                behind: behind.clone(),
                left: right.clone(),
                right: left.clone(),
            },
            ZoneShape::Corners(marks) => ZoneShape::Corners(names(marks)),
            ZoneShape::Lane { from, to, width } => {
                ZoneShape::Lane { from: self.mark(from), to: self.mark(to), width: width.clone() }
            }
            ZoneShape::Fresnel { from, to, frequency_ghz, part } => ZoneShape::Fresnel {
                from: self.thing(from),
                to: self.mark(to),
                frequency_ghz: frequency_ghz.clone(),
                part: part.clone(),
            },
            ZoneShape::NotRead(_) => z.shape.clone(),
        };
        Zone { shape, ..z.clone() }
    }

    fn check(&self, check: &CheckLength) -> CheckLength {
        match check {
            CheckLength::Length(a, b, mm) => CheckLength::Length(self.mark(a), self.mark(b), mm.clone()),
            CheckLength::Same(p, q) => {
                CheckLength::Same((self.mark(&p.0), self.mark(&p.1)), (self.mark(&q.0), self.mark(&q.1)))
            }
            CheckLength::Loop(names, mm) => {
                CheckLength::Loop(names.iter().map(|n| self.mark(n)).collect(), mm.clone())
            }
            CheckLength::Right(a, b, c) => CheckLength::Right(self.mark(a), self.mark(b), self.mark(c)),
        }
    }
}
