//! Numbers of the files: finite always, not below zero where a length is meant. For use with `deserialize_with`.
//!
//! A number that is refused is noted and replaced by NaN, so that no later comparison finds a second fault in it; the
//! file it stands in is refused, so nothing is ever computed from it.

use ron::value::RawValue;
use serde::de::{Deserialize, Deserializer};
use serde::ser::Serializer;

use super::spot::{Spot, note, raw, shown};

/// One kilometre, or a number of that size in another unit: beyond it a figure is a slip of the pen.
pub const LARGEST: f64 = 1e6;

/// A finite number; anything else is noted.
pub fn coord<'de, D: Deserializer<'de>>(d: D) -> Result<f64, D::Error> {
    let (text, spot) = raw(d)?;
    Ok(number(text, spot, Kind::Coord))
}

/// A finite number of at least 0.
pub fn length<'de, D: Deserializer<'de>>(d: D) -> Result<f64, D::Error> {
    let (text, spot) = raw(d)?;
    Ok(number(text, spot, Kind::Length))
}

/// A finite number above 0.
pub fn size<'de, D: Deserializer<'de>>(d: D) -> Result<f64, D::Error> {
    let (text, spot) = raw(d)?;
    Ok(number(text, spot, Kind::Size))
}

pub fn opt_coord<'de, D: Deserializer<'de>>(d: D) -> Result<Option<f64>, D::Error> {
    opt(d, Kind::Coord)
}

pub fn opt_length<'de, D: Deserializer<'de>>(d: D) -> Result<Option<f64>, D::Error> {
    opt(d, Kind::Length)
}

pub fn opt_size<'de, D: Deserializer<'de>>(d: D) -> Result<Option<f64>, D::Error> {
    opt(d, Kind::Size)
}

/// A pair of finite numbers `(x, y)`.
pub fn point<'de, D: Deserializer<'de>>(d: D) -> Result<(f64, f64), D::Error> {
    let raws = <(&RawValue, &RawValue)>::deserialize(d)?;
    Ok((of_raw(raws.0, Kind::Coord), of_raw(raws.1, Kind::Coord)))
}

/// Two sizes above 0.
pub fn sizes<'de, D: Deserializer<'de>>(d: D) -> Result<(f64, f64), D::Error> {
    let raws = <(&RawValue, &RawValue)>::deserialize(d)?;
    Ok((of_raw(raws.0, Kind::Size), of_raw(raws.1, Kind::Size)))
}

/// Three finite numbers `(x, y, z)`.
pub fn triple<'de, D: Deserializer<'de>>(d: D) -> Result<(f64, f64, f64), D::Error> {
    let raws = <(&RawValue, &RawValue, &RawValue)>::deserialize(d)?;
    Ok((of_raw(raws.0, Kind::Coord), of_raw(raws.1, Kind::Coord), of_raw(raws.2, Kind::Coord)))
}

/// A pair `(from, to)` of finite numbers, the first not above the second.
pub fn band<'de, D: Deserializer<'de>>(d: D) -> Result<(f64, f64), D::Error> {
    let (text, spot) = raw(d)?;
    Ok(band_of(text, spot))
}

pub fn opt_band<'de, D: Deserializer<'de>>(d: D) -> Result<Option<(f64, f64)>, D::Error> {
    let value = Option::<&RawValue>::deserialize(d)?;
    Ok(value.map(|v| {
        let text = v.trim().get_ron();
        band_of(text, place(v))
    }))
}

/// A number on its own, for lists of numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coord(pub f64);

impl<'de> Deserialize<'de> for Coord {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        coord(d).map(Coord)
    }
}

#[derive(Clone, Copy, PartialEq)]
enum Kind {
    Coord,
    Length,
    Size,
}

fn opt<'de, D: Deserializer<'de>>(d: D, kind: Kind) -> Result<Option<f64>, D::Error> {
    let value = Option::<&RawValue>::deserialize(d)?;
    Ok(value.map(|v| of_raw(v, kind)))
}

fn place(value: &RawValue) -> Spot {
    Spot(super::spot::offset(value.trim().get_ron()))
}

fn of_raw(value: &RawValue, kind: Kind) -> f64 {
    number(value.trim().get_ron(), place(value), kind)
}

fn band_of(text: &str, spot: Spot) -> (f64, f64) {
    let pair: Option<(&RawValue, &RawValue)> = super::spot::part(text);
    let Some((a, b)) = pair else {
        return (f64::NAN, f64::NAN);
    };
    let (lo, hi) = (of_raw(a, Kind::Coord), of_raw(b, Kind::Coord));
    if lo > hi {
        note(
            spot,
            format!("the first number of {} is above the second", shown(text)),
            Some(format!("write ({hi}, {lo})")),
        );
    }
    (lo, hi)
}

fn number(text: &str, spot: Spot, kind: Kind) -> f64 {
    let Some(value) = read(text) else {
        note(spot, format!("expected a number, found {}", shown(text)), None);
        return f64::NAN;
    };
    let wrong = wrong(value, text).or_else(|| match kind {
        Kind::Length if value < 0.0 => Some(format!("a length of {} is below zero", shown(text))),
        Kind::Size if value <= 0.0 => Some(format!("expected a size above zero, found {}", shown(text))),
        _ => None,
    });
    match wrong {
        Some(text) => {
            note(spot, text, None);
            f64::NAN
        }
        None => value,
    }
}

/// Why a number can stand nowhere in a file; `text` is how it was written.
pub(super) fn wrong(value: f64, text: &str) -> Option<String> {
    if !value.is_finite() {
        Some(format!("expected a finite number, found {}", shown(text)))
    } else if value.abs() > LARGEST {
        Some(format!("{} is larger than 1 000 000 (1 km), the largest figure a file may hold", shown(text)))
    } else {
        None
    }
}

/// Writes a number in the shortest form that reads back equal.
pub fn put<S: Serializer>(value: &f64, s: S) -> Result<S::Ok, S::Error> {
    const EXACT: f64 = 9_007_199_254_740_992.0; // 2^53: whole numbers up to here are integers without loss
    if value.fract() == 0.0 && value.abs() <= EXACT {
        return s.serialize_i64(*value as i64);
    }
    s.serialize_f64(*value)
}

/// As [`put`], for a number that may be absent.
pub fn put_opt<S: Serializer>(value: &Option<f64>, s: S) -> Result<S::Ok, S::Error> {
    match value {
        Some(value) => put(value, s),
        None => s.serialize_none(),
    }
}

/// A RON number (underscores and all), or `None`.
pub fn read(text: &str) -> Option<f64> {
    super::spot::options().from_str::<f64>(text).ok()
}
