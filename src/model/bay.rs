//! The bay: floor, walls, doorways, fixtures, lifts, keep-clear areas, floor survey and the shop's own figures.

use serde::{Deserialize, Serialize};

use crate::geometry::P2;

use super::num;
use super::shape::{Outline, PlanShape};
use super::spot::{List, Name, Spot, Table, note, raw};
use super::vehicle::Place3;

/// A bay in bay axes: x to the right, y into the bay, z up, as seen standing in the main doorway looking in. mm.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bay {
    #[serde(default = "super::format_one")]
    pub format: u32,
    pub name: Name,
    #[serde(default)]
    pub surveyed: Option<String>,
    /// Inside faces of the walls, as written (either direction).
    pub floor: Floor,
    #[serde(default, deserialize_with = "num::opt_size")]
    pub ceiling: Option<f64>,
    #[serde(default)]
    pub walls: List<Wall>,
    #[serde(default)]
    pub doorways: List<Doorway>,
    #[serde(default)]
    pub fixtures: List<Fixture>,
    #[serde(default)]
    pub lifts: List<Lift>,
    #[serde(default)]
    pub keep_clear: List<KeepClear>,
    #[serde(default)]
    pub heights: List<SpotHeight>,
    /// Standard error of one height of the survey, mm.
    #[serde(default, deserialize_with = "num::opt_length")]
    pub reading_error: Option<f64>,
    /// Named points of the bay, such as a measuring head.
    #[serde(default)]
    pub points: Table<Place3>,
    /// Compass direction of straight in (+y), degrees clockwise from north.
    #[serde(default, deserialize_with = "num::opt_coord")]
    pub bearing: Option<f64>,
    #[serde(default)]
    pub place: Option<Earth>,
    /// Targets that hang or stand in the bay for good.
    #[serde(default)]
    pub installed: List<Installed>,
    /// Lines painted on the floor.
    #[serde(default)]
    pub floor_lines: List<FloorLine>,
    #[serde(default)]
    pub rules: ShopRules,
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

impl<'de> Deserialize<'de> for Floor {
    fn deserialize<D: serde::Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let (text, spot) = raw(d)?;
        let points = super::shape::points(text);
        Ok(Floor {
            outline: super::shape::outline(points.as_deref(), spot),
            points: points.unwrap_or_default(),
        })
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, Serialize)]
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

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Wall {
    pub side: Side,
    #[serde(default)]
    pub name: Option<Name>,
    #[serde(default)]
    pub surface: Vec<Surface>,
}

/// The number of a floor side, with its place in the file.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Side {
    pub index: usize,
    pub spot: Spot,
}

impl<'de> Deserialize<'de> for Side {
    fn deserialize<D: serde::Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let (text, spot) = raw(d)?;
        let index = text.parse().unwrap_or_else(|_| {
            let what = super::spot::shown(text);
            note(spot, format!("expected the number of a side (0 is the first), found {what}"), None);
            0
        });
        Ok(Side { index, spot })
    }
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Doorway {
    pub name: Name,
    pub side: Side,
    /// Along the side from its first point.
    #[serde(deserialize_with = "num::length")]
    pub from: f64,
    #[serde(deserialize_with = "num::size")]
    pub width: f64,
    #[serde(deserialize_with = "num::size")]
    pub height: f64,
    /// Floor that may be used with the door open.
    #[serde(default)]
    pub apron: Option<Outline>,
    /// The shut door's own surface; absent: that of its side.
    #[serde(default)]
    pub surface: Option<Vec<Surface>>,
    /// How the door moves, for the drawing only.
    #[serde(default)]
    pub leaf: Leaf,
}

/// How a doorway is shut; drawn, never judged.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
pub enum Leaf {
    /// Rolls up over the opening.
    #[default]
    Roller,
    /// One leaf hung at the first end of the stretch, opening outward.
    Swing,
    /// Two leaves, one at each end, opening outward.
    Double,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Fixture {
    pub name: Name,
    pub shape: PlanShape,
    /// Absent: from the floor without end.
    #[serde(default, deserialize_with = "num::opt_band")]
    pub z: Option<(f64, f64)>,
    #[serde(default)]
    pub surface: Vec<Surface>,
    #[serde(default)]
    pub movable: bool,
    #[serde(default)]
    pub overhead: bool,
    /// How it is got out of the way, in the shop's own words.
    #[serde(default)]
    pub clear_by: Option<String>,
    /// Luminous intensity of a lamp, for a light-level estimate.
    #[serde(default, deserialize_with = "num::opt_size")]
    pub candela: Option<f64>,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lift {
    pub name: Name,
    #[serde(default)]
    pub posts: List<PlanShape>,
    #[serde(default, deserialize_with = "num::opt_size")]
    pub post_height: Option<f64>,
    /// Where the tyres must stand.
    #[serde(default)]
    pub runways: List<PlanShape>,
    /// Heights above the floor it can hold a vehicle at.
    #[serde(default)]
    pub heights: Vec<num::Coord>,
    #[serde(default)]
    pub surface: Option<Vec<Surface>>,
    /// How far the vehicle's middle may be off the lift's middle line, mm.
    #[serde(default, deserialize_with = "num::opt_length")]
    pub tolerance: Option<f64>,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KeepClear {
    pub name: Name,
    pub shape: PlanShape,
    /// Absent: any height.
    #[serde(default, deserialize_with = "num::opt_band")]
    pub z: Option<(f64, f64)>,
    #[serde(default)]
    pub because: Option<String>,
}

/// A target that hangs or stands in the bay for good: the middle of its face's foot, and the heading its front looks in.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Installed {
    pub name: Name,
    pub target: Name,
    #[serde(deserialize_with = "num::point")]
    pub at: (f64, f64),
    /// Degrees, as for vehicles: 0 looks into the bay.
    #[serde(default, deserialize_with = "num::coord")]
    pub turn: f64,
}

/// A line painted on the floor.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FloorLine {
    pub name: Name,
    pub points: List<FloorPoint>,
}

/// A point of the floor in bay axes.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
pub struct FloorPoint(
    #[serde(deserialize_with = "num::coord")] pub f64,
    #[serde(deserialize_with = "num::coord")] pub f64,
);

/// A place on the earth, degrees: latitude (north positive), longitude (east positive).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Earth {
    pub latitude: f64,
    pub longitude: f64,
}

impl<'de> Deserialize<'de> for Earth {
    fn deserialize<D: serde::Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let (text, spot) = raw(d)?;
        let read: Option<FloorPoint> = super::spot::part(text);
        let FloorPoint(latitude, longitude) = read.unwrap_or(FloorPoint(f64::NAN, f64::NAN));
        if latitude.abs() > 90.0 || longitude.abs() > 180.0 {
            let hint = "latitude first, -90 to 90 with north positive, then longitude, -180 to 180 with east positive";
            note(spot, format!("{} is no place on the earth", super::spot::shown(text)), Some(hint.into()));
        }
        Ok(Earth { latitude, longitude })
    }
}

/// One spot of the floor survey: x, y, height above the datum.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
pub struct SpotHeight(
    #[serde(deserialize_with = "num::coord")] pub f64,
    #[serde(deserialize_with = "num::coord")] pub f64,
    #[serde(deserialize_with = "num::coord")] pub f64,
);

/// The shop's own figures, in mm. A bay gives some, a job may override some; the rest are the defaults of [`Needs`].
#[derive(Clone, Copy, Debug, Default, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct ShopRules {
    #[serde(
        default,
        deserialize_with = "num::opt_length",
        serialize_with = "num::put_opt",
        skip_serializing_if = "Option::is_none"
    )]
    pub walk_around: Option<f64>,
    #[serde(
        default,
        deserialize_with = "num::opt_length",
        serialize_with = "num::put_opt",
        skip_serializing_if = "Option::is_none"
    )]
    pub clearance: Option<f64>,
    #[serde(
        default,
        deserialize_with = "num::opt_length",
        serialize_with = "num::put_opt",
        skip_serializing_if = "Option::is_none"
    )]
    pub headroom: Option<f64>,
    #[serde(
        default,
        deserialize_with = "num::opt_length",
        serialize_with = "num::put_opt",
        skip_serializing_if = "Option::is_none"
    )]
    pub measuring: Option<f64>,
    #[serde(
        default,
        deserialize_with = "num::opt_length",
        serialize_with = "num::put_opt",
        skip_serializing_if = "Option::is_none"
    )]
    pub level: Option<f64>,
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
