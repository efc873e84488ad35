//! The RON reader's refusals in our own words: what stood there, what may stand there, and the place.

use ron::error::{Error, SpannedError};

use crate::model::words;

use super::phrases::{choice, expected, found, named, thing};
use super::scan::{Kind, Scan};

/// One refusal, understood: where it is, what to say, and how reading can go on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Explained {
    pub at: usize,
    pub text: String,
    pub hint: Option<String>,
    pub remedy: Remedy,
}

/// What to do to the text so that the next reading gets past this fault and finds the others.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Remedy {
    /// Read this token as another word.
    Rename(usize, String),
    /// Take out the smallest part around this token that can be missed.
    Leave(usize),
    /// Add a harmless value for a field that is missing from the bracket.
    Supply { open: usize, field: &'static str, outer: String },
    /// Put a comma before this token.
    Comma(usize),
    /// Read on as if this token were not there.
    Blank(usize),
}

/// Explains a refusal found in the part of the scanned text that starts at `base` (bytes).
pub fn explain(scan: &Scan, base: usize, error: &SpannedError) -> Explained {
    let part = scan.source.get(base..).unwrap_or_default();
    let end = base + offset(part, error.span.end.line, error.span.end.col);
    let last = scan.tokens.len().saturating_sub(1);
    let token = scan.token_at(end).unwrap_or(last);
    match &error.code {
        Error::NoSuchStructField { expected, found, outer } => {
            let token = find_back(scan, token, found);
            unknown_field(scan, token, found, expected, outer.as_deref())
        }
        Error::NoSuchEnumVariant { expected, found, .. } => {
            let token = find_back(scan, token, found);
            unknown_word(scan, token, found, expected)
        }
        Error::DuplicateStructField { field, outer } => {
            let token = find_back(scan, token, field);
            let text =
                format!("`{field}` is given twice in {}", thing(scan, scan.around(token), outer.as_deref()));
            leave(scan, token, text, Some("keep one of them".into()))
        }
        Error::MissingStructField { field, outer } => missing(scan, token, field, outer.as_deref()),
        Error::ExpectedDifferentLength { expected, found } => {
            let open = scan.around(token).unwrap_or(token);
            let text = match first_number(expected) {
                Some(n) => format!("expected {n} values in these brackets, found {found}"),
                None => format!("expected {expected}, found {found}"),
            };
            leave(scan, open, text, None)
        }
        Error::ExpectedStructLikeEnd if too_many(scan, token).is_some() => {
            let (open, wanted, found) = too_many(scan, token).unwrap_or((token, 0, 0));
            leave(scan, open, format!("expected {wanted} values in these brackets, found {found}"), None)
        }
        Error::ExpectedComma => no_comma(scan, token),
        _ if scan.tokens.get(token).is_some_and(|t| t.kind == Kind::Comma) => Explained {
            at: start(scan, token),
            text: format!(
                "expected a value before this comma, found {}",
                found(scan, token.saturating_sub(1))
            ),
            hint: Some("is there a comma too many?".into()),
            remedy: Remedy::Blank(token),
        },
        Error::ExpectedDifferentStructName { expected, found } => {
            let token = find_back(scan, token, found);
            Explained {
                at: start(scan, token),
                text: format!("expected {}, found `{found}`", named(expected)),
                hint: None,
                remedy: Remedy::Blank(token),
            }
        }
        Error::IntegerOutOfBounds | Error::InvalidIntegerDigit { .. } | Error::UnderscoreAtBeginning => {
            let start = base + offset(part, error.span.start.line, error.span.start.col);
            let token = scan.token_at(start).unwrap_or(token);
            leave(
                scan,
                token,
                format!("expected a whole number, 0 or more, found {}", found(scan, token)),
                None,
            )
        }
        Error::SuggestRawIdentifier(word) => {
            let text = match word.starts_with(|c: char| c.is_ascii_digit() || c == '-') {
                true => format!("expected a word, found `{word}`"),
                false => format!("expected a word of letters, digits and `_`, found `{word}`"),
            };
            leave(scan, token, text, None)
        }
        code => leave(scan, token, expected(scan, token, code), None),
    }
}

fn unknown_field(scan: &Scan, token: usize, found: &str, known: &[&str], outer: Option<&str>) -> Explained {
    let open = scan.around(token);
    let text = format!("{} has no field `{found}`", thing(scan, open, outer));
    let given: Vec<&str> = open.map_or(Vec::new(), |o| {
        let elements = scan.elements(o);
        elements.iter().filter_map(|e| scan.field_name(e)).collect()
    });
    let near = words::nearest(found, known.iter().copied());
    let remedy = match near.filter(|n| !given.contains(n)) {
        Some(near) => Remedy::Rename(token, near.into()),
        None => Remedy::Leave(token),
    };
    Explained { at: start(scan, token), text, hint: Some(choice(near, "the fields are", known)), remedy }
}

fn unknown_word(scan: &Scan, token: usize, found: &str, known: &[&str]) -> Explained {
    let near = words::nearest(found, known.iter().copied());
    Explained {
        at: start(scan, token),
        text: format!("`{found}` is not a word that may stand here"),
        hint: Some(choice(near, "the words are", known)),
        remedy: near.map_or(Remedy::Leave(token), |n| Remedy::Rename(token, n.into())),
    }
}

fn missing(scan: &Scan, token: usize, field: &'static str, outer: Option<&str>) -> Explained {
    let open = scan.around(token).unwrap_or(token);
    Explained {
        at: start(scan, open),
        text: format!("{} lacks the field `{field}`", thing(scan, Some(open), outer)),
        hint: None,
        remedy: Remedy::Supply { open, field, outer: outer.unwrap_or_default().into() },
    }
}

fn no_comma(scan: &Scan, token: usize) -> Explained {
    let close = scan.around(token).and_then(|o| scan.close(o)).map_or("", |c| scan.text(c));
    let text = format!("expected a comma or the closing `{close}`, found {}", found(scan, token));
    let starts = match scan.tokens.get(token).map(|t| t.kind) {
        Some(Kind::Open(_)) => true,
        Some(Kind::Word | Kind::Text) => scan.tokens.get(token + 1).is_some_and(|t| t.kind == Kind::Colon),
        _ => false,
    };
    let before = token.checked_sub(1).map_or("", |t| scan.text(t));
    if before.starts_with(|c: char| c.is_ascii_digit()) && !starts {
        let hint = "figures in files are plain numbers, in mm and degrees";
        return leave(scan, token, text, Some(hint.into()));
    }
    Explained {
        at: start(scan, token),
        text,
        hint: None,
        remedy: if starts { Remedy::Comma(token) } else { Remedy::Leave(token) },
    }
}

fn leave(scan: &Scan, token: usize, text: String, hint: Option<String>) -> Explained {
    Explained { at: start(scan, token), text, hint, remedy: Remedy::Leave(token) }
}

/// In a bracket without field names: the bracket, how many values were read before `token`, how many there are.
fn too_many(scan: &Scan, token: usize) -> Option<(usize, usize, usize)> {
    let open = scan.around(token)?;
    if scan.text(open) != "(" || scan.has_fields(open) {
        return None;
    }
    let elements = scan.elements(open);
    let read = elements.iter().filter(|e| e.last < token).count();
    (read < elements.len()).then_some((open, read, elements.len()))
}

fn first_number(text: &str) -> Option<usize> {
    let start = text.find(|c: char| c.is_ascii_digit())?;
    let digits = &text[start..];
    digits[..digits.find(|c: char| !c.is_ascii_digit()).unwrap_or(digits.len())].parse().ok()
}

fn start(scan: &Scan, token: usize) -> usize {
    scan.tokens.get(token).map_or(scan.source.len(), |t| t.at.start)
}

/// The token that is `word`, at `token` or before it.
fn find_back(scan: &Scan, token: usize, word: &str) -> usize {
    (0..=token).rev().take(8).find(|t| scan.text(*t) == word).unwrap_or(token)
}

/// Byte offset of a line and column (from 1, in characters) of a text.
fn offset(text: &str, line: usize, column: usize) -> usize {
    let mut start = 0;
    for _ in 1..line {
        match text[start..].find('\n') {
            Some(i) => start += i + 1,
            None => return text.len(),
        }
    }
    let rest = &text[start..];
    start + rest.char_indices().nth(column.saturating_sub(1)).map_or(rest.len(), |(i, _)| i)
}
