//! A date and time of day with its offset from UTC, as a job writes it: `"2026-11-24 15:00 +00:00"`.

use std::sync::Arc;

use jiff::Timestamp;
use serde::ser::{Serialize, Serializer};

use super::reading::{FromFile, Reader};
use super::spot::Name;
use super::writing::{ToFile, Writer};
use crate::syntax::Id;

/// A moment, kept as written.
#[derive(Clone, Debug, PartialEq)]
pub struct When {
    pub text: Arc<str>,
    /// Year, month, day, hour, minute and second in UTC.
    pub utc: (i32, u32, u32, u32, u32, u32),
}

/// What is understood, in this order.
const FORMS: [&str; 4] =
    ["%Y-%m-%d %H:%M %:z", "%Y-%m-%dT%H:%M%:z", "%Y-%m-%d %H:%M:%S %:z", "%Y-%m-%dT%H:%M:%S%:z"];

impl When {
    /// Reads a moment; the error says how to write one.
    pub fn parse(text: &str) -> Result<When, String> {
        let trimmed = text.trim();
        let plain = trimmed.strip_suffix('Z').map(|t| format!("{t}+00:00"));
        let written = plain.as_deref().unwrap_or(trimmed);
        let read = FORMS.iter().find_map(|form| Timestamp::strptime(form, written).ok());
        let Some(moment) = read else {
            return Err(format!("{trimmed:?} is not a date, a time and an offset from UTC"));
        };
        let utc = jiff::tz::Offset::UTC.to_datetime(moment);
        let part = |v: i8| u32::try_from(v).unwrap_or(0);
        Ok(When {
            text: text.into(),
            utc: (
                i32::from(utc.year()),
                part(utc.month()),
                part(utc.day()),
                part(utc.hour()),
                part(utc.minute()),
                part(utc.second()),
            ),
        })
    }
}

impl FromFile for When {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        let name = Name::read(r, id)?;
        Some(When::parse(name.as_str()).unwrap_or_else(|why| {
            r.refuse(id, why, Some("write it as \"2026-11-24 15:00 +00:00\"".into()));
            When { text: name.text, ..When::stand_in() }
        }))
    }
    fn stand_in() -> Self {
        When { text: "".into(), utc: (2000, 1, 1, 0, 0, 0) }
    }
}

impl ToFile for When {
    fn write(&self, w: &mut Writer) {
        w.quoted(&self.text);
    }
}

impl Serialize for When {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.serialize_str(&self.text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn moments() {
        for (text, utc) in [
            ("2026-11-24 15:00 +00:00", (2026, 11, 24, 15, 0, 0)),
            ("2026-11-24 15:00 +01:00", (2026, 11, 24, 14, 0, 0)),
            ("2026-01-01 00:30 -05:30", (2026, 1, 1, 6, 0, 0)),
            ("2026-01-01 00:30 +01:00", (2025, 12, 31, 23, 30, 0)),
            ("2026-06-21T12:00:30+02:00", (2026, 6, 21, 10, 0, 30)),
            ("2026-06-21T12:00Z", (2026, 6, 21, 12, 0, 0)),
            ("2026-06-21 12:00 Z", (2026, 6, 21, 12, 0, 0)),
        ] {
            assert_eq!(When::parse(text).map(|w| w.utc), Ok(utc), "{text}");
        }
        for text in [
            "",
            "2026-11-24",
            "2026-11-24 15:00",
            "24.11.2026 15:00 +00:00",
            "2026-13-01 00:00 +00:00",
            "2026-02-30 00:00 +00:00",
            "noon",
        ] {
            assert!(When::parse(text).is_err(), "{text}");
        }
    }
}
