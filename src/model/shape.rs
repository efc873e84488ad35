//! Plan shapes as the files spell them.

use super::num;
use super::reading::{FromFile, Reader};
use super::record::choice;
use crate::geometry::{OutlineFault, P2, Polygon, Shape, V2};
use crate::syntax::Id;

/// `Box`, `Round` or `Outline`, ready to be measured, in the axes of whatever it belongs to.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanShape(pub Shape);

choice! {
    enum Spelt {
        Box {
            at: (f64, f64) [is num::point],
            size: (f64, f64) [is num::sizes],
            turn: f64 [default is num::coord],
        },
        Round {
            at: (f64, f64) [is num::point],
            diameter: f64 [is num::size],
        },
        Outline(Outline),
    }
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

impl FromFile for PlanShape {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        if r.tree.word(id).is_empty() {
            r.expected_plain(id, "Box(...), Round(...) or Outline([...])");
            return Some(PlanShape::stand_in());
        }
        let spelt = Spelt::read(r, id)?;
        if spelt.has_gap() {
            return Some(PlanShape::stand_in());
        }
        let shape = match spelt {
            Spelt::Box { at, size, turn } => {
                Shape::rect(P2::new(at.0, at.1), V2::new(size.0, size.1), turn.to_radians())
            }
            Spelt::Round { at, diameter } => Shape::round(P2::new(at.0, at.1), diameter),
            Spelt::Outline(outline) => Ok(Shape::polygon(outline.0)),
        };
        Some(shape.map_or_else(
            |fault| {
                note_outline(r, id, &fault);
                PlanShape::stand_in()
            },
            PlanShape,
        ))
    }
    fn stand_in() -> Self {
        PlanShape(Shape::polygon(Polygon::unit_triangle()))
    }
}

impl Outline {
    /// Whether this stands for an outline that was refused.
    pub(super) fn is_stand_in(&self) -> bool {
        self.0 == Polygon::unit_triangle()
    }
}

/// Corners an outline may have. A bay is drawn with a few dozen; what a scanner writes is thinned out first, so that every
/// drag step is answered at once.
pub const MOST_CORNERS: usize = 2000;

/// A simple polygon written as a list of points.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline(pub Polygon);

impl FromFile for Outline {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        let points = points(r, id);
        Some(outline(r, points.as_deref(), id))
    }
    fn stand_in() -> Self {
        // the file it is in is refused, so nothing is ever measured to it
        Outline(Polygon::unit_triangle())
    }
}

/// The points of an outline as written; `None` (noted) when it is not a list of pairs.
pub(super) fn points(r: &mut Reader, id: Id) -> Option<Vec<(f64, f64)>> {
    let entries = r.list(id)?;
    entries.iter().map(|e| num::point(r, e.value)).collect()
}

/// A simple polygon through `points`, which stand at `id`. Points that were refused while they were read (`None`, or not
/// a number) are noted already and give the stand-in quietly.
pub(super) fn outline(r: &mut Reader, points: Option<&[(f64, f64)]>, id: Id) -> Outline {
    let whole = points.filter(|ps| !ps.iter().any(|p| p.0.is_nan() || p.1.is_nan()));
    let Some(points) = whole else {
        return Outline::stand_in();
    };
    if points.len() > MOST_CORNERS {
        let text = format!("this outline has {} corners; at most {MOST_CORNERS} can be used", points.len());
        r.refuse(id, text, Some("leave out corners that lie within a millimetre of a straight side".into()));
        return Outline::stand_in();
    }
    let corners = points.iter().map(|p| P2::new(p.0, p.1)).collect();
    Polygon::new(corners).map_or_else(
        |fault| {
            note_outline(r, id, &fault);
            Outline::stand_in()
        },
        Outline,
    )
}

fn note_outline(r: &mut Reader, id: Id, fault: &OutlineFault) {
    r.refuse(id, format!("this outline cannot be used: {fault}"), None);
}
