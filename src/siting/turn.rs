//! How far the heading may be off at a pose before a plan rule fails.

use super::progress::{Progress, Stopped};
use super::site::Site;
use super::still::Item;
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
/// Headings looked at, each way, before the answer so far must do.
const ENOUGH: usize = 300;

/// Turns the vehicle either way until a plan rule fails. No point that moves with it goes farther than its distance
/// from the axle's middle times the angle; so between two angles nothing fails when the margins at both ends add up to
/// more than that.
pub fn swing(site: &Site, stance: Stance, progress: &Progress) -> Result<Swing, Stopped> {
    Ok(Swing {
        left: Turning::new(site, stance, 1.0, progress).first_failure()?,
        right: Turning::new(site, stance, -1.0, progress).first_failure()?,
    })
}

struct Turning<'a> {
    site: &'a Site,
    at: P2,
    heading: f64,
    sign: f64,
    /// How far anything goes in one degree at most, mm.
    rate: f64,
    /// The margin of each hold at the start; none where the bay decides places, which are looked at afresh each time.
    margins: Option<Vec<f64>>,
    looked_at: usize,
    progress: &'a Progress,
}

impl<'a> Turning<'a> {
    fn new(site: &'a Site, stance: Stance, sign: f64, progress: &'a Progress) -> Turning<'a> {
        let at = P2::new(stance.x, stance.y);
        let spaces = site.spaces(stance.heading);
        let margins = match spaces.as_slice() {
            [space] if !space.holds.iter().any(|h| h.item == Item::Fixed) => {
                let mut margins = vec![f64::INFINITY; space.holds.len()];
                for o in &space.obstacles {
                    let m = &mut margins[o.hold as usize];
                    *m = m.min(space.sides.signed(o, at).0);
                }
                Some(margins)
            }
            _ => None,
        };
        Turning {
            site,
            at,
            heading: stance.heading,
            sign,
            rate: reach(&site.layout).max(1.0) * 1f64.to_radians(),
            margins,
            looked_at: 0,
            progress,
        }
    }

    /// The least margin at an angle of at most `most`.
    fn margin(&mut self, angle: f64, most: f64) -> Result<f64, Stopped> {
        self.progress.go_on()?;
        self.looked_at += 1;
        // What is too far off to be reached by then does not count.
        let reached = most * self.rate + 1.0;
        let only: Option<Vec<bool>> =
            self.margins.as_ref().map(|m| m.iter().map(|m| *m <= reached).collect());
        let spaces = self.site.spaces_of(self.heading + self.sign * angle, only.as_deref());
        let least = spaces.iter().map(|s| s.depth(&s.all(), self.at)).fold(f64::NEG_INFINITY, f64::max);
        Ok(least)
    }

    /// The angle up to which nothing fails.
    fn first_failure(mut self) -> Result<f64, Stopped> {
        let start = self.margin(0.0, MOST_DEG)?;
        // Stretches still to be looked at, the nearest last: the margins at their ends.
        let mut most = MOST_DEG;
        let end = self.margin(most, most)?;
        let mut open = vec![((0.0, start), (most, end))];
        let mut safe = 0.0;
        while let Some((a, b)) = open.pop() {
            if b.1 < -NOISE_MM && b.0 <= most {
                // nothing beyond this counts any more
                most = b.0;
                open.clear();
            } else if b.1 >= -NOISE_MM && a.1 + b.1 >= self.rate * (b.0 - a.0) {
                safe = b.0;
                continue;
            }
            if b.0 - a.0 <= FINE_DEG || self.looked_at > ENOUGH {
                if b.1 < -NOISE_MM || self.looked_at > ENOUGH {
                    return Ok(a.0);
                }
                safe = b.0;
                continue;
            }
            let angle = (a.0 + b.0) / 2.0;
            let middle = (angle, self.margin(angle, most)?);
            open.push((middle, b));
            open.push((a, middle));
        }
        Ok(safe)
    }
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
