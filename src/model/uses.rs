//! What the parts of a procedure refer to: marks, stations, zones, sensors, points and figures, in the order of the file.

use super::figure::Figure;
use super::further::{ChalkLine, CheckLength, FaceLine, OnlyIf, StandOn};
use super::language::{
    Construction, Feature, HeightRef, LevelAsk, LineRef, Looks, Over, Reach, Sight, StringLine, Zone,
    ZoneShape,
};
use super::procedure::{Procedure, Setup, Station};
use super::spot::Name;

/// One thing referred to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Use<'a> {
    Mark(&'a Name),
    Station(&'a Name),
    /// The far end of a sight: a station, an area to be seen, a mark, or a point of vehicle or bay.
    Seen(&'a Name),
    Zone(&'a Name),
    Sensor(&'a Name),
    Point(&'a Name),
    Figure(&'a Figure),
}

/// Something that refers to others.
pub trait Uses {
    /// Shows every thing this refers to.
    fn uses<'a>(&'a self, see: &mut dyn FnMut(Use<'a>));

    /// All of them, collected.
    fn used(&self) -> Vec<Use<'_>> {
        let mut all = Vec::new();
        self.uses(&mut |u| all.push(u));
        all
    }
}

/// Shows everything a procedure's parts refer to.
pub fn every_use<'a>(p: &'a Procedure, see: &mut dyn FnMut(Use<'a>)) {
    let marks = p.marks.iter().chain(p.setups.iter().flat_map(|s| s.marks.iter()));
    marks.for_each(|m| m.1.uses(see));
    p.zones.iter().for_each(|z| z.uses(see));
    p.setups.iter().for_each(|s| s.uses(see));
}

impl Uses for Feature {
    fn uses<'a>(&'a self, see: &mut dyn FnMut(Use<'a>)) {
        match self {
            Feature::Sensor(name) => see(Use::Sensor(name)),
            Feature::Point(name) => see(Use::Point(name)),
            Feature::Wheel(_) | Feature::Axle(_) | Feature::Nose | Feature::Tail => {}
        }
    }
}

impl Uses for LineRef {
    fn uses<'a>(&'a self, see: &mut dyn FnMut(Use<'a>)) {
        match self {
            LineRef::Through(a, b) => {
                see(Use::Mark(a));
                see(Use::Mark(b));
            }
            LineRef::Square { line, at } => {
                line.uses(see);
                see(Use::Mark(at));
            }
            LineRef::Reversed(line) => line.uses(see),
            LineRef::Centre
            | LineRef::Thrust
            | LineRef::WheelSide(_)
            | LineRef::BodySide(_)
            | LineRef::WheelPlane(_)
            | LineRef::Nose
            | LineRef::Tail => {}
        }
    }
}

impl Uses for Construction {
    fn uses<'a>(&'a self, see: &mut dyn FnMut(Use<'a>)) {
        match self {
            Construction::Under(feature) => feature.uses(see),
            Construction::Along { line, from, by } | Construction::Off { line, from, by } => {
                line.uses(see);
                see(Use::Mark(from));
                see(Use::Figure(by));
            }
            Construction::Foot { line, from } => {
                line.uses(see);
                see(Use::Mark(from));
            }
            Construction::Place { line, from, along, left } => {
                line.uses(see);
                see(Use::Mark(from));
                see(Use::Figure(along));
                see(Use::Figure(left));
            }
            Construction::Midway(a, b) => {
                see(Use::Mark(a));
                see(Use::Mark(b));
            }
            Construction::Crossing(a, b) => {
                a.uses(see);
                b.uses(see);
            }
            Construction::Bearing { from, line, angle, by } => {
                see(Use::Mark(from));
                line.uses(see);
                see(Use::Figure(angle));
                see(Use::Figure(by));
            }
            Construction::Lengths { a, b, .. } => {
                for (mark, length) in [a, b] {
                    see(Use::Mark(mark));
                    see(Use::Figure(length));
                }
            }
        }
    }
}

impl Uses for Looks {
    fn uses<'a>(&'a self, see: &mut dyn FnMut(Use<'a>)) {
        match self {
            Looks::At(mark) => see(Use::Mark(mark)),
            Looks::AtSensor(sensor) => see(Use::Sensor(sensor)),
            Looks::Along(line) | Looks::Against(line) => line.uses(see),
            Looks::Forward | Looks::Backward | Looks::Left | Looks::Right => {}
        }
    }
}

impl Uses for HeightRef {
    fn uses<'a>(&'a self, see: &mut dyn FnMut(Use<'a>)) {
        match self {
            HeightRef::Floor(figure) => see(Use::Figure(figure)),
            HeightRef::Level(feature, plus) => {
                feature.uses(see);
                see(Use::Figure(plus));
            }
        }
    }
}

impl Uses for Station {
    fn uses<'a>(&'a self, see: &mut dyn FnMut(Use<'a>)) {
        see(Use::Mark(&self.at));
        if let Some(looks) = &self.looks {
            looks.uses(see);
        }
        if let Some(line) = &self.faces {
            line.uses(see);
        }
        if let Some(anchor) = &self.anchor {
            see(Use::Figure(&anchor.0));
            see(Use::Figure(&anchor.1));
        }
        if let Some(height) = &self.height {
            height.uses(see);
        }
        let t = &self.tolerance;
        let figures = [&self.turn, &t.along, &t.across, &t.turn, &t.roll, &t.tilt, &t.up];
        for figure in figures.into_iter().flatten() {
            see(Use::Figure(figure));
        }
        self.path.iter().for_each(|m| see(Use::Mark(m)));
        self.on_face.iter().for_each(|l| l.uses(see));
        if let Some(OnlyIf::SensorOn(sensor, _)) = &self.only_if {
            see(Use::Sensor(sensor));
        }
    }
}

impl Uses for FaceLine {
    fn uses<'a>(&'a self, see: &mut dyn FnMut(Use<'a>)) {
        match self {
            FaceLine::Upright(mark) => see(Use::Mark(mark)),
            FaceLine::Level(feature, plus) => {
                feature.uses(see);
                see(Use::Figure(plus));
            }
            FaceLine::At(height) => see(Use::Figure(height)),
        }
    }
}

impl Uses for CheckLength {
    fn uses<'a>(&'a self, see: &mut dyn FnMut(Use<'a>)) {
        let (marks, length): (Vec<&Name>, _) = match self {
            CheckLength::Length(a, b, length) => (vec![a, b], Some(length)),
            CheckLength::Same((a, b), (c, d)) => (vec![a, b, c, d], None),
            CheckLength::Loop(marks, length) => (marks.iter().collect(), Some(length)),
            CheckLength::Right(a, b, c) => (vec![a, b, c], None),
        };
        marks.into_iter().for_each(|m| see(Use::Mark(m)));
        length.into_iter().for_each(|l| see(Use::Figure(l)));
    }
}

impl Uses for StandOn {
    fn uses<'a>(&'a self, see: &mut dyn FnMut(Use<'a>)) {
        see(Use::Mark(&self.mark));
        self.within.iter().for_each(|f| see(Use::Figure(f)));
    }
}

impl Uses for ChalkLine {
    fn uses<'a>(&'a self, see: &mut dyn FnMut(Use<'a>)) {
        see(Use::Mark(&self.from));
        see(Use::Mark(&self.to));
        self.width.iter().for_each(|f| see(Use::Figure(f)));
    }
}

/// What a setup's own parts refer to, its marks apart.
impl Uses for Setup {
    fn uses<'a>(&'a self, see: &mut dyn FnMut(Use<'a>)) {
        self.stations.iter().for_each(|x| x.uses(see));
        self.zones.iter().for_each(|x| x.uses(see));
        self.sights.iter().for_each(|x| x.uses(see));
        self.level.iter().for_each(|x| x.uses(see));
        self.lines.iter().for_each(|x| x.uses(see));
        self.stand_on.iter().for_each(|x| x.uses(see));
        self.checks.iter().for_each(|x| x.uses(see));
        self.draw.iter().for_each(|x| x.uses(see));
        if let Some(OnlyIf::SensorOn(sensor, _)) = &self.only_if {
            see(Use::Sensor(sensor));
        }
    }
}

impl Uses for Zone {
    fn uses<'a>(&'a self, see: &mut dyn FnMut(Use<'a>)) {
        self.shape.uses(see);
        if let Some((lo, hi)) = &self.z {
            see(Use::Figure(lo));
            see(Use::Figure(hi));
        }
        if let Some(figure) = &self.tolerate_below {
            see(Use::Figure(figure));
        }
    }
}

impl Uses for ZoneShape {
    fn uses<'a>(&'a self, see: &mut dyn FnMut(Use<'a>)) {
        let mut figures = |list: &[&'a Figure]| list.iter().for_each(|f| see(Use::Figure(f)));
        match self {
            ZoneShape::Strip { line, from, along, left, across } => {
                figures(&[&along.0, &along.1]);
                if let Some((right, left)) = left {
                    figures(&[right, left]);
                }
                if let Some(width) = across {
                    figures(&[width]);
                }
                line.uses(see);
                see(Use::Mark(from));
            }
            ZoneShape::Fan { at, line, angles, reach } => {
                figures(&[&angles.0, &angles.1, reach]);
                see(Use::Mark(at));
                line.uses(see);
            }
            ZoneShape::Around { stations, station, beside, above, below, behind, ahead } => {
                for figure in [beside, above, below, behind, ahead].into_iter().flatten() {
                    figures(&[figure]);
                }
                for name in stations.iter().chain(station) {
                    see(Use::Station(name));
                }
            }
            ZoneShape::AroundVehicle { ahead, behind, left, right } => figures(&[ahead, behind, left, right]),
            ZoneShape::Fresnel { from, to, frequency_ghz, part } => {
                figures(&[frequency_ghz]);
                if let Some(part) = part {
                    figures(&[part]);
                }
                see(Use::Sensor(from));
                see(Use::Station(to));
            }
            ZoneShape::Corners(marks) => marks.iter().for_each(|m| see(Use::Mark(m))),
            ZoneShape::Lane { from, to, width } => {
                figures(&[width]);
                see(Use::Mark(from));
                see(Use::Mark(to));
            }
            ZoneShape::NotRead(_) => {}
        }
    }
}

impl Uses for Sight {
    fn uses<'a>(&'a self, see: &mut dyn FnMut(Use<'a>)) {
        see(Use::Sensor(&self.from));
        see(Use::Seen(&self.to));
    }
}

impl Uses for LevelAsk {
    fn uses<'a>(&'a self, see: &mut dyn FnMut(Use<'a>)) {
        if let Some(within) = &self.within {
            see(Use::Figure(within));
        }
        match &self.over {
            Over::Stations => {}
            Over::Zone(name) => see(Use::Zone(name)),
            Over::Marks(marks) => marks.iter().for_each(|m| see(Use::Mark(m))),
        }
    }
}

impl Uses for StringLine {
    fn uses<'a>(&'a self, see: &mut dyn FnMut(Use<'a>)) {
        self.line.uses(see);
        see(Use::Mark(&self.from));
        match &self.reach {
            Reach::Forward(figure) => see(Use::Figure(figure)),
            Reach::Both(back, forward) => {
                see(Use::Figure(back));
                see(Use::Figure(forward));
            }
        }
    }
}
