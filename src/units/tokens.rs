//! A typed length cut into numbers, units and marks.

/// What is wrong, and a hint.
pub(super) type Fault = (String, &'static str);

pub(super) const EXAMPLES: &str = "write for example 1500, 85 cm, 3 m or 24' 7-1/2\"";
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Unit {
    Mm,
    Cm,
    M,
    Inch,
    Foot,
}

#[derive(Clone, Debug, PartialEq)]
pub(super) enum Token {
    /// Digits with at most one decimal point.
    Number(String),
    Slash,
    Hyphen,
    Unit(Unit),
}

/// The text with typographic marks replaced by the plain ones.
pub(super) fn plain(text: &str) -> String {
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

pub(super) fn tokens(text: &str) -> Result<Vec<Token>, Fault> {
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
                    return Err(fault(&format!("the character {c} has no place in it"), EXAMPLES));
                }
            });
        }
    }
    Ok(out)
}

/// Appends groups of exactly three digits that follow after one space each, as in 12 000; how many characters.
fn thousands(chars: &[char], from: usize, written: &mut String) -> usize {
    if written.len() > 3 || !written.bytes().all(|b| b.is_ascii_digit()) || written.starts_with('0') {
        return 0;
    }
    let mut i = from;
    let mut grouped = written.clone();
    while chars.get(i) == Some(&' ') {
        let digits = chars[i + 1..].iter().take_while(|c| c.is_ascii_digit()).count();
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
        let decimals = chars[i + 1..].iter().take_while(|c| c.is_ascii_digit()).count();
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
        return Err(fault("the comma may mean thousands or decimals", "write 1500 or 1.5 instead of 1,500"));
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
        _ => Err(fault(&format!("{word} is not a unit known here"), "the units are mm, cm, m, in and ft")),
    }
}

pub(super) fn fault(problem: &str, hint: &'static str) -> Fault {
    (problem.to_owned(), hint)
}
