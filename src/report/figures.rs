//! How lengths are shown: millimetres, or feet and inches beside the exact millimetres.

use crate::units;

/// The way a person wants lengths shown. Figures are kept and judged in exact millimetres whatever is chosen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Show {
    #[default]
    Mm,
    /// Feet and inches in sixteenths, with the millimetres behind.
    FeetInches,
}

impl Show {
    /// One length, rounded to the nearest.
    pub fn one(self, mm: f64) -> String {
        self.with_feet(mm, format!("{} mm", units::format_mm(mm)))
    }

    /// One length to a tenth, as a tape is read at best.
    pub fn tenth(self, mm: f64) -> String {
        self.with_feet(mm, format!("{} mm", units::format_mm_exact(mm, 1)))
    }

    /// A length rounded up to whole millimetres: a move that is asked for is never too short.
    pub fn up(self, mm: f64) -> String {
        self.one((mm - crate::geometry::NOISE_MM).ceil().max(0.0))
    }

    /// Two lengths with as many digits as it takes to tell them apart.
    pub fn two(self, have: f64, need: f64) -> (String, String) {
        let (h, n) = units::pair_to_show(have, need);
        (self.with_feet(have, format!("{h} mm")), self.with_feet(need, format!("{n} mm")))
    }

    fn with_feet(self, mm: f64, text: String) -> String {
        match self {
            Show::Mm => text,
            Show::FeetInches => format!("{} ({text})", units::feet_inches(mm, 16).text),
        }
    }
}
