//! Figures as they are shown and read in fields.

use crate::app::widgets::text_field::TextField;
use crate::model::num::LARGEST;
use crate::units::{Round, Show, feet_inches, format_number, parse_length};

/// Width of a field for one figure.
pub(crate) const WIDTH: f32 = 104.0;

/// A length as it stands in a row: with the decimals it has, two at most; or feet and inches.
pub(crate) fn length(mm: f64, feet: bool) -> String {
    Show::of(feet).exact(mm)
}

/// A length as one would type it.
fn plain_length(mm: f64, feet: bool) -> String {
    let text = feet_inches(mm, 16);
    if feet && text.error_mm.abs() < 1e-9 { text.text } else { format_number(mm, 3, Round::Nearest) }
}

/// A field for a length.
pub(crate) fn length_field(label: &str, mm: f64, feet: bool, width: f32) -> TextField<'_> {
    TextField {
        label,
        shown: length(mm, feet),
        plain: plain_length(mm, feet),
        hint: "mm",
        width,
        figure: true,
    }
}

/// A field for a length that is not there yet.
pub(crate) fn empty_field<'a>(label: &'a str, hint: &'a str, width: f32) -> TextField<'a> {
    TextField { label, shown: String::new(), plain: String::new(), hint, width, figure: true }
}

/// A field for an angle or a figure of another unit.
pub(crate) fn number_field<'a>(label: &'a str, value: f64, unit: &str, hint: &'a str) -> TextField<'a> {
    let text = number(value);
    let gap = if unit == "°" { "" } else { " " };
    TextField { label, shown: format!("{text}{gap}{unit}"), plain: text, hint, width: WIDTH, figure: true }
}

/// A number with up to four decimals, no more than it needs.
pub(crate) fn number(value: f64) -> String {
    format_number(value, 4, Round::Nearest)
}

/// A length in any unit, or why it cannot be read.
pub(crate) fn read_length(text: &str) -> Result<f64, String> {
    if text.is_empty() {
        return Err("type a length, such as 1500, 1.5 m or 4' 11\"".into());
    }
    match parse_length(text) {
        Ok(mm) if mm.abs() > LARGEST => Err(format!("\"{text}\" is more than one kilometre")),
        Ok(mm) => Ok(mm),
        Err(e) => Err(e.to_string()),
    }
}

/// A number, with its unit or without.
pub(crate) fn read_number(text: &str, unit: &str) -> Result<f64, String> {
    let bare = text.strip_suffix(unit).unwrap_or(text).trim();
    let bare = if unit == "°" { bare.strip_suffix("deg").unwrap_or(bare).trim() } else { bare };
    let value = bare.replace(',', ".").parse::<f64>().ok().filter(|v| v.is_finite());
    value.ok_or_else(|| format!("cannot read \"{text}\" as a number in {unit}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_shown_as_exactly_as_they_need() {
        for (mm, shown) in
            [(5400.0, "5\u{a0}400"), (12.5, "12.5"), (12.25, "12.25"), (12.3456, "12.35"), (-3.0, "-3")]
        {
            assert_eq!(length(mm, false), shown);
        }
        assert_eq!(length(304.8, true), "1' 0\"");
    }

    #[test]
    fn what_a_field_offers_to_change_reads_back_the_same() {
        for mm in [0.0, 5400.0, 1438.721, 304.8, -12.5] {
            for feet in [false, true] {
                assert!((read_length(&plain_length(mm, feet)).unwrap() - mm).abs() < 1e-9, "{mm} {feet}");
            }
        }
    }

    #[test]
    fn a_length_no_file_could_hold_is_not_taken() {
        assert_eq!(read_length("1000 m"), Ok(1e6));
        assert!(read_length("1000.001 m").unwrap_err().contains("more than one kilometre"));
    }

    #[test]
    fn numbers_with_units() {
        for (text, unit, value) in
            [("0.15°", "°", 0.15), ("-0,1 deg", "°", -0.1), ("12 V", "V", 12.0), ("7", "bar", 7.0)]
        {
            assert_eq!(read_number(text, unit), Ok(value), "{text}");
        }
        for text in ["", "a", "1..2", "nan", "inf"] {
            assert!(read_number(text, "°").is_err(), "{text}");
        }
        assert_eq!(number(-0.00001), "0");
        assert_eq!(number(0.1250), "0.125");
    }
}
