//! How far the heading may be off at a pose before a plan rule fails.
//!
//! The vehicle turns on the spot, so every couple of pieces can be asked by itself, the most pressing first: it cannot
//! fail before what it has to spare is used up, at the rate its farthest point goes. The answer is one of a row of
//! headings [`FINE_DEG`] apart or less: the last before the first of them at which something fails.

use super::maker::{Couple, Couples, Turn};
use super::progress::{Progress, Stopped};
use super::site::Site;
use super::space::Space;
use crate::geometry::{NOISE_MM, P2};
use crate::layout::lift::lift_of;
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
pub(super) const MOST_DEG: f64 = 45.0;
/// Headings of the row.
const ROW: usize = 8192;
/// Between two of them: the answer is below the true one by no more than this, degrees.
const FINE_DEG: f64 = MOST_DEG / ROW as f64;
/// Headings looked at, each way, where each must be laid out anew, before the answer so far must do.
const ENOUGH: usize = 300;

/// Turns the vehicle either way until a plan rule fails.
pub fn swing(site: &Site, stance: Stance, progress: &Progress) -> Result<Swing, Stopped> {
    let at = P2::new(stance.x, stance.y);
    let Some((couples, space)) = site.couples(stance.heading) else {
        let afresh = |sign| Turning::new(site, stance, sign, None, progress).first_failure(MOST_DEG);
        return Ok(Swing { left: afresh(1.0)?, right: afresh(-1.0)? });
    };
    let pressing = pressing(&couples, at);
    let way = |sign: f64| -> Result<f64, Stopped> {
        let whole = first_failure(&couples, &pressing, at, sign, progress)?;
        if couples.loose.is_empty() {
            return Ok(whole);
        }
        let only = loose(&couples, &space);
        Ok(whole.min(Turning::new(site, stance, sign, Some(only), progress).first_failure(whole)?))
    };
    Ok(Swing { left: way(1.0)?, right: way(-1.0)? })
}

/// The couples with the angle before which each is sure not to fail (radians) and its rate, the most pressing first.
fn pressing(couples: &Couples, at: P2) -> Vec<(f64, f64, &Couple)> {
    let (straight, mut room) = (Turn::by(at, 0.0), Vec::new());
    let reached = MOST_DEG.to_radians();
    let mut all = Vec::new();
    for couple in &couples.all {
        let rate = couples.rate(couple, at);
        if couples.at_least(couple, at) >= rate * reached {
            continue;
        }
        let spare = couples.spare(couple, straight, &mut room);
        if spare < rate * reached {
            all.push((spare / rate, rate, couple));
        }
    }
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    all
}

/// The angle up to which no couple fails, degrees.
fn first_failure(
    couples: &Couples,
    pressing: &[(f64, f64, &Couple)],
    at: P2,
    sign: f64,
    progress: &Progress,
) -> Result<f64, Stopped> {
    let fine = FINE_DEG.to_radians();
    // the first heading of the row known to fail; one beyond the last where none is
    let mut first = ROW + 1;
    let mut room = Vec::new();
    for (safe, rate, couple) in pressing {
        if safe / fine >= first as f64 {
            break;
        }
        progress.go_on()?;
        let mut k = steps(safe / fine);
        while k < first {
            let angle = sign * k as f64 * fine;
            let spare = couples.spare(couple, Turn::by(at, angle), &mut room);
            if spare < -NOISE_MM {
                first = k;
                break;
            }
            k += steps(spare / rate / fine);
        }
    }
    Ok((first - 1) as f64 * FINE_DEG)
}

/// Whole steps within which nothing fails, one at least.
fn steps(safe: f64) -> usize {
    safe.clamp(1.0, ROW as f64 + 1.0) as usize
}

/// Which holds are looked at afresh at every heading.
fn loose(couples: &Couples, space: &Space) -> Vec<bool> {
    let mut only = vec![false; space.holds.len()];
    for hold in &couples.loose {
        only[*hold as usize] = true;
    }
    only
}

/// Turning with everything laid out anew at every heading. No point that moves with the vehicle goes farther than its
/// distance from the axle's middle times the angle; so between two angles nothing fails when the margins at both ends
/// add up to more than that.
struct Turning<'a> {
    site: &'a Site,
    at: P2,
    heading: f64,
    sign: f64,
    /// How far anything goes in one degree at most, mm.
    rate: f64,
    /// The holds that count; all where the bay decides places.
    only: Option<Vec<bool>>,
    looked_at: usize,
    progress: &'a Progress,
}

impl<'a> Turning<'a> {
    fn new(
        site: &'a Site,
        stance: Stance,
        sign: f64,
        only: Option<Vec<bool>>,
        progress: &'a Progress,
    ) -> Turning<'a> {
        Turning {
            site,
            at: P2::new(stance.x, stance.y),
            heading: stance.heading,
            sign,
            rate: reach(&site.layout, P2::new(stance.x, stance.y)).max(1.0) * 1f64.to_radians(),
            only,
            looked_at: 0,
            progress,
        }
    }

    /// The least margin at an angle.
    fn margin(&mut self, angle: f64) -> Result<f64, Stopped> {
        self.progress.go_on()?;
        self.looked_at += 1;
        let spaces = self.site.spaces_of(self.heading + self.sign * angle, self.only.as_deref());
        let least = spaces.iter().map(|s| s.depth(&s.all(), self.at)).fold(f64::NEG_INFINITY, f64::max);
        Ok(least)
    }

    /// The angle up to which nothing fails; beyond `enough` nobody asks.
    fn first_failure(mut self, enough: f64) -> Result<f64, Stopped> {
        let start = self.margin(0.0)?;
        // Stretches still to be looked at, the nearest last: the margins at their ends.
        let mut most = MOST_DEG;
        let end = self.margin(most)?;
        let mut open = vec![((0.0, start), (most, end))];
        let mut safe = 0.0;
        while let Some((a, b)) = open.pop() {
            if a.0 >= enough {
                return Ok(enough);
            }
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
            let middle = (angle, self.margin(angle)?);
            open.push((middle, b));
            open.push((a, middle));
        }
        Ok(safe)
    }
}

/// The farthest any moving thing reaches from the vehicle's origin, and the posts of its lift lie from there, mm: these
/// are held between its axles.
fn reach(layout: &Layout, place: P2) -> f64 {
    let posts = lift_of(&layout.bundle).into_iter().flat_map(|l| l.posts.iter());
    let posts = posts.map(|p| (p.0.outline().centre() - place).norm());
    let at = layout.frame().origin;
    let body = &layout.body;
    let solids = body.hull.iter().chain(&body.mirrors).chain(&body.tyres);
    let stands = layout.setups.iter().flat_map(|s| &s.stations).filter_map(|s| s.place.as_ref().ok());
    let zones = layout.setups.iter().flat_map(|s| &s.zones).filter_map(|z| z.place.as_ref().ok());
    let outlines = solids
        .map(|s| s.shape.outline())
        .chain(stands.flat_map(|s| s.parts.iter().chain(&s.room)).map(|s| s.shape.outline()))
        .chain(zones.flat_map(Area::outlines));
    outlines.flat_map(|o| o.points()).map(|p| (p - at).norm()).chain(posts).fold(0.0, f64::max)
}
