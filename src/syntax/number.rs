//! Numbers as RON spells them.

/// The value of a number as it is spelt: a sign, digits with `_` between them, a point, an exponent; `inf` and
/// `NaN`. `None` for anything else.
pub fn number(text: &str) -> Option<f64> {
    let (sign, rest) = match text.as_bytes().first()? {
        b'-' => (-1.0, &text[1..]),
        b'+' => (1.0, &text[1..]),
        _ => (1.0, text),
    };
    match rest {
        "inf" => return Some(sign * f64::INFINITY),
        "NaN" => return Some(f64::NAN),
        _ => {}
    }
    let first = rest.bytes().find(|b| *b != b'.')?;
    if !first.is_ascii_digit() {
        return None;
    }
    // what `f64` reads besides numbers has letters
    let digits = rest.bytes().all(|b| matches!(b, b'0'..=b'9' | b'.' | b'_' | b'e' | b'E' | b'+' | b'-'));
    if !digits {
        return None;
    }
    let value = if rest.contains('_') { rest.replace('_', "").parse::<f64>() } else { rest.parse::<f64>() };
    value.ok().map(|v| sign * v)
}

#[cfg(test)]
mod tests {
    use super::number;

    #[test]
    fn numbers_are_read_as_ron_reads_them() {
        for text in [
            "0",
            "-0",
            "12",
            "+12",
            "-12.5",
            ".5",
            "5.",
            "1e3",
            "1E-3",
            "1_000",
            "1_000.5",
            "inf",
            "-inf",
            "9007199254740993",
            "1e400",
        ] {
            let theirs = ron::from_str::<f64>(text).unwrap_or_else(|e| panic!("{text}: {e}"));
            assert_eq!(number(text), Some(theirs), "{text}");
        }
        assert!(number("NaN").is_some_and(f64::is_nan));
        for text in
            ["", "-", "+", ".", "1.2.3", "12mm", "1e", "e5", "infinity", "nan", "0x1F", "--1", "_1", "1-2"]
        {
            assert_eq!(number(text), None, "{text}");
        }
    }
}
