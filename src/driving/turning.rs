//! How tightly a vehicle turns, from the turning circle its maker prints.
//!
//! Bicycle model with Ackermann steering: every wheel rolls about one centre, which lies on the line of the rear axle
//! (definitions of SAE J695, "Turning Ability and Off Tracking"). Slip, steering lag and play are left out: it holds at
//! walking pace.

use crate::geometry::P2;
use crate::layout::{Known, Missing};
use crate::model::{Lack, Vehicle};

/// The tightest turn: distances from its centre, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turning {
    /// To the middle of the rear axle.
    pub radius: f64,
    pub wheelbase: f64,
}

impl Turning {
    /// From the turning circle kerb to kerb: the circle the outer edge of the outer front tyre just stays inside.
    ///
    /// That tyre stands square to its radius, so its middle runs at `circle / 2 - tyre / 2`; the rear axle's middle then
    /// at `sqrt(that^2 - wheelbase^2) - front track / 2`. Missing "turning_circle" where none is given, or where it is
    /// too small for this wheelbase: the inner rear wheel would then stand still or roll backward.
    pub fn of(vehicle: &Vehicle) -> Known<Turning> {
        let missing = || Missing::one(Lack::TurningCircle);
        let circle = vehicle.turning_circle.ok_or_else(missing)?;
        let wheel = circle / 2.0 - vehicle.tyre.width / 2.0;
        let abreast = wheel * wheel - vehicle.wheelbase * vehicle.wheelbase;
        let radius = abreast.max(0.0).sqrt() - vehicle.track.front / 2.0;
        if wheel > vehicle.wheelbase && radius > vehicle.track.rear / 2.0 {
            Ok(Turning { radius, wheelbase: vehicle.wheelbase })
        } else {
            Err(missing())
        }
    }

    /// From the radius on which the middle of the FRONT axle turns: `sqrt(front^2 - wheelbase^2)`. None when that is
    /// not longer than the wheelbase.
    pub fn of_front_axle(front: f64, wheelbase: f64) -> Option<Turning> {
        let squared = front * front - wheelbase * wheelbase;
        (squared > 0.0).then(|| Turning { radius: squared.sqrt(), wheelbase })
    }

    /// Angle of the one middle front wheel that stands for both, radians.
    pub fn steer(&self) -> f64 {
        self.wheelbase.atan2(self.radius)
    }

    /// Distance from the centre of a LEFT turn to a point given from the rear axle's middle (x forward, y left).
    pub fn reach(&self, p: P2) -> f64 {
        p.x.hypot(self.radius - p.y)
    }

    /// How far the rear axle cuts in behind the front axle in a turn held long enough, mm.
    pub fn off_tracking(&self) -> f64 {
        self.radius.hypot(self.wheelbase) - self.radius
    }
}
