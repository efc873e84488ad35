//! Tape readings of a bay: taken down, read again, and the floor put where they say.

use super::floor::{carry_aprons, floor, side};
use crate::geometry::P2;
use crate::model::Bay;
use crate::model::taped::{Taped, TapedPoint};

/// The bay with one reading more.
pub fn tape_read(bay: &Bay, from: &TapedPoint, to: &TapedPoint, mm: f64) -> Bay {
    let mut next = bay.clone();
    next.taped.push(Taped(from.clone(), to.clone(), mm));
    next
}

/// The bay with a tape read otherwise; without a figure the reading is gone.
pub fn tape_reread(bay: &Bay, at: usize, mm: Option<f64>) -> Result<Bay, String> {
    let mut next = bay.clone();
    match (mm, next.taped.get_mut(at)) {
        (_, None) => return Err("there is no such reading".into()),
        (Some(mm), Some(tape)) => tape.2 = mm,
        (None, Some(_)) => drop(next.taped.remove(at)),
    }
    Ok(next)
}

/// Lengths that come from tapes are written in tenths of a millimetre.
fn tenths(mm: f64) -> f64 {
    (mm * 10.0).round() / 10.0
}

/// How far along its side each jamb of a doorway lies, by the doorway's place in the bay: the one nearer to the side's first
/// corner, then the other; none where it was not taped.
pub type Jambs = (usize, [Option<f64>; 2]);

/// The bay with its corners and jambs where the tapes have them, in tenths of a millimetre. The readings stay.
pub fn corners_taken(bay: &Bay, corners: &[P2], jambs: &[Jambs]) -> Result<Bay, String> {
    let mut next = bay.clone();
    let first = bay.floor.points.first().copied();
    let adjusted = corners.iter().map(|p| (tenths(p.x), tenths(p.y)));
    // the first corner stays to the last digit
    next.floor = floor(first.into_iter().chain(adjusted.skip(1)).collect())?;
    for (door, ends) in jambs {
        let Some(of) = next.doorways.get_mut(*door) else { continue };
        match *ends {
            [Some(from), Some(to)] => (of.from, of.width) = (tenths(from), tenths(to - from)),
            [Some(from), None] => of.from = tenths(from),
            [None, Some(to)] => of.from = tenths(to - of.width),
            [None, None] => {}
        }
        if of.width <= 0.0 {
            return Err(format!("the jambs of {} would change places", of.name));
        }
    }
    for at in 0..next.doorways.len() {
        let Some((_, _, long)) = side(&next, next.doorways[at].side.index) else { continue };
        let door = &next.doorways[at];
        if door.from < 0.0 || door.from + door.width > long {
            return Err(format!(
                "{} would reach beyond its side: tape its jambs, or move it first",
                door.name
            ));
        }
    }
    carry_aprons(bay, &mut next);
    Ok(next)
}
