//! The bay: floor, walls, doorways, fixtures, lifts, keep-clear areas, floor survey and the shop's own figures.

use serde::Serialize;

use crate::geometry::P2;
use crate::syntax::{Id, shown};

use super::num;
use super::reading::{FromFile, Reader};
use super::record::{choice, record, values};
use super::shape::{Outline, PlanShape};
use super::spot::{List, Name, Spot, Table};
use super::taped::Taped;
use super::vehicle::Place3;
use super::writing::{ToFile, Writer};

record! {
    /// A bay in bay axes: x to the right, y into the bay, z up, as seen standing in the main doorway looking in. mm.
    #[derive(Clone, Debug, PartialEq)]
    pub struct Bay as "a bay" {
        pub format: u32 [or 1],
        pub name: Name,
        pub surveyed: Option<String>,
        /// Inside faces of the walls, as written (either direction).
        pub floor: Floor,
        /// Tape readings between corners and jambs.
        pub taped: List<Taped> [default],
        pub ceiling: Option<f64> [opt num::size],
        pub walls: List<Wall> [default],
        pub doorways: List<Doorway> [default],
        pub fixtures: List<Fixture> [default],
        pub lifts: List<Lift> [default],
        pub keep_clear: List<KeepClear> [default],
        pub heights: List<SpotHeight> [default],
        /// Standard error of one height of the survey, mm.
        pub reading_error: Option<f64> [opt num::length],
        /// Named points of the bay, such as a measuring head.
        pub points: Table<Place3> [default],
        /// Compass direction of straight in (+y), degrees clockwise from north.
        pub bearing: Option<f64> [opt num::coord],
        pub place: Option<Earth>,
        /// Targets that hang or stand in the bay for good.
        pub installed: List<Installed> [default],
        /// Lines painted on the floor.
        pub floor_lines: List<FloorLine> [default],
        pub rules: ShopRules [default],
    }
}

impl Bay {
    /// Whether a place lies on the floor or on a doorway's apron, its edge counting.
    pub fn has_floor_at(&self, p: P2) -> bool {
        let mut aprons = self.doorways.iter().filter_map(|d| d.apron.as_ref());
        self.floor.outline.0.contains(p) || aprons.any(|a| a.0.contains(p))
    }
}

/// The floor polygon together with the order its sides were written in: side i runs from point i to point i + 1.
#[derive(Clone, Debug, PartialEq)]
pub struct Floor {
    pub outline: Outline,
    pub points: Vec<(f64, f64)>,
}

impl Floor {
    /// The two ends of side `i`, as written; none beyond the last side (and none at all in a file that is refused).
    pub fn side(&self, i: usize) -> Option<((f64, f64), (f64, f64))> {
        let n = self.points.len();
        (i < n).then(|| (self.points[i], self.points[(i + 1) % n]))
    }
}

impl FromFile for Floor {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        let points = super::shape::points(r, id);
        let outline = super::shape::outline(r, points.as_deref(), id);
        Some(Floor { outline, points: points.unwrap_or_default() })
    }
    fn stand_in() -> Self {
        Floor { outline: Outline::stand_in(), points: Vec::new() }
    }
}

impl ToFile for Floor {
    fn write(&self, w: &mut Writer) {
        self.points.write(w);
    }
}

choice! {
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
    pub enum Surface {
        Metal,
        /// Mirror-like.
        Shine,
        /// Contrasting.
        Pattern,
        Light,
        Glass,
        Drain,
    }
}

record! {
    #[derive(Clone, Debug, PartialEq)]
    pub struct Wall as "a wall" {
        pub side: Side,
        pub name: Option<Name>,
        pub surface: Vec<Surface> [default],
    }
}

/// The number of a floor side, with its place in the file.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Side {
    pub index: usize,
    pub spot: Spot,
}

impl FromFile for Side {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        let index = r.tree.source(id).parse().unwrap_or_else(|_| {
            r.expected_plain(id, "the number of a side (0 is the first)");
            0
        });
        Some(Side { index, spot: r.spot(id) })
    }
    fn stand_in() -> Self {
        Side { index: 0, spot: Spot::NOWHERE }
    }
}

impl ToFile for Side {
    fn write(&self, w: &mut Writer) {
        w.word(&self.index.to_string());
    }
}

record! {
    #[derive(Clone, Debug, PartialEq)]
    pub struct Doorway as "a doorway" {
        pub name: Name,
        pub side: Side,
        /// Along the side from its first point.
        pub from: f64 [is num::length],
        pub width: f64 [is num::size],
        pub height: f64 [is num::size],
        /// Floor that may be used with the door open.
        pub apron: Option<Outline>,
        /// The shut door's own surface; absent: that of its side.
        pub surface: Option<Vec<Surface>>,
        /// How the door moves, for the drawing only.
        pub leaf: Leaf [default],
    }
}

choice! {
    /// How a doorway is shut; drawn, never judged.
    #[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
    pub enum Leaf {
        /// Rolls up over the opening.
        #[default]
        Roller,
        /// One leaf hung at the first end of the stretch, opening outward.
        Swing,
        /// Two leaves, one at each end, opening outward.
        Double,
    }
}

record! {
    #[derive(Clone, Debug, PartialEq)]
    pub struct Fixture as "a fixture" {
        pub name: Name,
        pub shape: PlanShape,
        /// Absent: from the floor without end.
        pub z: Option<(f64, f64)> [opt num::band],
        pub surface: Vec<Surface> [default],
        pub movable: bool [default],
        pub overhead: bool [default],
        /// How it is got out of the way, in the shop's own words.
        pub clear_by: Option<String>,
        /// Luminous intensity of a lamp, for a light-level estimate.
        pub candela: Option<f64> [opt num::size],
    }
}

record! {
    #[derive(Clone, Debug, PartialEq)]
    pub struct Lift as "a lift" {
        pub name: Name,
        pub posts: List<PlanShape> [default],
        pub post_height: Option<f64> [opt num::size],
        /// Where the tyres must stand.
        pub runways: List<PlanShape> [default],
        /// Heights above the floor it can hold a vehicle at.
        pub heights: Vec<f64> [default],
        pub surface: Option<Vec<Surface>>,
        /// How far the vehicle's middle may be off the lift's middle line, mm.
        pub tolerance: Option<f64> [opt num::length],
    }
}

record! {
    #[derive(Clone, Debug, PartialEq)]
    pub struct KeepClear as "a keep-clear area" {
        pub name: Name,
        pub shape: PlanShape,
        /// Absent: any height.
        pub z: Option<(f64, f64)> [opt num::band],
        pub because: Option<String>,
    }
}

record! {
    /// A target that hangs or stands in the bay for good: the middle of its face's foot, and the heading its front looks in.
    #[derive(Clone, Debug, PartialEq)]
    pub struct Installed as "an installed target" {
        pub name: Name,
        pub target: Name,
        pub at: (f64, f64) [is num::point],
        /// Degrees, as for vehicles: 0 looks into the bay.
        pub turn: f64 [default is num::coord],
    }
}

record! {
    /// A line painted on the floor.
    #[derive(Clone, Debug, PartialEq)]
    pub struct FloorLine as "a floor line" {
        pub name: Name,
        pub points: List<FloorPoint>,
    }
}

values! {
    /// A point of the floor in bay axes.
    #[derive(Clone, Copy, Debug, PartialEq)]
    pub struct FloorPoint(pub f64 [is num::coord], pub f64 [is num::coord]);
}

/// A place on the earth, degrees: latitude (north positive), longitude (east positive).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Earth {
    pub latitude: f64,
    pub longitude: f64,
}

impl FromFile for Earth {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        let (latitude, longitude) = num::point(r, id)?;
        if latitude.abs() > 90.0 || longitude.abs() > 180.0 {
            let hint = "latitude first, -90 to 90 with north positive, then longitude, -180 to 180 with east positive";
            let text = format!("{} is no place on the earth", shown(r.tree.source(id)));
            r.refuse(id, text, Some(hint.into()));
        }
        Some(Earth { latitude, longitude })
    }
    fn stand_in() -> Self {
        Earth { latitude: f64::NAN, longitude: f64::NAN }
    }
}

impl ToFile for Earth {
    fn write(&self, w: &mut Writer) {
        (self.latitude, self.longitude).write(w);
    }
}

values! {
    /// One spot of the floor survey: x, y, height above the datum.
    #[derive(Clone, Copy, Debug, PartialEq)]
    pub struct SpotHeight(pub f64 [is num::coord], pub f64 [is num::coord], pub f64 [is num::coord]);
}

record! {
    /// The shop's own figures, in mm. A bay gives some, a job may override some; the rest are the defaults of [`Needs`].
    #[derive(Clone, Copy, Debug, Default, PartialEq)]
    pub struct ShopRules as "the rules" {
        pub walk_around: Option<f64> [opt num::length],
        pub clearance: Option<f64> [opt num::length],
        pub headroom: Option<f64> [opt num::length],
        pub measuring: Option<f64> [opt num::length],
        pub level: Option<f64> [opt num::length],
    }
}

/// The figures in force, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Needs {
    pub walk_around: f64,
    pub clearance: f64,
    pub headroom: f64,
    pub measuring: f64,
    pub level: f64,
}

impl Needs {
    /// The job's figure, else the bay's, else the default, field by field.
    pub fn of(bay: &ShopRules, job: &ShopRules) -> Needs {
        let pick = |j: Option<f64>, b: Option<f64>, default: f64| j.or(b).unwrap_or(default);
        Needs {
            walk_around: pick(job.walk_around, bay.walk_around, 600.0),
            clearance: pick(job.clearance, bay.clearance, 100.0),
            headroom: pick(job.headroom, bay.headroom, 150.0),
            measuring: pick(job.measuring, bay.measuring, 15.0),
            level: pick(job.level, bay.level, 5.0),
        }
    }
}
