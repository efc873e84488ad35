//! The best place in whole figures: nobody stops a vehicle on a tenth of a millimetre.

use super::find::judged_at;
use super::progress::Progress;
use super::site::{Place, Site};
use crate::checks::{Condition, Judgement, Outcome};
use crate::geometry::P2;
use crate::layout::Stance;

/// Places are proposed in whole multiples of this, mm.
const WHOLE_MM: f64 = 5.0;

/// The place in whole multiples of 5 mm nearest to the best one that keeps half of its slack and at which the rules find no more
/// than at the best; the best itself where none does.
pub(super) fn proposed(site: &Site, best: Place, judgement: &Judgement, progress: &Progress) -> Place {
    let exact = best.stance;
    let ways = |mm: f64| [(mm / WHOLE_MM).floor() * WHOLE_MM, (mm / WHOLE_MM).ceil() * WHOLE_MM];
    let mut places: Vec<Stance> =
        ways(exact.x).into_iter().flat_map(|x| ways(exact.y).map(|y| Stance { x, y, ..exact })).collect();
    let off = |s: &Stance| (s.x - exact.x).hypot(s.y - exact.y);
    places.sort_by(|a, b| off(a).total_cmp(&off(b)));
    let spaces = site.spaces(exact.heading);
    for stance in places {
        let at = P2::new(stance.x, stance.y);
        let slack = spaces.iter().map(|s| s.depth(&s.all(), at)).fold(f64::NEG_INFINITY, f64::max);
        if slack < best.slack / 2.0 {
            continue;
        }
        let there = judged_at(site, stance, progress);
        if told(&there) == told(judgement) {
            return Place { stance, slack: slack.max(0.0) };
        }
    }
    best
}

/// What must not change: the verdict, its conditions, and how much fails or is not known.
fn told(judgement: &Judgement) -> (&'static str, &[Condition], usize) {
    let tells = |o| matches!(o, Outcome::Fail | Outcome::Movable | Outcome::Unknown);
    let count = judgement.findings.iter().filter(|f| tells(f.outcome)).count();
    (judgement.verdict.word(), &judgement.conditions, count)
}
