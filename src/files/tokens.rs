//! A text cut into tokens, each with its place; every bracket knows its partner.

use std::ops::Range;

/// One token; blanks and comments lie between tokens.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Token {
    pub kind: Kind,
    pub at: Range<usize>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// An opening bracket and the index of the token that closes it.
    Open(usize),
    /// A closing bracket and the index of the token it closes.
    Close(usize),
    Comma,
    Colon,
    /// A text in quotes.
    Text,
    /// A name, a word or a number: letters, digits, `_`, and in numbers signs and points.
    Word,
    Other,
}

/// A text that has no tokens: where and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Broken {
    pub at: usize,
    pub text: String,
    pub hint: Option<String>,
}

/// The tokens of a text, its brackets paired; or what is never closed.
pub fn tokens(source: &str) -> Result<Vec<Token>, Broken> {
    let mut tokens = cut(source)?;
    pair(source, &mut tokens)?;
    Ok(tokens)
}

fn cut(source: &str) -> Result<Vec<Token>, Broken> {
    let mut tokens = Vec::new();
    let mut at = 0;
    let mut long_text: Option<usize> = None;
    while let Some(c) = source[at..].chars().next() {
        let rest = &source[at..];
        let (kind, len) = if c.is_whitespace() || is_blank(c) {
            at += c.len_utf8();
            continue;
        } else if rest.starts_with("//") {
            at += rest.find('\n').unwrap_or(rest.len());
            continue;
        } else if rest.starts_with("/*") {
            at += block_comment(rest)
                .ok_or_else(|| broken(at, "this comment is never closed", "close it with */"))?;
            continue;
        } else if let Some(len) = text_len(rest) {
            let Some(len) = len else {
                let at = long_text.unwrap_or(at);
                return Err(broken(at, "this text in quotes is never closed", "close it with \""));
            };
            if rest[..len].contains('\n') {
                long_text.get_or_insert(at);
            }
            (Kind::Text, len)
        } else {
            match c {
                '(' | '[' | '{' => (Kind::Open(0), 1),
                ')' | ']' | '}' => (Kind::Close(0), 1),
                ',' => (Kind::Comma, 1),
                ':' => (Kind::Colon, 1),
                _ => word_or_other(rest, c),
            }
        };
        tokens.push(Token { kind, at: at..at + len });
        at += len;
    }
    Ok(tokens)
}

/// Blanks that RON knows besides the usual ones.
fn is_blank(c: char) -> bool {
    matches!(c, '\u{200E}' | '\u{200F}')
}

fn broken(at: usize, text: &str, hint: &str) -> Broken {
    Broken { at, text: text.into(), hint: Some(hint.into()) }
}

/// Length of the comment `rest` starts with; comments nest.
fn block_comment(rest: &str) -> Option<usize> {
    let bytes = rest.as_bytes();
    let mut depth = 0;
    let mut at = 0;
    while let Some(two) = bytes.get(at..at + 2) {
        match two {
            b"/*" => depth += 1,
            b"*/" => depth -= 1,
            _ => {
                at += 1;
                continue;
            }
        }
        at += 2;
        if depth == 0 {
            return Some(at);
        }
    }
    None
}

/// `Some(length)` when `rest` starts with a text in quotes, the length `None` when it is never closed.
fn text_len(rest: &str) -> Option<Option<usize>> {
    let plain = rest.strip_prefix("b\"").map(|_| 2).or_else(|| rest.strip_prefix('"').map(|_| 1));
    if let Some(start) = plain {
        let mut escaped = false;
        for (i, c) in rest[start..].char_indices() {
            match c {
                _ if escaped => escaped = false,
                '\\' => escaped = true,
                '"' => return Some(Some(start + i + 1)),
                _ => {}
            }
        }
        return Some(None);
    }
    if let Some(after) = rest.strip_prefix('\'') {
        let mut chars = after.chars();
        let first = chars.next()?;
        let len = first.len_utf8();
        return (first != '\\' && chars.next() == Some('\'')).then_some(Some(1 + len + 1));
    }
    let after = rest.strip_prefix("br").or_else(|| rest.strip_prefix('r'))?;
    let hashes = after.len() - after.trim_start_matches('#').len();
    let body = after[hashes..].strip_prefix('"')?;
    let end = format!("\"{}", "#".repeat(hashes));
    let start = rest.len() - body.len();
    Some(body.find(&end).map(|i| start + i + end.len()))
}

fn word_or_other(rest: &str, c: char) -> (Kind, usize) {
    let number = c.is_ascii_digit() || matches!(c, '+' | '-' | '.');
    let part = |c: char| c.is_alphanumeric() || c == '_' || (number && matches!(c, '.' | '+' | '-'));
    let len = rest.find(|c| !part(c)).unwrap_or(rest.len());
    match len {
        0 => (Kind::Other, c.len_utf8()),
        len => (Kind::Word, len),
    }
}

/// Joins every bracket with its partner.
fn pair(source: &str, tokens: &mut [Token]) -> Result<(), Broken> {
    let mut open: Vec<usize> = Vec::new();
    for i in 0..tokens.len() {
        match tokens[i].kind {
            Kind::Open(_) => open.push(i),
            Kind::Close(_) => {
                let closing = &source[tokens[i].at.clone()];
                let Some(o) = open.pop() else {
                    let text = format!("this `{closing}` closes nothing");
                    return Err(broken(
                        tokens[i].at.start,
                        &text,
                        "take it out, or open the bracket before it",
                    ));
                };
                let opening = &source[tokens[o].at.clone()];
                if partner(opening) != closing {
                    let text = format!("this `{opening}` is never closed: a `{closing}` comes first");
                    let hint = format!("close it with `{}`", partner(opening));
                    return Err(broken(tokens[o].at.start, &text, &hint));
                }
                tokens[o].kind = Kind::Open(i);
                tokens[i].kind = Kind::Close(o);
            }
            _ => {}
        }
    }
    match open.last() {
        None => Ok(()),
        Some(&o) => {
            let opening = &source[tokens[o].at.clone()];
            let text = format!("this `{opening}` is never closed");
            Err(broken(tokens[o].at.start, &text, &format!("close it with `{}`", partner(opening))))
        }
    }
}

fn partner(opening: &str) -> &'static str {
    match opening {
        "(" => ")",
        "[" => "]",
        _ => "}",
    }
}
