//! A setup laid out: marks, stations and zones, in vehicle axes or, once placed, in bay axes.

use std::ops::Deref;
use std::sync::Arc;

use super::body::Body;
use super::solid::{Band, Known, Solid};
use super::strings::StringRun;
use crate::geometry::{Frame, P2, Polygon};
use crate::model::language::FreeOf;
use crate::model::procedure;
use crate::model::{ItemKind, ItemRef};

/// The setups of a layout. Copies of a layout share them.
#[derive(Clone, Debug, PartialEq)]
pub struct Setups(Arc<[Setup]>);

impl FromIterator<Setup> for Setups {
    fn from_iter<I: IntoIterator<Item = Setup>>(setups: I) -> Setups {
        Setups(setups.into_iter().collect())
    }
}

impl Deref for Setups {
    type Target = [Setup];
    fn deref(&self) -> &[Setup] {
        &self.0
    }
}

impl<'a> IntoIterator for &'a Setups {
    type Item = &'a Setup;
    type IntoIter = std::slice::Iter<'a, Setup>;
    fn into_iter(self) -> Self::IntoIter {
        self.0.iter()
    }
}

/// The stations that stand at the same time, with the marks and zones they rest on.
#[derive(Clone, Debug, PartialEq)]
pub struct Setup {
    pub procedure: usize,
    pub name: Arc<str>,
    /// As the procedure spells it, with what it shares with the other setups; a mirrored setup as it would be spelt for
    /// the other side. What does not apply is left out.
    pub def: Arc<procedure::Setup>,
    pub marks: Vec<Mark>,
    /// Marks every setup knows: nose, tail and axles.
    pub given: Vec<Mark>,
    pub stations: Vec<Station>,
    pub zones: Vec<Zone>,
    pub strings: Vec<StringRun>,
    /// The vehicle is driven on before this setup; the rest of it is then given where the vehicle is by then.
    pub moved: Option<Moved>,
}

/// Where the vehicle stands for a setup whose targets stay where an earlier setup put them.
#[derive(Clone, Debug, PartialEq)]
pub struct Moved {
    /// The setup whose targets stay.
    pub after: Arc<str>,
    /// The vehicle's axes by then: in the rig, in the axes of its first place; in the layout, in bay axes.
    pub frame: Frame,
    pub body: Body,
}

/// A named floor point.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    pub name: Arc<str>,
    pub at: Known<P2>,
    /// Strings and tapes that find it, for the drawing.
    pub strings: Vec<(P2, P2)>,
}

impl Mark {
    /// As findings are about it.
    pub fn item(&self) -> ItemRef<'_> {
        ItemRef { kind: ItemKind::Mark, name: &self.name }
    }
}

/// A target hung on a mark.
#[derive(Clone, Debug, PartialEq)]
pub struct Station {
    pub name: Arc<str>,
    /// As the procedure names it.
    pub target: Arc<str>,
    /// The shop's piece that stands for it.
    pub piece: Option<Arc<str>>,
    pub mark: Arc<str>,
    pub def: Arc<procedure::Station>,
    pub place: Known<Stand>,
}

impl Station {
    /// As findings are about it.
    pub fn item(&self) -> ItemRef<'_> {
        ItemRef { kind: ItemKind::Station, name: &self.name }
    }
}

/// Where a target stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Stand {
    /// The mark it hangs on.
    pub mark: P2,
    /// Target axes: origin at the face's foot, x out of the front.
    pub frame: Frame,
    /// Height of the face's lower edge.
    pub lower: f64,
    pub face: Solid,
    /// Extent of the face in target axes: depth behind the front (x from, to), half width, and height.
    pub size: FaceSize,
    /// The places it is moved through; one where it stands still.
    pub path: Vec<Frame>,
    /// Until it is set down in the bay its heights begin at minus infinity and end at its own height above the floor.
    pub foot: Option<Solid>,
    /// The working depth behind it, at every place; empty where none is asked.
    pub room: Vec<Solid>,
    /// Face and foot, or what they sweep: one thing to the rules.
    pub parts: Vec<Solid>,
    /// The face in plan, or what it sweeps on its path.
    pub footprint: Polygon,
}

/// The face's box in target axes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FaceSize {
    pub back: f64,
    pub front: f64,
    pub half_width: f64,
    pub height: f64,
    /// It lies on the floor and is looked at from above.
    pub flat: bool,
    /// It stands upright and is looked at from the front alone.
    pub has_front: bool,
}

/// A volume to be kept free of something.
#[derive(Clone, Debug, PartialEq)]
pub struct Zone {
    pub name: Arc<str>,
    pub free_of: Vec<FreeOf>,
    pub seen: bool,
    /// Counted from the bay's floor, on a lift too.
    pub tolerate_below: Known<Option<f64>>,
    pub place: Known<Area>,
}

impl Zone {
    /// As findings are about it.
    pub fn item(&self) -> ItemRef<'_> {
        ItemRef { kind: ItemKind::Zone, name: &self.name }
    }
}

#[derive(Clone, Debug, PartialEq)]
pub enum Area {
    /// A plan shape; without a printed top the band is endless.
    Plan { solid: Solid, printed: bool },
    /// The boxes round the faces of stations.
    Around(Vec<Halo>),
}

/// The box round one face, grown by five needs.
#[derive(Clone, Debug, PartialEq)]
pub struct Halo {
    pub frame: Frame,
    pub size: FaceSize,
    pub lower: f64,
    pub beside: f64,
    pub above: f64,
    pub below: f64,
    pub behind: f64,
    pub ahead: f64,
    /// The grown box in plan.
    pub outline: Polygon,
}

impl Halo {
    /// The grown box's heights.
    pub fn band(&self) -> Band {
        Band::new(self.lower - self.below, self.lower + self.size.height + self.above)
    }
}

impl Area {
    /// What is drawn and printed: one polygon for each plan shape.
    pub fn outlines(&self) -> Vec<&Polygon> {
        match self {
            Area::Plan { solid, .. } => vec![solid.shape.outline()],
            Area::Around(halos) => halos.iter().map(|h| &h.outline).collect(),
        }
    }

    /// Its heights; for several boxes the least band holding all.
    pub fn band(&self) -> Band {
        match self {
            Area::Plan { solid, .. } => solid.z,
            Area::Around(halos) => {
                halos.iter().map(Halo::band).fold(Band::new(f64::INFINITY, f64::NEG_INFINITY), |a, b| {
                    Band::new(a.lo.min(b.lo), a.hi.max(b.hi))
                })
            }
        }
    }
}

/// Where something is brought to: the axes outside `frame`; set down in the bay, its tyre plane this high above the
/// floor, or still in a vehicle's axes.
#[derive(Clone, Copy)]
struct To<'a> {
    frame: &'a Frame,
    down: Option<f64>,
}

impl To<'_> {
    fn raise(&self) -> f64 {
        self.down.unwrap_or(0.0)
    }
}

impl Setup {
    /// Whether nothing in it can be judged: no target, zone, sight, string, level or check length, no mark on a painted
    /// line, nor anything named as missing. Marks alone are points; so are chalk lines between them.
    pub fn places_nothing(&self) -> bool {
        let def = &*self.def;
        self.stations.is_empty()
            && self.zones.is_empty()
            && self.strings.is_empty()
            && def.sights.is_empty()
            && def.level.is_none()
            && def.checks.is_empty()
            && def.stand_on.is_none()
            && def.missing.is_empty()
    }

    /// The same setup set down in the bay, the tyre plane raised above its floor.
    pub fn place(&self, frame: &Frame, raise: f64) -> Setup {
        self.brought(To { frame, down: Some(raise) })
    }

    /// The same setup in the axes outside `frame`, still a vehicle's: of a vehicle that is driven on.
    pub fn moved_by(&self, frame: &Frame) -> Setup {
        self.brought(To { frame, down: None })
    }

    fn brought(&self, to: To) -> Setup {
        let To { frame, .. } = to;
        Setup {
            procedure: self.procedure,
            name: self.name.clone(),
            def: self.def.clone(),
            marks: self.marks.iter().map(|m| m.place(frame)).collect(),
            given: self.given.iter().map(|m| m.place(frame)).collect(),
            stations: self.stations.iter().map(|s| s.brought(to)).collect(),
            zones: self.zones.iter().map(|z| z.place(frame, to.raise())).collect(),
            strings: self.strings.iter().map(|s| s.place(frame)).collect(),
            moved: self.moved.as_ref().map(|m| Moved {
                after: m.after.clone(),
                frame: frame.compose(&m.frame),
                body: m.body.place(frame, to.raise()),
            }),
        }
    }
}

impl Mark {
    fn place(&self, frame: &Frame) -> Mark {
        Mark {
            name: self.name.clone(),
            at: self.at.clone().map(|p| frame.to_world(p)),
            strings: self.strings.iter().map(|(a, b)| (frame.to_world(*a), frame.to_world(*b))).collect(),
        }
    }
}

impl Station {
    fn brought(&self, to: To) -> Station {
        Station {
            name: self.name.clone(),
            target: self.target.clone(),
            piece: self.piece.clone(),
            mark: self.mark.clone(),
            def: self.def.clone(),
            place: self.place.as_ref().map_err(Clone::clone).map(|s| s.brought(to)),
        }
    }
}

impl Stand {
    fn brought(&self, to: To) -> Stand {
        let (frame, raise) = (to.frame, to.raise());
        let lower = self.lower + raise;
        // a foot stands on the bay's floor and reaches up to the face, however high the vehicle is raised
        let set = |s: &Solid| match (s.z.lo == f64::NEG_INFINITY, to.down) {
            (true, Some(_)) => Solid { shape: s.shape.place(frame), z: Band::new(0.0, s.z.hi.max(lower)) },
            _ => s.place(frame, raise),
        };
        Stand {
            mark: frame.to_world(self.mark),
            frame: frame.compose(&self.frame),
            lower,
            size: self.size,
            path: self.path.iter().map(|f| frame.compose(f)).collect(),
            face: self.face.place(frame, raise),
            foot: self.foot.as_ref().map(set),
            room: self.room.iter().map(|r| r.place(frame, 0.0)).collect(),
            parts: self.parts.iter().map(set).collect(),
            footprint: self.footprint.place(frame),
        }
    }
}

impl Zone {
    fn place(&self, frame: &Frame, raise: f64) -> Zone {
        let place = self.place.as_ref().map_err(Clone::clone).map(|area| match area {
            Area::Plan { solid, printed } => Area::Plan {
                solid: solid.place(frame, if *printed { raise } else { 0.0 }),
                printed: *printed,
            },
            Area::Around(halos) => Area::Around(
                halos
                    .iter()
                    .map(|h| Halo {
                        frame: frame.compose(&h.frame),
                        lower: h.lower + raise,
                        outline: h.outline.place(frame),
                        ..h.clone()
                    })
                    .collect(),
            ),
        });
        Zone {
            name: self.name.clone(),
            free_of: self.free_of.clone(),
            seen: self.seen,
            tolerate_below: self.tolerate_below.clone(),
            place,
        }
    }
}
