//! Sun through open doors and windows: where it stands at the job's date and time, and what it shines on.
//!
//! The sun's place is the solar-positioning crate's (NREL's algorithm). Azimuth counts clockwise from north; the bay's
//! `bearing` is the compass direction of straight in.

use std::sync::Arc;

use solar_positioning::time::JulianDate;
use solar_positioning::{Location, RefractionCorrection, SolarPositions, delta_t};

use super::sheets::stretch;
use super::{Layout, Missing, Thing, both};
use crate::geometry::{NOISE_MM, P2, P3, Ray, V3};
use crate::model::bay::Earth;
use crate::model::{Item, ItemKind, Lack, Surface, When};

/// Where the sun stands, degrees: clockwise from north, and above the horizon.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sun {
    pub azimuth: f64,
    pub elevation: f64,
}

impl Sun {
    /// With the air's refraction; `None` for a date the algorithm does not cover.
    pub fn at(when: &When, place: Earth) -> Option<Sun> {
        let (year, month, day, hour, minute, second) = when.utc;
        let delta = delta_t::estimate_from_date(year, month).ok()?;
        let time = JulianDate::from_utc(year, month, day, hour, minute, f64::from(second), delta).ok()?;
        let location = Location { latitude: place.latitude, longitude: place.longitude };
        let air = Some(RefractionCorrection::standard());
        let found = SolarPositions::new().at_from_julian(time, location, 0.0, air).ok()?;
        Some(Sun { azimuth: found.azimuth(), elevation: found.elevation_angle() })
    }

    /// Toward the sun in bay axes, length 1, in a bay whose +y points along this compass bearing.
    pub fn toward(&self, bearing: f64) -> V3 {
        let (off, up) = ((self.azimuth - bearing).to_radians(), self.elevation.to_radians());
        V3::new(off.sin() * up.cos(), off.cos() * up.cos(), up.sin())
    }
}

/// A hole in a wall that light comes through.
#[derive(Clone, Debug, PartialEq)]
pub struct Opening {
    /// An open doorway, or a pane of glass.
    pub of: Item,
    pub a: P2,
    pub b: P2,
    /// Sill and head above the floor, mm.
    pub z: (f64, f64),
    /// From the wall outward, length 1.
    pub outward: V3,
}

impl Opening {
    /// Whether sun from this direction comes in.
    pub fn lets_in(&self, toward: V3) -> bool {
        toward.z > 0.0 && self.outward.dot(&toward) > 1e-9
    }

    /// Where the ray from a point inside toward the sun leaves through the opening.
    pub fn passes(&self, from: P3, toward: V3) -> Option<P3> {
        let depth = self.outward.xy().dot(&(self.a - from.xy()));
        let speed = self.outward.dot(&toward);
        if !self.lets_in(toward) || depth < 0.0 {
            return None;
        }
        let at = from + toward * (depth / speed);
        let way = self.b - self.a;
        let along = way.dot(&(at.xy() - self.a)) / way.norm_squared();
        let inside = (0.0..=1.0).contains(&along) && self.z.0 <= at.z && at.z <= self.z.1;
        inside.then_some(at)
    }

    /// The lit patch of the floor: sill and head thrown along the light.
    pub fn patch(&self, toward: V3) -> Option<[P2; 4]> {
        let thrown = |p: P2, z: f64| p - toward.xy() * (z / toward.z);
        let (lo, hi) = self.z;
        self.lets_in(toward)
            .then(|| [thrown(self.a, lo), thrown(self.b, lo), thrown(self.b, hi), thrown(self.a, hi)])
    }
}

/// What the sun shines on through one opening.
#[derive(Clone, Debug, PartialEq)]
pub struct Shine {
    pub opening: Opening,
    /// Setup, and the target or sensor: any of a face's middle and corners, or the sensor's own place.
    pub on: Vec<(usize, Arc<str>)>,
}

/// What can be said of the sun at the job's time.
#[derive(Clone, Debug, PartialEq)]
pub struct Sunlight {
    pub sun: Sun,
    pub toward: V3,
    /// The openings it comes in by, in the order of the bay.
    pub shines: Vec<Shine>,
}

/// Farther than this from a wall a pane of glass is not in it, mm.
const IN_WALL: f64 = 300.0;

impl Layout {
    /// Open doors, and fixtures of glass that stand in a wall, with their heights.
    pub fn openings(&self) -> Vec<Opening> {
        let (bay, job) = (&self.bundle.bay, &self.bundle.job);
        let mut all = Vec::new();
        for door in bay.doorways.iter().filter(|d| job.doors_open.contains(&d.name)) {
            let Some((a, b)) = stretch(bay, door) else { continue };
            let side = self.stage.walls.iter().find(|w| w.kind == super::BoundKind::Wall(door.side.index));
            if let Some(side) = side {
                let outward = V3::new(-side.inward.x, -side.inward.y, 0.0);
                all.push(Opening {
                    of: Item::new(ItemKind::Doorway, door.name.text.clone()),
                    a,
                    b,
                    z: (0.0, door.height),
                    outward,
                });
            }
        }
        let glass =
            |t: &&Thing| t.surface.contains(&Surface::Glass) && t.solid.z.hi.is_finite() && !t.overhead;
        all.extend(self.stage.things.iter().filter(glass).filter_map(|t| self.window(t)));
        all
    }

    /// A pane of glass as an opening of the wall it stands in.
    fn window(&self, thing: &Thing) -> Option<Opening> {
        let walls = self.stage.walls.iter().filter(|w| matches!(w.kind, super::BoundKind::Wall(_)));
        let points = thing.solid.shape.outline().points();
        let near = walls.filter_map(|w| {
            let way = (w.side.1 - w.side.0).normalize();
            let length = (w.side.1 - w.side.0).norm();
            let along = |p: &P2| way.dot(&(p - w.side.0));
            let off = points.iter().map(|p| w.inward.dot(&(p - w.side.0)).abs()).fold(0.0, f64::max);
            let ends = points
                .iter()
                .map(along)
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), v| (lo.min(v), hi.max(v)));
            let (from, to) = (ends.0.max(0.0), ends.1.min(length));
            (off <= IN_WALL && to - from > NOISE_MM)
                .then(|| (off, w, w.side.0 + way * from, w.side.0 + way * to))
        });
        let (_, wall, a, b) = near.min_by(|x, y| x.0.total_cmp(&y.0))?;
        let outward = V3::new(-wall.inward.x, -wall.inward.y, 0.0);
        Some(Opening {
            of: thing.item().item(),
            a,
            b,
            z: (thing.solid.z.lo.max(0.0), thing.solid.z.hi),
            outward,
        })
    }

    /// The sun at the job's time; `None` when the job gives none, missing what the bay does not give.
    pub fn sunlight(&self) -> Option<Result<Sunlight, Missing>> {
        let when = self.bundle.job.when.as_ref()?;
        let bay = &self.bundle.bay;
        let place = bay.place.ok_or_else(|| Missing::one(Lack::Place));
        let bearing = bay.bearing.ok_or_else(|| Missing::one(Lack::Bearing));
        Some(both(place, bearing).and_then(|(place, bearing)| {
            let sun = Sun::at(when, place).ok_or_else(|| Missing::one(Lack::When))?;
            let toward = sun.toward(bearing);
            let openings = self.openings().into_iter().filter(|o| o.lets_in(toward));
            Ok(Sunlight { sun, toward, shines: openings.map(|o| self.shine(o, toward)).collect() })
        }))
    }

    fn shine(&self, opening: Opening, toward: V3) -> Shine {
        let lit = |p: P3| {
            let Some(out) = opening.passes(p, toward) else { return false };
            let ray = Ray { a: p, b: out };
            let shades = |t: &&Thing| t.item() != opening.of.by_ref() && !t.surface.contains(&Surface::Glass);
            !self
                .stage
                .things
                .iter()
                .filter(shades)
                .any(|t| ray.through(&t.solid.shape, (t.solid.z.lo, t.solid.z.hi)).is_some())
        };
        let mut on = Vec::new();
        for (s, setup) in self.setups.iter().enumerate() {
            for station in &setup.stations {
                let Ok(stand) = &station.place else { continue };
                if std::iter::once(stand.middle()).chain(stand.corners()).any(lit) {
                    on.push((s, station.name.clone()));
                }
                if let Some((name, eye)) = self.sensor_of(setup, station)
                    && lit(eye.at)
                    && !on.contains(&(s, name.clone()))
                {
                    on.push((s, name));
                }
            }
        }
        Shine { opening, on }
    }
}

#[cfg(test)]
mod tests;
