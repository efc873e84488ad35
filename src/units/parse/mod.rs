//! Lengths as people type them.
//!
//! Read: a bare number (mm), one number with `mm`, `cm`, `m`, `in` or `ft`, and feet with inches; inches may carry a
//! fraction. What could be read in two ways is refused with a hint.

use std::fmt;

use super::Mm;
use super::tokens::{EXAMPLES, Fault, Token, Unit, fault, plain, tokens};

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
        write!(f, "cannot read \"{}\" as a length: {}; {}", self.text, self.problem, self.hint)
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

const FRACTION: &str = "write a fraction of an inch like 7-1/2\" or 3/4\"";

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
            let mixed = rest.iter().any(|t| matches!(t, Token::Unit(Unit::Inch | Unit::Foot)));
            let problem =
                if mixed { "metric units and inches are mixed" } else { "there is more after the unit" };
            return Err(fault(problem, "write one number with one unit"));
        }
        return Ok(amount.shifted(match unit {
            Unit::Mm => 0,
            Unit::Cm => 1,
            _ => 3,
        }));
    }
    if rest.iter().any(|t| matches!(t, Token::Unit(Unit::Mm | Unit::Cm | Unit::M))) {
        return Err(fault("metric units and inches are mixed", "write one number with one unit"));
    }
    if *unit == Unit::Inch {
        if !rest.is_empty() {
            return Err(fault("there is more after the inches", "write feet first: 2' 6\""));
        }
        return Ok(inches_to_mm(amount.value()));
    }
    let rest = if rest.len() > 1 && rest[0] == Token::Hyphen { &rest[1..] } else { rest };
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
            return Err(fault("the inches have no mark", "write them as 24' 7\" or 24 ft 7 in"));
        }
        [Token::Unit(Unit::Foot), ..] => {
            return Err(fault("feet are written twice", "write feet and inches like 24' 7\""));
        }
        _ => {
            return Err(fault("there is more after the inches", "write feet and inches like 24' 7-1/2\""));
        }
    }
    if inches.value() >= 12.0 {
        return Err(fault("12 inches or more stand beside the feet", "carry them over: 12' 14\" is 13' 2\""));
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
        format!("{}e{places}", self.digits).parse().unwrap_or(f64::NAN)
    }

    fn is_whole(&self) -> bool {
        self.fraction.is_none() && !self.digits.contains('.')
    }
}

/// The number the tokens begin with, and how many tokens it takes.
fn amount(tokens: &[Token]) -> Result<(Amount, usize), Fault> {
    use Token::{Hyphen, Number, Slash};
    match tokens {
        [Number(n), Slash, Number(d), ..] => {
            Ok((Amount { digits: "0".to_owned(), fraction: Some(fraction(n, d)?) }, 3))
        }
        [Number(w), Hyphen, Number(n), Slash, Number(d), ..] => mixed(w, n, d, 5),
        [Number(w), Number(n), Slash, Number(d), ..] => mixed(w, n, d, 4),
        [Number(_), Number(_), ..] => Err(fault("two numbers stand side by side", EXAMPLES)),
        [Number(_), Hyphen, ..] => Err(fault("the hyphen is not followed by a fraction", FRACTION)),
        [Number(_), Slash, ..] => Err(fault("the fraction is not complete", FRACTION)),
        [Number(w), ..] => Ok((Amount { digits: w.clone(), fraction: None }, 1)),
        _ => Err(fault("a number is missing", EXAMPLES)),
    }
}

fn mixed(whole: &str, part: &str, parts: &str, used: usize) -> Result<(Amount, usize), Fault> {
    let (part, parts) = fraction(part, parts)?;
    if whole.contains('.') {
        return Err(fault("a decimal number carries a fraction", FRACTION));
    }
    if part >= parts {
        return Err(fault("the fraction beside a whole number is not smaller than one", FRACTION));
    }
    Ok((Amount { digits: whole.to_owned(), fraction: Some((part, parts)) }, used))
}

fn fraction(part: &str, parts: &str) -> Result<(f64, f64), Fault> {
    let whole = |s: &str| {
        if s.contains('.') { None } else { s.parse::<f64>().ok() }
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

#[cfg(test)]
mod tests;
