//! Cases of parse.

use proptest::prelude::*;

use super::*;
use crate::units::{format_mm, format_mm_exact};

#[test]
fn what_people_type() {
    // Inches by the exact 25.4 mm; the rest by hand.
    let cases = [
        ("24' 7-1/2\"", 7505.7),
        ("14' 3/4\"", 4286.25),
        ("14' 0-3/4\"", 4286.25),
        ("11ft 6-7/8in", 3527.425),
        ("11ft6-7/8in", 3527.425),
        ("11 FT. 6 7/8 IN.", 3527.425),
        ("24'-7 1/2\"", 7505.7),
        ("24' - 7 1/2\"", 7505.7),
        ("24’ 7½”", 7505.7),
        ("24′ 7 ½″", 7505.7),
        ("24'7.5''", 7505.7),
        ("2'6\"", 762.0),
        ("-2' 6\"", -762.0),
        ("2'", 609.6),
        ("2 feet", 609.6),
        ("14.75 ft", 4495.8),
        ("14 3/4'", 4495.8),
        ("7-1/2\"", 190.5),
        ("7 1/2 inches", 190.5),
        ("-7-1/2\"", -190.5),
        ("½\"", 12.7),
        ("9/8\"", 28.575),
        ("⅛ in", 3.175),
        ("3 m", 3000.0),
        ("3m", 3000.0),
        ("1.1 m", 1100.0),
        ("4.35 cm", 43.5),
        ("85 cm", 850.0),
        ("1,5 m", 1500.0),
        ("1,5", 1.5),
        ("1,25 m", 1250.0),
        ("0,1255 m", 125.5),
        (".5 m", 500.0),
        ("1500", 1500.0),
        ("-40", -40.0),
        ("−40 mm", -40.0),
        ("+40", 40.0),
        (" 40 ", 40.0),
        ("-0", 0.0),
        ("12 000", 12000.0),
        ("12\u{a0}000 mm", 12000.0),
        ("1\u{202f}234\u{202f}567.25", 1234567.25),
        ("100 127/128\"", 2565.2015625),
    ];
    for (text, mm) in cases {
        assert_eq!(parse_length(text), Ok(mm), "{text}");
    }
}

#[test]
fn what_cannot_be_read_without_doubt() {
    let cases = [
        ("24.7.5", "more than one decimal point"),
        ("7-1/2", "a fraction needs its unit"),
        ("1/2", "a fraction needs its unit"),
        ("12' 14\"", "12 inches or more"),
        ("12' 12\"", "12 inches or more"),
        ("3/0\"", "divides by zero"),
        ("", "nothing is written"),
        ("   ", "nothing is written"),
        ("-", "a number is missing"),
        ("NaN", "nan is not a unit"),
        ("inf", "inf is not a unit"),
        ("1e3", "e is not a unit"),
        ("1,500", "thousands or decimals"),
        ("1,500 m", "thousands or decimals"),
        ("1,500.5", "more than one comma or point"),
        ("1,2,3", "more than one comma or point"),
        ("3 m 2 in", "mixed"),
        ("3' 20 cm", "mixed"),
        ("2 in 3 mm", "mixed"),
        ("3 m 20 cm", "more after the unit"),
        ("24' 7", "the inches have no mark"),
        ("24' 7'", "feet are written twice"),
        ("7\" 2'", "more after the inches"),
        ("2' 6\" 3", "more after the inches"),
        ("2.5' 6\"", "must be whole"),
        ("2 1/2' 6\"", "must be whole"),
        ("7-9/8\"", "not smaller than one"),
        ("7.5-1/2\"", "a decimal number carries a fraction"),
        ("1.5/2\"", "not made of whole numbers"),
        ("7-\"", "not followed by a fraction"),
        ("3/\"", "not complete"),
        ("1/2 m", "only inches and feet"),
        ("12 34", "side by side"),
        ("0 500", "side by side"),
        ("m", "a number is missing"),
        (".", "a number is missing"),
        ("3 yd", "yd is not a unit"),
        ("3 µm", "is not a unit"),
        ("3°", "has no place"),
        ("--3", "a number is missing"),
        ("2'-", "a number is missing"),
        ("3 4 / 5 6\"", "the number is not followed by a unit"),
    ];
    for (text, part) in cases {
        let e = parse_length(text).expect_err(text);
        assert!(e.problem.contains(part), "{text}: {e}");
        assert!(!e.hint.is_empty());
        assert!(e.to_string().starts_with(&format!("cannot read \"{}\"", text.trim())));
    }
    let huge = "9".repeat(400);
    assert_eq!(parse_length(&huge).map_err(|e| e.problem), Err("the number is too large".to_owned()));
}

proptest! {
    #![proptest_config(crate::seeds::cases(256))]
    #[test]
    fn reads_what_is_printed(mm in -1e7..1e7f64) {
        prop_assert_eq!(parse_length(&format_mm(mm)), Ok(mm.round() + 0.0));
        prop_assert!((parse_length(&format_mm_exact(mm, 3)).unwrap() - mm).abs() < 0.00051);
        prop_assert_eq!(parse_length(&format!("{mm} mm")), Ok(mm));
    }

    #[test]
    fn never_panics(text in "[-+0-9.,/'\"a-z½ ]{0,12}|.{0,8}") {
        let read = parse_length(&text);
        prop_assert!(read.is_err() || read.is_ok_and(f64::is_finite));
    }
}
