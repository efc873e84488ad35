//! String lines a setup wants to pull over the floor.

use std::sync::Arc;

use super::marks::{Marks, NoWay};
use super::solid::{Known, both};
use crate::geometry::{Frame, Line};
use crate::model::language::{Corner, Hand, LineRef, Reach, StringLine};

/// A string line laid out: where it starts, which way it runs, and how far it must find floor.
#[derive(Clone, Debug, PartialEq)]
pub struct StringRun {
    pub from: Arc<str>,
    /// The line as the procedure spells it.
    pub word: Arc<str>,
    /// Starts at the foot of the mark on the line.
    pub line: Known<Line>,
    /// How far backward and forward, mm; backward `None` where only one way is asked for.
    pub reach: Known<(Option<f64>, f64)>,
    pub over_vehicle: bool,
}

impl StringRun {
    /// In vehicle axes.
    pub fn new(marks: &Marks, def: &StringLine) -> Result<StringRun, NoWay> {
        let spot = def.from.spot;
        let line = both(marks.line(&def.line, spot)?, marks.point(&def.from)?);
        let reach = match &def.reach {
            Reach::Forward(far) => marks.values.of(far).map(|far| (None, far)),
            Reach::Both(back, far) => {
                both(marks.values.of(back), marks.values.of(far)).map(|(back, far)| (Some(-back), far))
            }
        };
        Ok(StringRun {
            from: def.from.text.clone(),
            word: word(&def.line).into(),
            line: line.map(|(line, from)| Line { at: line.foot(from), dir: line.dir }),
            reach,
            over_vehicle: def.over_vehicle,
        })
    }

    pub fn place(&self, frame: &Frame) -> StringRun {
        let line = self.line.clone().map(|l| Line { at: frame.to_world(l.at), dir: frame.dir(l.dir) });
        StringRun { line, ..self.clone() }
    }
}

/// A line as files spell it.
pub fn word(line: &LineRef) -> String {
    let hand = |h: &Hand| match h {
        Hand::Left => "Left",
        Hand::Right => "Right",
    };
    let corner = |c: &Corner| match c {
        Corner::FrontLeft => "FrontLeft",
        Corner::FrontRight => "FrontRight",
        Corner::RearLeft => "RearLeft",
        Corner::RearRight => "RearRight",
    };
    match line {
        LineRef::Centre => "Centre".into(),
        LineRef::Thrust => "Thrust".into(),
        LineRef::WheelSide(h) => format!("WheelSide({})", hand(h)),
        LineRef::BodySide(h) => format!("BodySide({})", hand(h)),
        LineRef::WheelPlane(c) => format!("WheelPlane({})", corner(c)),
        LineRef::Nose => "Nose".into(),
        LineRef::Tail => "Tail".into(),
        LineRef::Through(a, b) => format!("Through({a:?}, {b:?})"),
        LineRef::Square { line, at } => format!("Square(line: {}, at: {at:?})", word(line)),
        LineRef::Reversed(line) => format!("Reversed({})", word(line)),
    }
}
