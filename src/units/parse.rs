//! Lengths as people type them.
//!
//! Read: a bare number (mm), one number with `mm`, `cm`, `m`, `in` or `ft`, and feet with inches; inches may carry a
//! fraction. What could be read in two ways is refused with a hint.

use std::fmt;

use super::Mm;

/// A text that cannot be read as a length without doubt.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LengthError {
    /// What was typed.
    pub text: String,
    /// What is wrong with it.
    pub problem: String,
    /// What to write instead.
    pub hint: String,
}

impl fmt::Display for LengthError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "cannot read \"{}\" as a length: {}; {}",
            self.text, self.problem, self.hint
        )
    }
}

impl std::error::Error for LengthError {}

/// Reads a length in millimetres: `1500`, `-40`, `85 cm`, `1,5 m`, `7-1/2"`, `24' 7-1/2"`, `11ft6-7/8in`.
///
/// The result is the nearest float to the length typed. A sign in front counts for the whole length. A decimal comma
/// is read unless three digits follow it. Digits may stand in groups of three with spaces between.
pub fn parse_length(text: &str) -> Result<Mm, LengthError> {
    read(text).map_err(|(problem, hint)| LengthError {
        text: text.trim().to_owned(),
        problem,
        hint: hint.to_owned(),
    })
}

/// What is wrong, and a hint.
type Fault = (String, &'static str);

const EXAMPLES: &str = "write for example 1500, 85 cm, 3 m or 24' 7-1/2\"";
const FRACTION: &str = "write a fraction of an inch like 7-1/2\" or 3/4\"";

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Unit {
    Mm,
    Cm,
    M,
    Inch,
    Foot,
}

#[derive(Clone, Debug, PartialEq)]
enum Token {
    /// Digits with at most one decimal point.
    Number(String),
    Slash,
    Hyphen,
    Unit(Unit),
}

/// A number before its unit: 7, 7.5, 7-1/2 or 1/2.
struct Amount {
    /// As digits, when there is no fraction.
    digits: String,
    fraction: Option<(f64, f64)>,
}

fn read(text: &str) -> Result<Mm, Fault> {
    let plain = plain(text);
    let mut rest = plain.trim();
    if rest.is_empty() {
        return Err(fault("nothing is written", EXAMPLES));
    }
    let negative = rest.starts_with('-');
    if negative || rest.starts_with('+') {
        rest = &rest[1..];
    }
    let tokens = tokens(rest)?;
    let mm = magnitude(&tokens)?;
    if !mm.is_finite() {
        return Err(fault("the number is too large", EXAMPLES));
    }
    Ok(if negative && mm > 0.0 { -mm } else { mm })
}

fn magnitude(tokens: &[Token]) -> Result<Mm, Fault> {
    let (amount, used) = amount(tokens)?;
    let rest = &tokens[used..];
    let Some((first, rest)) = rest.split_first() else {
        if amount.fraction.is_some() {
            return Err(fault("a fraction needs its unit", FRACTION));
        }
        return Ok(amount.shifted(0));
    };
    let Token::Unit(unit) = first else {
        return Err(fault("the number is not followed by a unit", EXAMPLES));
    };
    if let Unit::Mm | Unit::Cm | Unit::M = unit {
        if amount.fraction.is_some() {
            return Err(fault(
                "only inches and feet take a fraction",
                "write millimetres, centimetres and metres as decimals",
            ));
        }
        if !rest.is_empty() {
            let mixed = rest
                .iter()
                .any(|t| matches!(t, Token::Unit(Unit::Inch | Unit::Foot)));
            let problem = if mixed {
                "metric units and inches are mixed"
            } else {
                "there is more after the unit"
            };
            return Err(fault(problem, "write one number with one unit"));
        }
        return Ok(amount.shifted(match unit {
            Unit::Mm => 0,
            Unit::Cm => 1,
            _ => 3,
        }));
    }
    if rest
        .iter()
        .any(|t| matches!(t, Token::Unit(Unit::Mm | Unit::Cm | Unit::M)))
    {
        return Err(fault(
            "metric units and inches are mixed",
            "write one number with one unit",
        ));
    }
    if *unit == Unit::Inch {
        if !rest.is_empty() {
            return Err(fault(
                "there is more after the inches",
                "write feet first: 2' 6\"",
            ));
        }
        return Ok(inches_to_mm(amount.value()));
    }
    let rest = if rest.len() > 1 && rest[0] == Token::Hyphen {
        &rest[1..]
    } else {
        rest
    };
    if rest.is_empty() {
        return Ok(inches_to_mm(amount.value() * 12.0));
    }
    feet_and_inches(&amount, rest)
}

fn feet_and_inches(feet: &Amount, rest: &[Token]) -> Result<Mm, Fault> {
    if !feet.is_whole() {
        return Err(fault(
            "feet before inches must be whole",
            "write the inches alone or the feet alone with a fraction",
        ));
    }
    let (inches, used) = amount(rest)?;
    match &rest[used..] {
        [Token::Unit(Unit::Inch)] => {}
        [] => {
            return Err(fault(
                "the inches have no mark",
                "write them as 24' 7\" or 24 ft 7 in",
            ));
        }
        [Token::Unit(Unit::Foot), ..] => {
            return Err(fault(
                "feet are written twice",
                "write feet and inches like 24' 7\"",
            ));
        }
        _ => {
            return Err(fault(
                "there is more after the inches",
                "write feet and inches like 24' 7-1/2\"",
            ));
        }
    }
    if inches.value() >= 12.0 {
        return Err(fault(
            "12 inches or more stand beside the feet",
            "carry them over: 12' 14\" is 13' 2\"",
        ));
    }
    Ok(inches_to_mm(feet.value() * 12.0 + inches.value()))
}

impl Amount {
    fn value(&self) -> f64 {
        let (part, parts) = self.fraction.unwrap_or((0.0, 1.0));
        self.shifted(0) + part / parts
    }

    /// The number with its decimal point moved right, rounded once.
    fn shifted(&self, places: u32) -> f64 {
        // The digits were checked when the text was cut up.
        format!("{}e{places}", self.digits)
            .parse()
            .unwrap_or(f64::NAN)
    }

    fn is_whole(&self) -> bool {
        self.fraction.is_none() && !self.digits.contains('.')
    }
}

/// The number the tokens begin with, and how many tokens it takes.
fn amount(tokens: &[Token]) -> Result<(Amount, usize), Fault> {
    use Token::{Hyphen, Number, Slash};
    match tokens {
        [Number(n), Slash, Number(d), ..] => Ok((
            Amount {
                digits: "0".to_owned(),
                fraction: Some(fraction(n, d)?),
            },
            3,
        )),
        [Number(w), Hyphen, Number(n), Slash, Number(d), ..] => mixed(w, n, d, 5),
        [Number(w), Number(n), Slash, Number(d), ..] => mixed(w, n, d, 4),
        [Number(_), Number(_), ..] => Err(fault("two numbers stand side by side", EXAMPLES)),
        [Number(_), Hyphen, ..] => Err(fault("the hyphen is not followed by a fraction", FRACTION)),
        [Number(_), Slash, ..] => Err(fault("the fraction is not complete", FRACTION)),
        [Number(w), ..] => Ok((
            Amount {
                digits: w.clone(),
                fraction: None,
            },
            1,
        )),
        _ => Err(fault("a number is missing", EXAMPLES)),
    }
}

fn mixed(whole: &str, part: &str, parts: &str, used: usize) -> Result<(Amount, usize), Fault> {
    let (part, parts) = fraction(part, parts)?;
    if whole.contains('.') {
        return Err(fault("a decimal number carries a fraction", FRACTION));
    }
    if part >= parts {
        return Err(fault(
            "the fraction beside a whole number is not smaller than one",
            FRACTION,
        ));
    }
    Ok((
        Amount {
            digits: whole.to_owned(),
            fraction: Some((part, parts)),
        },
        used,
    ))
}

fn fraction(part: &str, parts: &str) -> Result<(f64, f64), Fault> {
    let whole = |s: &str| {
        if s.contains('.') {
            None
        } else {
            s.parse::<f64>().ok()
        }
    };
    let (Some(part), Some(parts)) = (whole(part), whole(parts)) else {
        return Err(fault("the fraction is not made of whole numbers", FRACTION));
    };
    if parts == 0.0 {
        return Err(fault("the fraction divides by zero", FRACTION));
    }
    Ok((part, parts))
}

/// Multiplies by 25.4 with one rounding for every length that has a short decimal.
fn inches_to_mm(inches: f64) -> Mm {
    inches * 254.0 / 10.0
}

/// The text with typographic marks replaced by the plain ones.
fn plain(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            '′' | '’' | '‘' | '`' | '´' => out.push('\''),
            '″' | '”' | '“' | '„' => out.push('"'),
            '−' | '–' | '‐' | '‑' => out.push('-'),
            '⁄' | '∕' => out.push('/'),
            c if c.is_whitespace() => out.push(' '),
            c => match vulgar(c) {
                Some(f) => out += &format!(" {f} "),
                None => out.extend(c.to_lowercase()),
            },
        }
    }
    out.replace("''", "\"")
}

fn vulgar(c: char) -> Option<&'static str> {
    Some(match c {
        '½' => "1/2",
        '¼' => "1/4",
        '¾' => "3/4",
        '⅛' => "1/8",
        '⅜' => "3/8",
        '⅝' => "5/8",
        '⅞' => "7/8",
        '⅓' => "1/3",
        '⅔' => "2/3",
        _ => return None,
    })
}

fn tokens(text: &str) -> Result<Vec<Token>, Fault> {
    let chars: Vec<char> = text.chars().collect();
    let mut out: Vec<Token> = Vec::new();
    let mut i = 0;
    while i < chars.len() {
        let start = i;
        let run = |of: &dyn Fn(char) -> bool| chars[start..].iter().take_while(|c| of(**c)).count();
        let c = chars[i];
        if c == ' ' {
            i += 1;
        } else if c.is_ascii_digit() || c == '.' || c == ',' {
            i += run(&|c| c.is_ascii_digit() || c == '.' || c == ',');
            let mut written: String = chars[start..i].iter().collect();
            i += thousands(&chars, i, &mut written);
            out.push(Token::Number(number(&written)?));
        } else if c.is_alphabetic() {
            i += run(&char::is_alphabetic);
            let word: String = chars[start..i].iter().collect();
            if chars.get(i) == Some(&'.') && matches!(word.as_str(), "in" | "ft") {
                i += 1;
            }
            out.push(Token::Unit(unit(&word)?));
        } else {
            i += 1;
            out.push(match c {
                '\'' => Token::Unit(Unit::Foot),
                '"' => Token::Unit(Unit::Inch),
                '/' => Token::Slash,
                '-' => Token::Hyphen,
                _ => {
                    return Err(fault(
                        &format!("the character {c} has no place in it"),
                        EXAMPLES,
                    ));
                }
            });
        }
    }
    Ok(out)
}

/// Appends groups of exactly three digits that follow after one space each, as in 12 000; how many characters.
fn thousands(chars: &[char], from: usize, written: &mut String) -> usize {
    if written.len() > 3 || !written.bytes().all(|b| b.is_ascii_digit()) || written.starts_with('0')
    {
        return 0;
    }
    let mut i = from;
    let mut grouped = written.clone();
    while chars.get(i) == Some(&' ') {
        let digits = chars[i + 1..]
            .iter()
            .take_while(|c| c.is_ascii_digit())
            .count();
        if digits != 3 {
            break;
        }
        grouped.extend(&chars[i + 1..i + 4]);
        i += 4;
    }
    // What looks like a group may be the upper part of a fraction.
    if i == from || chars.get(i) == Some(&'/') {
        return 0;
    }
    if chars.get(i) == Some(&'.') {
        let decimals = chars[i + 1..]
            .iter()
            .take_while(|c| c.is_ascii_digit())
            .count();
        grouped.extend(&chars[i..=i + decimals]);
        i += 1 + decimals;
    }
    *written = grouped;
    i - from
}

/// Checks the digits and turns a decimal comma into a point.
fn number(written: &str) -> Result<String, Fault> {
    let count = |c: char| written.matches(c).count();
    let (points, commas) = (count('.'), count(','));
    if points > 1 {
        return Err(fault(
            "it has more than one decimal point",
            "if feet and inches are meant write 24' 7-1/2\", else one decimal point, as in 24.75",
        ));
    }
    if commas > 1 || (commas == 1 && points == 1) {
        return Err(fault(
            "it has more than one comma or point",
            "write thousands without a mark, as in 1500",
        ));
    }
    if let Some((_, after)) = written.split_once(',')
        && after.len() == 3
    {
        return Err(fault(
            "the comma may mean thousands or decimals",
            "write 1500 or 1.5 instead of 1,500",
        ));
    }
    if !written.bytes().any(|b| b.is_ascii_digit()) {
        return Err(fault("a number is missing", EXAMPLES));
    }
    Ok(written.replace(',', "."))
}

fn unit(word: &str) -> Result<Unit, Fault> {
    match word {
        "mm" => Ok(Unit::Mm),
        "cm" => Ok(Unit::Cm),
        "m" => Ok(Unit::M),
        "in" | "inch" | "inches" => Ok(Unit::Inch),
        "ft" | "foot" | "feet" => Ok(Unit::Foot),
        _ => Err(fault(
            &format!("{word} is not a unit known here"),
            "the units are mm, cm, m, in and ft",
        )),
    }
}

fn fault(problem: &str, hint: &'static str) -> Fault {
    (problem.to_owned(), hint)
}

#[cfg(test)]
mod tests {
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
            assert!(
                e.to_string()
                    .starts_with(&format!("cannot read \"{}\"", text.trim()))
            );
        }
        let huge = "9".repeat(400);
        assert_eq!(
            parse_length(&huge).map_err(|e| e.problem),
            Err("the number is too large".to_owned())
        );
    }

    proptest! {
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
}
