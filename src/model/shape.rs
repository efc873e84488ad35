//! Plan shapes as the files spell them.

use serde::Deserialize;
use serde::de::Deserializer;

use super::num;
use super::spot::{Spot, note, raw};
use crate::geometry::{OutlineFault, P2, Polygon, Shape, V2};

/// `Box`, `Round` or `Outline`, ready to be measured, in the axes of whatever it belongs to.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanShape(pub Shape);

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
enum Spelt {
    Box {
        #[serde(deserialize_with = "num::point")]
        at: (f64, f64),
        #[serde(deserialize_with = "num::sizes")]
        size: (f64, f64),
        #[serde(default, deserialize_with = "num::coord")]
        turn: f64,
    },
    Round {
        #[serde(deserialize_with = "num::point")]
        at: (f64, f64),
        #[serde(deserialize_with = "num::size")]
        diameter: f64,
    },
    Outline(Outline),
}

impl Spelt {
    /// A number of it was refused and noted already.
    fn has_gap(&self) -> bool {
        match self {
            Spelt::Box { at, size, turn } => [at.0, at.1, size.0, size.1, *turn].iter().any(|v| v.is_nan()),
            Spelt::Round { at, diameter } => [at.0, at.1, *diameter].iter().any(|v| v.is_nan()),
            Spelt::Outline(_) => false,
        }
    }
}

impl<'de> Deserialize<'de> for PlanShape {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let (text, spot) = raw(d)?;
        if !text.starts_with(char::is_alphabetic) {
            let found = super::spot::shown(text);
            let text = format!("expected Box(...), Round(...) or Outline([...]), found {found}");
            note(spot, text, None);
            return Ok(PlanShape(Shape::polygon(stand_in())));
        }
        let spelt = super::spot::part::<Spelt>(text);
        if spelt.as_ref().is_none_or(Spelt::has_gap) {
            return Ok(PlanShape(Shape::polygon(stand_in())));
        }
        let shape = match spelt {
            Some(Spelt::Box { at, size, turn }) => {
                Shape::rect(P2::new(at.0, at.1), V2::new(size.0, size.1), turn.to_radians())
            }
            Some(Spelt::Round { at, diameter }) => Shape::round(P2::new(at.0, at.1), diameter),
            Some(Spelt::Outline(outline)) => Ok(Shape::polygon(outline.0)),
            None => return Ok(PlanShape(Shape::polygon(stand_in()))),
        };
        Ok(PlanShape(shape.unwrap_or_else(|fault| {
            note_outline(spot, &fault);
            Shape::polygon(stand_in())
        })))
    }
}

impl Outline {
    /// Whether this stands for an outline that was refused.
    pub(super) fn is_stand_in(&self) -> bool {
        self.0 == stand_in()
    }
}

/// Corners an outline may have. A bay is drawn with a few dozen; what a scanner writes is thinned out first, so that every
/// drag step is answered at once.
pub const MOST_CORNERS: usize = 2000;

/// A simple polygon written as a list of points.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline(pub Polygon);

#[derive(Deserialize)]
struct Point(#[serde(deserialize_with = "num::coord")] f64, #[serde(deserialize_with = "num::coord")] f64);

impl<'de> Deserialize<'de> for Outline {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let (text, spot) = raw(d)?;
        Ok(outline(points(text).as_deref(), spot))
    }
}

/// The points of an outline as written; `None` (noted) when it is not a list of pairs.
pub(super) fn points(text: &str) -> Option<Vec<(f64, f64)>> {
    let points = super::spot::part::<Vec<Point>>(text)?;
    Some(points.into_iter().map(|p| (p.0, p.1)).collect())
}

/// A simple polygon through `points`; what is wrong with it is noted at `spot`. Points that were refused while they
/// were read (`None`, or not a number) are noted already and give the stand-in quietly.
pub(super) fn outline(points: Option<&[(f64, f64)]>, spot: Spot) -> Outline {
    let whole = points.filter(|ps| !ps.iter().any(|p| p.0.is_nan() || p.1.is_nan()));
    let Some(points) = whole else {
        return Outline(stand_in());
    };
    if points.len() > MOST_CORNERS {
        let text = format!("this outline has {} corners; at most {MOST_CORNERS} can be used", points.len());
        note(spot, text, Some("leave out corners that lie within a millimetre of a straight side".into()));
        return Outline(stand_in());
    }
    let corners = points.iter().map(|p| P2::new(p.0, p.1)).collect();
    Outline(Polygon::new(corners).unwrap_or_else(|fault| {
        note_outline(spot, &fault);
        stand_in()
    }))
}

fn note_outline(spot: Spot, fault: &OutlineFault) {
    note(spot, format!("this outline cannot be used: {fault}"), None);
}

/// What stands for a shape that was refused; the file it is in is refused too, so nothing is ever measured to it.
fn stand_in() -> Polygon {
    Polygon::unit_triangle()
}
