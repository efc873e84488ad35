//! Places in whole figures: a person sets the vehicle down by a tape, not by a micrometre.

use std::sync::Arc;

use super::trial::{Bench, Judged, Stopped, stand};
use crate::edit::Edit;
use crate::layout::Stance;

/// Places are proposed in whole multiples of this where what is to spare allows it, else of one, mm.
const WHOLE_MM: f64 = 5.0;

/// A place that was judged, with the changes that lead to it and what whole figures cost, mm.
pub(super) struct Settled {
    pub edits: Vec<Edit>,
    pub judged: Arc<Judged>,
    pub given_up: f64,
}

/// After the changes `before`, the vehicle at `exact` or at a place in whole figures beside it where that is judged as good;
/// none where the exact place cannot be judged or does not do what is `wanted`.
pub(super) fn settle(
    bench: &mut Bench,
    before: &[Edit],
    exact: Stance,
    wanted: &dyn Fn(&Judged) -> bool,
) -> Result<Option<Settled>, Stopped> {
    let at = |stance: Stance| {
        let moves = stance != bench.layout.stance;
        before.iter().cloned().chain(moves.then(|| stand(stance))).collect::<Vec<Edit>>()
    };
    let whole: Vec<Vec<Edit>> = [WHOLE_MM, 1.0]
        .into_iter()
        .flat_map(|step| beside(exact, bench.layout.stance, step))
        .map(at)
        .collect();
    let exactly = at(exact);
    let Some(there) = bench.judge(&exactly)? else { return Ok(None) };
    for edits in whole {
        let Some(judged) = bench.judge(&edits)? else { continue };
        let as_good = there.standing.allows(&judged.standing) && judged.undriven == there.undriven;
        if as_good && wanted(&judged) {
            let given_up = match (there.standing.margin, judged.standing.margin) {
                (Some(exact), Some(whole)) => (exact - whole).max(0.0),
                _ => 0.0,
            };
            return Ok(Some(Settled { edits, judged, given_up }));
        }
    }
    Ok(wanted(&there).then_some(Settled { edits: exactly, judged: there, given_up: 0.0 }))
}

/// The places in whole steps round an exact one, the nearest first; what is not moved stays as it is.
fn beside(exact: Stance, now: Stance, step: f64) -> Vec<Stance> {
    let along = |to: f64, from: f64| {
        if (to - from).abs() < 0.5 && exact.heading == now.heading {
            return vec![from];
        }
        let (down, up) = ((to / step).floor() * step, (to / step).ceil() * step);
        if down == up { vec![down] } else { vec![down, up] }
    };
    let mut places: Vec<Stance> = along(exact.x, now.x)
        .into_iter()
        .flat_map(|x| along(exact.y, now.y).into_iter().map(move |y| Stance { x, y, ..exact }))
        .collect();
    let off = |s: &Stance| (s.x - exact.x).hypot(s.y - exact.y);
    places.sort_by(|a, b| off(a).total_cmp(&off(b)));
    places
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whole_places_surround_the_exact_one() {
        let at = |x: f64, y: f64| Stance { x, y, heading: 0.0 };
        let found = beside(at(2713.4, 5001.0), at(2713.4, 4000.0), 5.0);
        assert_eq!(found, [at(2713.4, 5000.0), at(2713.4, 5005.0)], "what is not moved is not rounded");
        let found = beside(at(2713.4, 5001.0), at(0.0, 0.0), 5.0);
        assert_eq!(found[0], at(2715.0, 5000.0));
        assert_eq!(found.len(), 4);
        assert_eq!(beside(at(15.0, 20.0), at(0.0, 0.0), 5.0), [at(15.0, 20.0)]);
    }
}
