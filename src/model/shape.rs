//! Plan shapes as the files spell them, and ready to be measured.

use super::num;
use super::reading::{FromFile, Reader};
use super::record::choice;
use super::writing::{ToFile, Writer};
use crate::geometry::{OutlineFault, P2, Polygon, Shape, V2};
use crate::syntax::Id;

/// `Box`, `Round` or `Outline`, ready to be measured, in the axes of whatever it belongs to; and how it is spelt.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanShape(pub Shape, ShapeDef);

choice! {
    /// A plan shape as a file spells it: mm, degrees anticlockwise.
    #[derive(Clone, Debug, PartialEq)]
    pub enum ShapeDef {
        /// `at`: its centre; `size` along x and y before it is turned.
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

impl ShapeDef {
    /// A number of it was refused and noted already.
    fn has_gap(&self) -> bool {
        match self {
            ShapeDef::Box { at, size, turn } => {
                [at.0, at.1, size.0, size.1, *turn].iter().any(|v| v.is_nan())
            }
            ShapeDef::Round { at, diameter } => [at.0, at.1, *diameter].iter().any(|v| v.is_nan()),
            ShapeDef::Outline(_) => false,
        }
    }
}

impl PlanShape {
    /// The shape that is spelt so, or why it encloses nothing.
    pub fn new(def: ShapeDef) -> Result<PlanShape, OutlineFault> {
        let shape = match &def {
            ShapeDef::Box { at, size, turn } => {
                Shape::rect(P2::new(at.0, at.1), V2::new(size.0, size.1), turn.to_radians())?
            }
            ShapeDef::Round { at, diameter } => Shape::round(P2::new(at.0, at.1), *diameter)?,
            ShapeDef::Outline(outline) => Shape::polygon(outline.0.clone()),
        };
        Ok(PlanShape(shape, def))
    }

    /// How it is spelt.
    pub fn def(&self) -> &ShapeDef {
        &self.1
    }
}

impl FromFile for PlanShape {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        if r.tree.word(id).is_empty() {
            r.expected_plain(id, "Box(...), Round(...) or Outline([...])");
            return Some(PlanShape::stand_in());
        }
        let def = ShapeDef::read(r, id)?;
        if def.has_gap() {
            return Some(PlanShape::stand_in());
        }
        Some(PlanShape::new(def).unwrap_or_else(|fault| {
            note_outline(r, id, &fault);
            PlanShape::stand_in()
        }))
    }
    fn stand_in() -> Self {
        let outline = Outline::stand_in();
        PlanShape(Shape::polygon(outline.0.clone()), ShapeDef::Outline(outline))
    }
}

impl ToFile for PlanShape {
    fn write(&self, w: &mut Writer) {
        self.1.write(w);
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

/// A simple polygon written as a list of points, in either direction.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline(pub Polygon, Vec<(f64, f64)>);

impl Outline {
    /// The outline through these points, or why they enclose nothing.
    pub fn new(points: Vec<(f64, f64)>) -> Result<Outline, OutlineFault> {
        let corners = points.iter().map(|p| P2::new(p.0, p.1)).collect();
        Polygon::new(corners).map(|polygon| Outline(polygon, points))
    }

    /// Its corners in the order of the file.
    pub fn written(&self) -> &[(f64, f64)] {
        &self.1
    }
}

impl FromFile for Outline {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        let points = points(r, id);
        Some(outline(r, points.as_deref(), id))
    }
    fn stand_in() -> Self {
        // the file it is in is refused, so nothing is ever measured to it
        Outline(Polygon::unit_triangle(), Vec::new())
    }
}

impl ToFile for Outline {
    fn write(&self, w: &mut Writer) {
        self.1.write(w);
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
    Outline::new(points.to_vec()).unwrap_or_else(|fault| {
        note_outline(r, id, &fault);
        Outline::stand_in()
    })
}

fn note_outline(r: &mut Reader, id: Id, fault: &OutlineFault) {
    r.refuse(id, format!("this outline cannot be used: {fault}"), None);
}
