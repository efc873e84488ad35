//! Lengths and angles: their units, how people type them and how they are printed.
//!
//! Inside, every length is in millimetres and every angle outside a calculation in degrees. One inch is exactly
//! 25.4 mm (the international yard and pound agreement of 1959; from memory).

mod feet;
mod parse;
mod printable;
mod round;
mod show;
mod tokens;

pub use feet::{FeetInches, feet_inches};
pub use parse::{LengthError, parse_length};
pub use printable::{is_unprintable, printable, printable_json, printable_lines};
pub use round::{Round, format_fixed, format_number};
pub use show::{Put, Show, decimals_of, format_height, format_mm, format_mm_exact, format_spare};

/// A length in millimetres.
pub type Mm = f64;
/// An angle in degrees, anticlockwise positive.
pub type Deg = f64;

/// Millimetres in an inch, exactly.
pub const INCH_MM: Mm = 25.4;

/// The same direction in [0, 360). An angle that is not finite gives NaN.
pub fn norm_deg(d: Deg) -> Deg {
    let turned = d.rem_euclid(360.0);
    // A tiny negative angle is rounded up to a full turn.
    if turned >= 360.0 { 0.0 } else { turned + 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn directions() {
        for (d, n) in [(0.0, 0.0), (360.0, 0.0), (-90.0, 270.0), (725.5, 5.5), (-720.0, 0.0), (-1e-20, 0.0)] {
            assert_eq!(norm_deg(d), n);
            assert!(norm_deg(d).is_sign_positive());
        }
        assert!(norm_deg(f64::INFINITY).is_nan());
    }
}
