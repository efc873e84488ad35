//! Cases of show.

use proptest::prelude::*;

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
    // 12.9 mm are 8.13 sixteenths of an inch, 12.1 are 7.62
    for (shown, text) in [
        (Show::Mm.down(12.9), "12 mm"),
        (Show::Mm.up(12.1), "13 mm"),
        (Show::Mm.up(-3.0), "0 mm"),
        (Show::Mm.down(-0.0), "0 mm"),
        (Show::FeetInches.down(12.9), "1/2\" (12 mm)"),
        (Show::FeetInches.up(12.1), "1/2\" (13 mm)"),
        (Show::FeetInches.down(12.1), "7/16\" (12 mm)"),
        (Show::FeetInches.one(12.1), "1/2\" (12 mm)"),
    ] {
        assert_eq!(shown, text);
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
    for (mm, shown) in
        [(5400.0, "5\u{a0}400"), (12.5, "12.5"), (12.25, "12.25"), (12.3456, "12.35"), (-3.0, "-3")]
    {
        assert_eq!(Show::Mm.exact(mm), shown);
    }
    assert_eq!(Show::FeetInches.exact(304.8), "1' 0\"");
    assert_eq!(Show::Mm.drawn(12000.0), "12\u{202f}000");
    assert_eq!(Show::Mm.drawn(0.4), "0");
    assert_eq!(Show::FeetInches.drawn(3657.6), "12' 0\"");
}

const WHOLE: Put = Put { decimals: 0, round: Round::Nearest, bare: true };

#[test]
fn what_is_there_beside_what_is_asked() {
    // 600 mm are 377.95 sixteenths: 23-5/8 in are 378. 609.2 mm are 383.75, 609.6 are 24 in
    for (show, have, need, most, h, n) in [
        (Show::Mm, 512.7, 600.0, false, "512", "600"),
        (Show::Mm, 600.0, 600.0, false, "600", "600"),
        (Show::Mm, 599.6, 600.0, false, "599", "600"),
        (Show::Mm, 599.999_99, 600.0, false, "599", "600"),
        (Show::Mm, -20.4, 600.0, false, "-21", "600"),
        (Show::Mm, 30.2, 20.0, true, "31", "20"),
        (Show::Mm, 19.2, 20.0, true, "20", "20"),
        (Show::Mm, f64::NAN, 600.0, false, "–", "600"),
        (Show::FeetInches, 304.8, 609.6, false, "1' 0\"", "2' 0\""),
        (Show::FeetInches, 609.2, 609.6, false, "1' 11-15/16\"", "2' 0\""),
        (Show::FeetInches, 600.0, 600.0, false, "1' 11-9/16\"", "1' 11-9/16\""),
        (Show::FeetInches, 599.9, 600.0, false, "1' 11-9/16\"", "1' 11-5/8\""),
        (Show::FeetInches, 20.0, 20.0, true, "13/16\"", "13/16\""),
        (Show::FeetInches, 5.0, 5.0, true, "1/4\"", "1/4\""),
    ] {
        assert_eq!(show.pair(have, need, most, WHOLE), (h.to_owned(), n.to_owned()), "{have} {need}");
    }
    let tenths = Put { decimals: 1, ..WHOLE };
    assert_eq!(Show::Mm.pair(609.6, 609.6, false, tenths), ("609.6".to_owned(), "609.6".to_owned()));
    assert_eq!([decimals_of(600.0, 3), decimals_of(609.6, 3), decimals_of(1.0 / 3.0, 3)], [0, 1, 3]);
}

proptest! {
    #![proptest_config(crate::seeds::cases(256))]
    /// Read back with the program's own reader, nothing looks better than it is, and what fails never looks as if it
    /// passed.
    #[test]
    fn no_figure_promises_more(have in -900.0..900.0f64, need in 0.0..900.0f64, whole in any::<bool>(), near in any::<bool>()) {
        let need = if whole { need.round() } else { need };
        let have = if near { need + have / 900.0 } else { have };
        for show in [Show::Mm, Show::FeetInches] {
            let put = Put { decimals: decimals_of(need, 3), ..WHOLE };
            let read = |text: &str| crate::units::parse_length(&text.replace(THIN, "")).unwrap();
            let (h, n) = show.pair(have, need, false, put);
            prop_assert!(read(&h) <= have + 1e-3, "{have} {h}");
            prop_assert_eq!(read(&h) >= read(&n) - 1e-9, have >= need - NOISE_MM, "{} {} {} {}", have, need, h, n);
            let (h, n) = show.pair(have, need, true, put);
            prop_assert!(read(&h) >= have - 1e-3, "{have} {h}");
            prop_assert_eq!(read(&h) <= read(&n) + 1e-9, have <= need + NOISE_MM, "{} {} {} {}", have, need, h, n);
            let one = |round| read(&show.put(have, Put { decimals: 0, round, bare: true }));
            prop_assert!(one(Round::Down) <= have + 1e-5);
            prop_assert!(one(Round::Up) >= have - 1e-5);
        }
    }
}
