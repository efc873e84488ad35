//! Millimetres as feet, inches and fractions of an inch.

use super::{INCH_MM, Mm, Round};

/// A length in feet and inches, and what the rounding did to it.
#[derive(Clone, Debug, PartialEq)]
pub struct FeetInches {
    /// As on a tape: `6' 11-21/32"`, `14' 0-3/4"`, `-2' 6"`, `3/4"`.
    pub text: String,
    /// What the text says minus the exact length, mm.
    pub error_mm: Mm,
}

/// The length rounded to the nearest 1/`denominator` inch, halves away from zero. A denominator of 0 counts as 1.
/// A length that is not finite gives a dash and a NaN error.
pub fn feet_inches(mm: Mm, denominator: u32) -> FeetInches {
    let parts = denominator.max(1);
    let steps = Round::Nearest.steps(mm, INCH_MM / f64::from(parts));
    // Beyond 2^53 parts of an inch a float no longer counts them.
    if steps.is_nan() || steps.abs() > 9e15 {
        return FeetInches { text: "–".to_owned(), error_mm: f64::NAN };
    }
    let shown = steps * 254.0 / (10.0 * f64::from(parts));
    FeetInches { text: inches(steps, parts), error_mm: shown - mm }
}

/// So many parts of an inch, `parts` to the inch, as on a tape. What is not finite gives a dash.
pub(super) fn inches(steps: f64, parts: u32) -> String {
    if !steps.is_finite() {
        return "–".to_owned();
    }
    let (total, parts) = (steps.abs() as u64, u64::from(parts));
    let (inches, part) = (total / parts, total % parts);
    let (feet, inches) = (inches / 12, inches % 12);
    let mut text = String::new();
    if steps < 0.0 && total > 0 {
        text.push('-');
    }
    if feet > 0 {
        text += &format!("{feet}' ");
    }
    if feet > 0 || inches > 0 || part == 0 {
        text += &inches.to_string();
        if part > 0 {
            text.push('-');
        }
    }
    if part > 0 {
        let common = gcd(part, parts);
        text += &format!("{}/{}", part / common, parts / common);
    }
    text.push('"');
    text
}

fn gcd(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::units::parse_length;

    #[test]
    fn on_a_tape() {
        // The errors are worked out by hand from the exact inch of 25.4 mm.
        let cases = [
            (2125.0, 32, "6' 11-21/32\"", -0.13),
            (2125.0, 16, "6' 11-11/16\"", 0.66),
            (7505.7, 16, "24' 7-1/2\"", 0.0),
            (4286.25, 16, "14' 0-3/4\"", 0.0),
            (-762.0, 16, "-2' 6\"", 0.0),
            (19.05, 8, "3/4\"", 0.0),
            (190.5, 2, "7-1/2\"", 0.0),
            (0.0, 16, "0\"", 0.0),
            (-0.1, 16, "0\"", 0.1),
            (3657.5, 16, "12' 0\"", 0.1),
            (304.0, 1, "1' 0\"", 0.8),
            (100.0, 0, "4\"", 1.6),
        ];
        for (mm, denominator, text, error) in cases {
            let f = feet_inches(mm, denominator);
            assert_eq!(f.text, text, "{mm}");
            assert!((f.error_mm - error).abs() < 0.005, "{mm}: {}", f.error_mm);
        }
        assert_eq!(feet_inches(f64::INFINITY, 16).text, "–");
        assert!(feet_inches(f64::NAN, 16).error_mm.is_nan());
    }

    proptest! {
        #![proptest_config(crate::seeds::cases(256))]
        #[test]
        fn reads_back(mm in -1e6..1e6f64, power in 0..7u32) {
            let f = feet_inches(mm, 1 << power);
            prop_assert!(f.error_mm.abs() <= INCH_MM / 2.0 / f64::from(1 << power) + 1e-9);
            prop_assert!((parse_length(&f.text).unwrap() - mm - f.error_mm).abs() < 1e-9, "{}", f.text);
        }
    }
}
