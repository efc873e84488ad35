//! The sights of a setup: from a sensor to a target, or between any two named points of bay and vehicle.
//!
//! A name is looked for among, in this order: the vehicle's sensors, the setup's stations, its zones to be seen, the
//! vehicle's points, its wheels ("front left wheel": the outer face's centre), the bay's points, and the setup's marks.

use std::sync::Arc;

use super::solid::{Known, Missing};
use super::view::Eye;
use super::{Area, Layout, Setup, Stand, body, lengths};
use crate::geometry::{Frame, P2, P3, Pyramid, Ray};
use crate::model::language::Corner;
use crate::model::{Item, ItemKind, Name};

/// One sight, in bay axes.
#[derive(Clone, Debug, PartialEq)]
pub struct SightLine {
    /// What stands at its ends: a sensor, a station, a zone, a point or a mark.
    pub from: Item,
    pub to: Item,
    /// The sensor at its start, where there is one.
    pub eye: Option<Eye>,
    /// One line to each point looked at: a face's middle and corners, an area's corners, a single point.
    pub rays: Known<Vec<Ray>>,
    /// What it is looked at through: to a target one pyramid on its face, to other points a line each.
    pub through: Known<Vec<Pyramid>>,
    /// Stations at its ends: they do not stand in their own way.
    pub own: Vec<Arc<str>>,
}

enum End {
    Eye(Eye),
    Station(Box<Known<Stand>>),
    Points(ItemKind, Known<Vec<P3>>),
}

impl Layout {
    /// The sights a setup lists.
    pub fn sights(&self, setup: &Setup) -> Vec<SightLine> {
        setup.def.sights.iter().map(|s| self.sight(setup, &s.from, &s.to)).collect()
    }

    /// A sight between two names of a setup.
    pub fn sight(&self, setup: &Setup, from: &Name, to: &Name) -> SightLine {
        let (start, end) = (self.end(setup, from), self.end(setup, to));
        let own = [(from, &start), (to, &end)].into_iter();
        let own = own.filter(|(_, e)| matches!(e, End::Station(_))).map(|(n, _)| n.text.clone()).collect();
        let eye = match &start {
            End::Eye(eye) => Some(*eye),
            _ => None,
        };
        let through = match (&start, &end) {
            // the face may stand at either end
            (End::Station(_), End::Eye(eye)) => start.seen_from(eye.at),
            (End::Station(_), End::Points(_, Ok(points))) if points.len() == 1 => start.seen_from(points[0]),
            _ => start.first(from).and_then(|a| end.seen_from(a)),
        };
        let rays = super::both(start.first(from), end.points())
            .map(|(a, all)| all.into_iter().map(|b| Ray { a, b }).collect());
        let (from, to) = (Item::new(start.kind(), from.text.clone()), Item::new(end.kind(), to.text.clone()));
        SightLine { from, to, eye, rays, through, own }
    }

    /// A sensor of the vehicle while a setup is worked on.
    pub fn eye(&self, setup: &Setup, name: &str) -> Option<Eye> {
        let sensor = self.bundle.vehicle.sensors.get(name)?;
        Some(Eye::of(sensor, &self.frame_of(setup), self.raise))
    }

    /// The sensor a station is looked at by: that of a sight to it, else the one it looks at, else the usual one of the
    /// procedure's system.
    pub fn sensor_of(&self, setup: &Setup, station: &super::Station) -> Option<(Arc<str>, Eye)> {
        use crate::model::language::Looks;
        let by_sight = setup.def.sights.iter().find(|s| s.to == *station.name).map(|s| s.from.as_str());
        let by_look = match &station.def.looks {
            Some(Looks::AtSensor(name)) => Some(name.as_str()),
            _ => None,
        };
        let named = [by_sight, by_look].into_iter().flatten();
        let named = named.filter_map(|name| Some((name.into(), self.eye(setup, name)?))).next();
        named.or_else(|| self.own_sensor(setup))
    }

    /// The sensor the procedure of a setup is about, by its system, where the vehicle file has it.
    pub fn own_sensor(&self, setup: &Setup) -> Option<(Arc<str>, Eye)> {
        let system = self.bundle.procedures[setup.procedure].system.as_ref()?;
        let name = usual_sensor(system.0.as_str())?;
        Some((name.into(), self.eye(setup, name)?))
    }

    fn end(&self, setup: &Setup, name: &Name) -> End {
        let frame = self.frame_of(setup);
        let vehicle = &self.bundle.vehicle;
        if let Some(eye) = self.eye(setup, name.as_str()) {
            return End::Eye(eye);
        }
        if let Some(station) = setup.stations.iter().find(|s| *name == *s.name) {
            return End::Station(Box::new(station.place.clone()));
        }
        if let Some(zone) = setup.zones.iter().find(|z| z.seen && *name == *z.name) {
            return End::Points(ItemKind::Zone, zone.place.clone().map(|area| area_points(&area)));
        }
        let on_vehicle = |x: f64, y: f64, z: f64| {
            End::Points(ItemKind::Point, Ok(vec![spot(&frame, x, y, z + self.raise)]))
        };
        if let Some(p) = vehicle.points.get(name.as_str()) {
            return on_vehicle(p.x, p.y, p.z);
        }
        if let Some(corner) = wheel(name.as_str()) {
            let p = body::wheel_face(vehicle, corner);
            return on_vehicle(p.x, p.y, vehicle.tyre.diameter / 2.0);
        }
        if let Some(p) = self.bundle.bay.points.get(name.as_str()) {
            return End::Points(ItemKind::Point, Ok(vec![P3::new(p.x, p.y, p.z)]));
        }
        End::Points(ItemKind::Mark, self.mark(setup, name).map(|p| vec![P3::new(p.x, p.y, 0.0)]))
    }

    /// A mark of a setup, in bay axes; the four that every setup knows too.
    pub fn mark(&self, setup: &Setup, name: &Name) -> Known<P2> {
        let vehicle = &self.bundle.vehicle;
        let x = match name.as_str() {
            _ if setup.marks.iter().any(|m| *name == *m.name) => return lengths::at(setup, name),
            "nose" | "N" => body::nose(vehicle),
            "tail" | "T" => body::tail(vehicle),
            "front axle" | "FA" => 0.0,
            "rear axle" | "RA" => -vehicle.wheelbase,
            _ => return Err(Missing::one(name.text.clone())),
        };
        Ok(self.frame_of(setup).to_world(P2::new(x, 0.0)))
    }
}

impl End {
    fn kind(&self) -> ItemKind {
        match self {
            End::Eye(_) => ItemKind::Sensor,
            End::Station(_) => ItemKind::Station,
            End::Points(kind, _) => *kind,
        }
    }

    /// The point it starts from comes first.
    fn points(&self) -> Known<Vec<P3>> {
        match self {
            End::Eye(eye) => Ok(vec![eye.at]),
            End::Station(stand) => {
                let stand = (**stand).as_ref().map_err(Clone::clone)?;
                Ok(std::iter::once(stand.middle()).chain(stand.corners()).collect())
            }
            End::Points(_, points) => points.clone(),
        }
    }

    fn first(&self, name: &Name) -> Known<P3> {
        self.points()?.first().copied().ok_or_else(|| Missing::one(name.text.clone()))
    }

    fn seen_from(&self, apex: P3) -> Known<Vec<Pyramid>> {
        let points = self.points()?;
        Ok(match self {
            End::Station(_) => vec![Pyramid::new(apex, points[1..].to_vec())],
            _ => points.into_iter().map(|p| Pyramid::new(apex, vec![p])).collect(),
        })
    }
}

/// The corners of an area to be seen, at its lowest height, and at its top where that is printed.
fn area_points(area: &Area) -> Vec<P3> {
    let band = area.band();
    let heights = [band.lo.max(0.0), band.hi];
    let outlines = area.outlines();
    let corners = outlines.iter().flat_map(|o| o.points().to_vec());
    let all = corners.flat_map(|p| heights.map(|z| P3::new(p.x, p.y, z)));
    all.filter(|p| p.z.is_finite()).collect()
}

fn spot(frame: &Frame, x: f64, y: f64, z: f64) -> P3 {
    let p = frame.to_world(P2::new(x, y));
    P3::new(p.x, p.y, z)
}

fn wheel(name: &str) -> Option<Corner> {
    match name {
        "front left wheel" => Some(Corner::FrontLeft),
        "front right wheel" => Some(Corner::FrontRight),
        "rear left wheel" => Some(Corner::RearLeft),
        "rear right wheel" => Some(Corner::RearRight),
        _ => None,
    }
}

/// The sensor a system works with, where there is only one of its kind.
fn usual_sensor(system: &str) -> Option<&'static str> {
    match system {
        "ForwardCamera" => Some("windscreen camera"),
        "ForwardRadar" => Some("front radar"),
        "ForwardLaser" => Some("windscreen laser"),
        "NightVision" => Some("night camera"),
        "RearCamera" => Some("rear camera"),
        _ => None,
    }
}
