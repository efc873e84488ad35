//! Numbers of the files: finite always, not below zero where a length is meant. Ways of reading a field of type `f64`.
//!
//! A number that is refused is noted and replaced by NaN, so that no later comparison finds a second fault in it; the
//! file it stands in is refused, so nothing is ever computed from it.

use super::reading::{FromFile, Reader};
use crate::syntax::{self, Id, Kind, shown};

/// One kilometre, or a number of that size in another unit: beyond it a figure is a slip of the pen.
pub const LARGEST: f64 = 1e6;

/// A finite number; anything else is noted.
pub fn coord(r: &mut Reader, id: Id) -> Option<f64> {
    finite(r, id, |_, _| None)
}

/// A finite number of at least 0.
pub fn length(r: &mut Reader, id: Id) -> Option<f64> {
    let wrong = |v: f64, text: &str| (v < 0.0).then(|| format!("a length of {text} is below zero"));
    finite(r, id, wrong)
}

/// A finite number of at least 0 that is no length: minutes, money, days.
pub fn amount(r: &mut Reader, id: Id) -> Option<f64> {
    finite(r, id, |v, text| (v < 0.0).then(|| format!("a figure of {text} is below zero")))
}

/// A finite number above 0.
pub fn size(r: &mut Reader, id: Id) -> Option<f64> {
    finite(r, id, not_above_zero)
}

/// A pair of finite numbers `(x, y)`.
pub fn point(r: &mut Reader, id: Id) -> Option<(f64, f64)> {
    let [x, y] = r.values(id)?;
    Some((coord(r, x)?, coord(r, y)?))
}

/// Two sizes above 0.
pub fn sizes(r: &mut Reader, id: Id) -> Option<(f64, f64)> {
    let [a, b] = r.values(id)?;
    Some((size(r, a)?, size(r, b)?))
}

/// A pair `(from, to)` of finite numbers, the first not above the second.
pub fn band(r: &mut Reader, id: Id) -> Option<(f64, f64)> {
    let (lo, hi) = point(r, id)?;
    if lo > hi {
        let text = format!("the first number of {} is above the second", shown(r.tree.source(id)));
        r.refuse(id, text, Some(format!("write ({hi}, {lo})")));
    }
    Some((lo, hi))
}

impl FromFile for f64 {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        coord(r, id)
    }
    fn stand_in() -> Self {
        f64::NAN
    }
}

/// The number a part is; `None` where it is none.
pub(super) fn of(r: &Reader, id: Id) -> Option<f64> {
    match r.tree.kind(id) {
        Kind::Number | Kind::Word => syntax::number(r.tree.source(id)),
        _ => None,
    }
}

fn finite(r: &mut Reader, id: Id, also: fn(f64, &str) -> Option<String>) -> Option<f64> {
    let Some(value) = of(r, id) else {
        r.expected_plain(id, "a number");
        return Some(f64::NAN);
    };
    let text = shown(r.tree.source(id));
    match wrong(value, &text).or_else(|| also(value, &text)) {
        Some(why) => {
            r.refuse(id, why, None);
            Some(f64::NAN)
        }
        None => Some(value),
    }
}

pub(super) fn not_above_zero(value: f64, text: &str) -> Option<String> {
    (value <= 0.0).then(|| format!("expected a size above zero, found {text}"))
}

/// Why a number can stand nowhere in a file; `text` is how it was written.
pub(super) fn wrong(value: f64, text: &str) -> Option<String> {
    if !value.is_finite() {
        Some(format!("expected a finite number, found {text}"))
    } else if value.abs() > LARGEST {
        Some(format!("{text} is larger than 1 000 000 (1 km), the largest figure a file may hold"))
    } else {
        None
    }
}
