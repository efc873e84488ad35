//! Millimetres as text.

use super::{INCH_MM, Mm};

/// A no-break space between groups of three digits.
const GROUP: char = '\u{a0}';

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
    let digits =
        if decimals == 0 { format!("{:.0}", mm.abs().round()) } else { format!("{:.decimals$}", mm.abs()) };
    let (whole, rest) = digits.split_at(digits.find('.').unwrap_or(digits.len()));
    let mut text = String::new();
    if mm < 0.0 && digits.bytes().any(|b| (b'1'..=b'9').contains(&b)) {
        text.push('-');
    }
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
    let text = format!("{:+.2}", if inches { mm / INCH_MM } else { mm });
    let text = text.trim_end_matches('0').trim_end_matches('.');
    let text = if matches!(text, "+0" | "-0") { "0" } else { text };
    if inches { format!("{text}\"") } else { text.to_owned() }
}

/// A height that is left or, below 0, lacking: rounded down to tenths of a millimetre or hundredths of an inch, so that
/// what is left is never made more nor what lacks less; without its sign.
pub fn format_spare(mm: Mm, inches: bool) -> String {
    // a last digit of noise is no reason to go a step down
    let down = |v: f64, parts: f64| (v * parts + 1e-6).floor() / parts;
    let unit = if inches { INCH_MM } else { 1.0 };
    let rounded = down(mm / unit, if inches { 100.0 } else { 10.0 }) * unit;
    let text = format_height(rounded.abs(), inches);
    let text = text.trim_start_matches('+');
    if inches { text.to_owned() } else { format!("{text} mm") }
}

/// Two lengths to be read beside each other: whole millimetres, and decimals, up to three, until they differ when the
/// lengths do. Where three decimals are too few the smaller is rounded down and the larger up.
pub fn pair_to_show(have: Mm, need: Mm) -> (String, String) {
    let with = |decimals| (format_mm_exact(have, decimals), format_mm_exact(need, decimals));
    if have == need || !have.is_finite() || !need.is_finite() {
        return with(0);
    }
    if let Some(pair) = (0..=3).map(with).find(|(h, n)| h != n) {
        return pair;
    }
    let down = |x: f64| format_mm_exact((x * 1000.0).floor() / 1000.0, 3);
    let up = |x: f64| format_mm_exact((x * 1000.0).ceil() / 1000.0, 3);
    if have < need { (down(have), up(need)) } else { (up(have), down(need)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn heights_have_a_sign_and_no_more_decimals_than_they_need() {
        for (mm, inches, shown) in [
            (0.0, false, "0"),
            (-0.001, false, "0"),
            (-9.0, false, "-9"),
            (2.5, false, "+2.5"),
            (10.0, false, "+10"),
            (-2.54, true, "-0.1\""),
            (25.4, true, "+1\""),
            (0.0, true, "0\""),
        ] {
            assert_eq!(format_height(mm, inches), shown, "{mm}");
        }
    }

    #[test]
    fn what_is_left_is_rounded_down_and_what_lacks_up() {
        for (mm, inches, shown) in [
            (2.97, false, "2.9 mm"),
            (3.0, false, "3 mm"),
            (0.04, false, "0 mm"),
            (-1.21, false, "1.3 mm"),
            (25.5, true, "1\""),
            (25.3, true, "0.99\""),
            (-2.6, true, "0.11\""),
        ] {
            assert_eq!(format_spare(mm, inches), shown, "{mm}");
        }
    }

    #[test]
    fn whole_and_decimal() {
        let cases = [
            (12000.0, 0, "12\u{a0}000"),
            (1234567.4, 0, "1\u{a0}234\u{a0}567"),
            (-310.0, 0, "-310"),
            (-1000.0, 0, "-1\u{a0}000"),
            (599.5, 0, "600"),
            (-0.5, 0, "-1"),
            (-0.4, 0, "0"),
            (-0.04, 1, "0.0"),
            (999.96, 1, "1\u{a0}000.0"),
            (1438.721340467, 3, "1\u{a0}438.721"),
            (f64::NAN, 0, "–"),
        ];
        for (mm, decimals, text) in cases {
            assert_eq!(format_mm_exact(mm, decimals), text);
        }
        assert_eq!(format_mm(7505.7), "7\u{a0}506");
    }

    #[test]
    fn pairs_that_differ_look_different() {
        let cases = [
            (512.0, 600.0, "512", "600"),
            (600.0, 600.0, "600", "600"),
            (599.6, 600.0, "599.6", "600.0"),
            (599.97, 600.0, "599.97", "600.00"),
            (599.999, 600.0, "599.999", "600.000"),
            (599.99999, 600.0, "599.999", "600.000"),
            (600.0, 599.99999, "600.000", "599.999"),
            (600.0001, 600.0003, "600.000", "600.001"),
            (-0.0001, 0.0, "-0.001", "0.000"),
            (f64::NAN, 600.0, "–", "600"),
        ];
        for (have, need, h, n) in cases {
            assert_eq!(pair_to_show(have, need), (h.to_owned(), n.to_owned()));
        }
    }
}
