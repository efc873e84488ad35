//! Millimetres as text: alone, or in feet and inches beside the exact millimetres.

use super::feet::inches;
use super::{INCH_MM, Mm, Round, format_fixed, format_number};

/// A no-break space between groups of three digits.
const GROUP: char = '\u{a0}';
/// The same, thinner, for the plan.
const THIN: char = '\u{202f}';
/// Parts of an inch a tape is read to.
const PARTS: u32 = 16;
/// Lengths nearer than this are equal, mm.
const NOISE_MM: Mm = 1e-6;

/// The way a person wants lengths shown. Figures are kept and judged in exact millimetres whatever is chosen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Show {
    #[default]
    Mm,
    /// Feet and inches in sixteenths, with the millimetres behind.
    FeetInches,
}

/// How a length is put down: with decimals of a millimetre, rounded one way, and bare of its unit where the plan leaves
/// no room for it.
#[derive(Clone, Copy, Debug)]
pub struct Put {
    pub decimals: usize,
    pub round: Round,
    /// Millimetres without their unit; feet and inches without the millimetres.
    pub bare: bool,
}

impl Show {
    pub fn of(feet: bool) -> Show {
        if feet { Show::FeetInches } else { Show::Mm }
    }

    /// One length that is neither left nor short: to the nearest.
    pub fn one(self, mm: Mm) -> String {
        self.put(mm, Put { decimals: 0, round: Round::Nearest, bare: false })
    }

    /// The same to a tenth, as a tape is read at best.
    pub fn tenth(self, mm: Mm) -> String {
        self.put(mm, Put { decimals: 1, round: Round::Nearest, bare: false })
    }

    /// A length that is short, or a move that is asked for: never less than it is. Below zero nothing is.
    pub fn up(self, mm: Mm) -> String {
        self.put(mm.max(0.0), Put { decimals: 0, round: Round::Up, bare: false })
    }

    /// A length that is left: never more than it is.
    pub fn down(self, mm: Mm) -> String {
        self.put(mm, Put { decimals: 0, round: Round::Down, bare: false })
    }

    /// A length that is given: with the decimals it has, two at most, and bare.
    pub fn exact(self, mm: Mm) -> String {
        match self {
            Show::Mm => format_mm_exact(mm, decimals_of(mm, 2)),
            Show::FeetInches => inches(Round::Nearest.steps(mm, INCH_MM / f64::from(PARTS)), PARTS),
        }
    }

    /// A length drawn on the plan: whole, and bare.
    pub fn drawn(self, mm: Mm) -> String {
        self.put(mm, Put { decimals: 0, round: Round::Nearest, bare: true })
    }

    pub fn put(self, mm: Mm, put: Put) -> String {
        let steps = |step| put.round.steps(mm, step);
        let whole = 10f64.powi(put.decimals as i32);
        let shown = match put.round {
            Round::Nearest => mm,
            _ => steps(1.0 / whole) / whole,
        };
        self.text(shown, steps(INCH_MM / f64::from(PARTS)), put.decimals, put.bare)
    }

    /// What is there, never shown as better than it is, beside what is asked; where it passes they never look as if it
    /// failed, nor the other way. `most`: what is there may be no more than what is asked.
    pub fn pair(self, have: Mm, need: Mm, most: bool, put: Put) -> (String, String) {
        let round = if most { Round::Up } else { Round::Down };
        let passes = if most { have <= need + NOISE_MM } else { have >= need - NOISE_MM };
        let both = |step: f64| {
            let (h, n) = (round.steps(have, step), Round::Nearest.steps(need, step));
            match (passes, most) {
                (true, false) if n > h => (h, h),
                (true, true) if n < h => (h, h),
                (false, false) if h >= n => (n - 1.0, n),
                (false, true) if h <= n => (n + 1.0, n),
                _ => (h, n),
            }
        };
        let whole = 10f64.powi(put.decimals as i32);
        let (mm, tape) = (both(1.0 / whole), both(INCH_MM / f64::from(PARTS)));
        let text = |mm: f64, tape| self.text(mm / whole, tape, put.decimals, put.bare);
        (text(mm.0, tape.0), text(mm.1, tape.1))
    }

    fn text(self, mm: Mm, sixteenths: f64, decimals: usize, bare: bool) -> String {
        let exact = format_mm_exact(mm, decimals);
        match (self, bare) {
            (Show::Mm, true) => exact.replace(GROUP, &THIN.to_string()),
            (Show::Mm, false) => format!("{exact} mm"),
            (Show::FeetInches, true) => inches(sixteenths, PARTS),
            (Show::FeetInches, false) => format!("{} ({exact} mm)", inches(sixteenths, PARTS)),
        }
    }
}

/// How many decimals a length has, `most` at most.
pub fn decimals_of(mm: Mm, most: usize) -> usize {
    let whole = |d: &usize| {
        let parts = mm * 10f64.powi(*d as i32);
        (parts - parts.round()).abs() < 1e-4
    };
    (0..most).find(whole).unwrap_or(most)
}

/// Whole millimetres, halves away from zero, digits in groups of three: `12 000`, `-310`. A length that is not
/// finite gives a dash.
pub fn format_mm(mm: Mm) -> String {
    format_mm_exact(mm, 0)
}

/// The same with this many decimals.
pub fn format_mm_exact(mm: Mm, decimals: usize) -> String {
    if !mm.is_finite() {
        return "–".to_owned();
    }
    let digits = format_fixed(mm, decimals, Round::Nearest);
    let (sign, digits) = digits.strip_prefix('-').map_or(("", &*digits), |d| ("-", d));
    let (whole, rest) = digits.split_at(digits.find('.').unwrap_or(digits.len()));
    let mut text = sign.to_owned();
    for (i, c) in whole.chars().enumerate() {
        if i > 0 && (whole.len() - i) % 3 == 0 {
            text.push(GROUP);
        }
        text.push(c);
    }
    text + rest
}

/// A height above a datum with its sign and up to two decimals of a millimetre, or of an inch: `-9`, `+2.5`, `-0.35"`.
pub fn format_height(mm: Mm, inches: bool) -> String {
    let text = format_number(if inches { mm / INCH_MM } else { mm }, 2, Round::Nearest);
    let sign = if text.starts_with('-') || text == "0" { "" } else { "+" };
    format!("{sign}{text}{}", if inches { "\"" } else { "" })
}

/// A height that is left or, below 0, lacking: in tenths of a millimetre or hundredths of an inch, so that what is left
/// is never made more nor what lacks less; without its sign.
pub fn format_spare(mm: Mm, inches: bool) -> String {
    let round = if mm < 0.0 { Round::Up } else { Round::Down };
    match inches {
        true => format!("{}\"", format_number(mm.abs() / INCH_MM, 2, round)),
        false => format!("{} mm", format_number(mm.abs(), 1, round)),
    }
}

#[cfg(test)]
mod tests;
