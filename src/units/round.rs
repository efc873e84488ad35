//! The one rule by which every figure shown is rounded.

/// Which way a figure is rounded. What is left goes down and what is short goes up, so that no figure shown promises
/// more than there is; a figure that is neither goes to the nearest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Round {
    Down,
    /// Halves away from zero.
    Nearest,
    Up,
}

/// A last digit of arithmetic is no reason to go a step on: this share of a step.
const NOISE: f64 = 1e-6;

impl Round {
    /// How many steps of this size a figure makes. Never negative zero; what is not finite stays as it is.
    pub fn steps(self, v: f64, step: f64) -> f64 {
        let steps = v / step;
        let whole = match self {
            Round::Down => (steps + NOISE).floor(),
            Round::Nearest => steps.round(),
            Round::Up => (steps - NOISE).ceil(),
        };
        whole + 0.0
    }
}

/// A figure with this many decimals at most and no zeros behind: `12`, `12.5`, `-0.25`; never `-0`.
pub fn format_number(v: f64, decimals: usize, round: Round) -> String {
    let text = format_fixed(v, decimals, round);
    match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    }
}

/// A figure with just this many decimals: `12.50`; never `-0.00`.
pub fn format_fixed(v: f64, decimals: usize, round: Round) -> String {
    let parts = 10f64.powi(decimals as i32);
    let v = if round == Round::Nearest { v } else { round.steps(v, 1.0 / parts) / parts };
    // no decimals: halves away from zero, which `format` alone does not do
    let text = if decimals == 0 { format!("{:.0}", v.round()) } else { format!("{v:.decimals$}") };
    match text.strip_prefix('-') {
        Some(zero) if !zero.bytes().any(|b| (b'1'..=b'9').contains(&b)) => zero.to_owned(),
        _ => text,
    }
}

#[cfg(test)]
mod tests {
    use super::Round::{Down, Nearest, Up};
    use super::*;

    #[test]
    fn what_is_left_goes_down_what_is_short_up_and_zero_has_no_sign() {
        for (v, decimals, round, text) in [
            (12.9, 0, Down, "12"),
            (12.1, 0, Up, "13"),
            (12.5, 0, Nearest, "13"),
            (-0.4, 0, Nearest, "0"),
            (-0.4, 0, Up, "0"),
            (-0.4, 0, Down, "-1"),
            (0.0, 0, Down, "0"),
            (-0.0, 0, Down, "0"),
            // noise of the arithmetic is no step
            (12.999_999_999_9, 0, Down, "13"),
            (12.000_000_000_1, 0, Up, "12"),
            (2.97, 1, Down, "2.9"),
            (1.21, 1, Up, "1.3"),
            (-0.004, 2, Nearest, "0.00"),
            (-0.004, 2, Down, "-0.01"),
            (8.128, 2, Down, "8.12"),
            (f64::NAN, 1, Up, "NaN"),
        ] {
            assert_eq!(format_fixed(v, decimals, round), text, "{v}");
        }
        assert_eq!(format_number(702.5, 4, Nearest), "702.5");
        assert_eq!(format_number(700.0, 4, Nearest), "700");
        assert_eq!(format_number(-0.00001, 4, Nearest), "0");
        assert_eq!(format_number(-2.0, 0, Nearest), "-2");
    }
}
