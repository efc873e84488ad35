//! Planes through points of the floor: least squares, slopes, and the plane of the four tyre contacts.

use super::body;
use super::floor::FloorField;
use super::solid::{Known, Missing};
use crate::geometry::{Frame, P2, P3, V2};
use crate::model::language::Corner;
use crate::model::{Lack, Vehicle};

/// z = height + slope . (p - at): mm, and mm per mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plane {
    pub at: P2,
    pub height: f64,
    pub slope: V2,
}

impl Plane {
    /// The plane with the least sum of squared heights off it; `None` for fewer than three points or points on one line.
    pub fn fit(points: &[P3]) -> Option<Plane> {
        let spread = Spread::of(points.iter().map(|p| p.xy()))?;
        let height = points.iter().map(|p| p.z).sum::<f64>() / points.len() as f64;
        let slope = points.iter().fold(V2::zeros(), |sum, p| sum + spread.pull(p.xy()) * (p.z - height));
        Some(Plane { at: spread.middle, height, slope })
    }

    pub fn at(&self, p: P2) -> f64 {
        self.height + self.slope.dot(&(p - self.at))
    }

    /// Rise along a direction of length 1.
    pub fn along(&self, way: V2) -> Slope {
        Slope(self.slope.dot(&way))
    }
}

/// Rise over run, positive upward.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slope(pub f64);

impl Slope {
    pub fn mm_per_m(self) -> f64 {
        self.0 * 1000.0
    }

    pub fn percent(self) -> f64 {
        self.0 * 100.0
    }

    pub fn degrees(self) -> f64 {
        self.0.atan().to_degrees()
    }
}

/// The plane of the four tyre contacts: the least-squares plane of the floor's heights under the middles of the
/// tyres. Wheels and targets "in one plane" are judged by how far the floor elsewhere is off it.
#[derive(Clone, Debug, PartialEq)]
pub struct WheelPlane {
    pub plane: Plane,
    /// Front left, front right, rear left, rear right.
    pub contacts: [P3; 4],
    spread: Spread,
}

/// A figure and its standard error, mm; the error where the instrument's is given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measured {
    pub mm: f64,
    pub error: Option<f64>,
}

impl WheelPlane {
    /// Under a vehicle whose axes are `frame`; missing "floor survey" where a tyre stands off the surveyed floor.
    pub fn under(field: &FloorField, vehicle: &Vehicle, frame: &Frame) -> Known<WheelPlane> {
        let corners = [Corner::FrontLeft, Corner::FrontRight, Corner::RearLeft, Corner::RearRight];
        let mut contacts = [P3::origin(); 4];
        for (contact, corner) in contacts.iter_mut().zip(corners) {
            let p = frame.to_world(body::wheel_middle(vehicle, corner));
            let height = field.height(p).ok_or_else(no_survey)?;
            *contact = P3::new(p.x, p.y, height);
        }
        let spread = Spread::of(contacts.iter().map(|c| c.xy())).ok_or_else(no_survey)?;
        let plane = Plane::fit(&contacts).ok_or_else(no_survey)?;
        Ok(WheelPlane { plane, contacts, spread })
    }

    /// Height of the floor above the plane; `None` where the floor is not known.
    pub fn residual(&self, field: &FloorField, p: P2) -> Option<f64> {
        Some(field.height(p)? - self.plane.at(p))
    }

    /// The same with its error: the floor's height there less the plane's, both as sums of spot heights.
    pub fn measured(&self, field: &FloorField, p: P2) -> Option<Measured> {
        let here = field.shares(p)?;
        let mut terms: Vec<(usize, f64)> = here.to_vec();
        for contact in &self.contacts {
            // the plane's height at p as a sum of the contacts' heights
            let factor = 0.25 + self.spread.pull(contact.xy()).dot(&(p - self.plane.at));
            terms.extend(field.shares(contact.xy())?.map(|(spot, share)| (spot, -factor * share)));
        }
        Some(Measured { mm: self.residual(field, p)?, error: field.error_of(terms) })
    }

    /// Standard error of the slope along a direction of length 1, mm per mm.
    pub fn slope_error(&self, field: &FloorField, way: V2) -> Option<f64> {
        let mut terms = Vec::new();
        for contact in &self.contacts {
            let factor = self.spread.pull(contact.xy()).dot(&way);
            terms.extend(field.shares(contact.xy())?.map(|(spot, share)| (spot, factor * share)));
        }
        field.error_of(terms)
    }

    /// How far each contact is off the plane: four feet do not all stand on one plane.
    pub fn twist(&self) -> [f64; 4] {
        self.contacts.map(|c| c.z - self.plane.at(c.xy()))
    }
}

/// What is missing where the floor was not surveyed.
pub fn no_survey() -> Missing {
    Missing::one(Lack::FloorSurvey)
}

/// Points in plan, for fitting planes: their middle and the inverse of their scatter.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Spread {
    middle: P2,
    inverse: nalgebra::Matrix2<f64>,
}

impl Spread {
    fn of(points: impl Iterator<Item = P2> + Clone) -> Option<Spread> {
        let n = points.clone().count();
        if n < 3 {
            return None;
        }
        let middle = P2::from(points.clone().fold(V2::zeros(), |sum, p| sum + p.coords) / n as f64);
        let scatter = points.fold(nalgebra::Matrix2::zeros(), |sum, p| {
            let d = p - middle;
            sum + d * d.transpose()
        });
        let flat = scatter.determinant() <= 1e-12 * scatter.trace().powi(2);
        let inverse = scatter.try_inverse().filter(|_| !flat)?;
        Some(Spread { middle, inverse })
    }

    /// What a height of 1 at this point adds to the slope of the plane.
    fn pull(&self, p: P2) -> V2 {
        self.inverse * (p - self.middle)
    }
}

#[cfg(test)]
mod tests;
