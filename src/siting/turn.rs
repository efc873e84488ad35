//! How far the heading may be off at a pose before a plan rule fails.

use super::progress::{Progress, Stopped};
use super::site::Site;
use crate::geometry::{NOISE_MM, P2};
use crate::layout::{Area, Layout, Stance};

/// Degrees the vehicle may be turned on the spot, about the middle of its front axle, either way; at most 45.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Swing {
    /// Anticlockwise.
    pub left: f64,
    /// Clockwise.
    pub right: f64,
}

/// Not looked farther than this, degrees.
pub const MOST_DEG: f64 = 45.0;
/// The answer is below the true one by no more than this, degrees.
const FINE_DEG: f64 = 0.01;
/// Headings looked at before the answer so far must do.
const ENOUGH: usize = 400;

/// Turns the vehicle either way until a plan rule fails. No point that moves with it goes farther than its distance
/// from the axle's middle times the angle, so each margin tells how far it is safe to turn.
pub fn swing(site: &Site, stance: Stance, progress: &Progress) -> Result<Swing, Stopped> {
    let reach = reach(&site.layout).max(1.0);
    let one = |sign: f64| -> Result<f64, Stopped> {
        let mut turned = 0.0;
        for _ in 0..ENOUGH {
            progress.go_on()?;
            let at = P2::new(stance.x, stance.y);
            let spaces = site.spaces(stance.heading + sign * turned);
            let margin = spaces.iter().map(|s| s.depth(&s.all(), at)).fold(f64::NEG_INFINITY, f64::max);
            if margin < -NOISE_MM {
                return Ok((turned - FINE_DEG).max(0.0));
            }
            if turned >= MOST_DEG {
                return Ok(MOST_DEG);
            }
            turned = (turned + (margin / reach).to_degrees().max(FINE_DEG)).min(MOST_DEG);
        }
        Ok(turned)
    };
    Ok(Swing {
        left: one(1.0)?,
        right: one(-1.0)?,
    })
}

/// The farthest any moving thing reaches from the vehicle's origin, mm.
fn reach(layout: &Layout) -> f64 {
    let at = layout.frame().origin;
    let body = &layout.body;
    let solids = body.hull.iter().chain(&body.mirrors).chain(&body.tyres);
    let stands = layout.setups.iter().flat_map(|s| &s.stations).filter_map(|s| s.place.as_ref().ok());
    let zones = layout.setups.iter().flat_map(|s| &s.zones).filter_map(|z| z.place.as_ref().ok());
    let outlines = solids
        .map(|s| s.shape.outline())
        .chain(stands.flat_map(|s| s.parts.iter().chain(&s.room)).map(|s| s.shape.outline()))
        .chain(zones.flat_map(Area::outlines));
    outlines.flat_map(|o| o.points()).map(|p| (p - at).norm()).fold(0.0, f64::max)
}
