//! A text cut into tokens, each with its place; every bracket knows its partner.

use std::ops::Range;

use super::SyntaxFault;

/// One token; blanks and comments lie between tokens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Token {
    pub kind: TokenKind,
    pub start: u32,
    pub end: u32,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum TokenKind {
    /// An opening bracket and the index of the token that closes it.
    Open(u32),
    Close,
    Comma,
    Colon,
    /// A text in quotes.
    Text,
    /// A name or a word: letters, digits and `_`.
    Word,
    /// A number, or what begins like one.
    Number,
    Other,
}

impl Token {
    pub(super) fn range(&self) -> Range<usize> {
        self.start as usize..self.end as usize
    }
}

/// The tokens of a text, its brackets paired; or what is never closed.
pub(super) fn tokens(text: &str) -> Result<Vec<Token>, SyntaxFault> {
    let mut tokens = cut(text)?;
    pair(text, &mut tokens)?;
    Ok(tokens)
}

fn cut(text: &str) -> Result<Vec<Token>, SyntaxFault> {
    let bytes = text.as_bytes();
    let mut tokens = Vec::with_capacity(text.len() / 4);
    let mut at = 0;
    // a text in quotes over several lines is the likely culprit where a later one is never closed
    let mut long_text: Option<usize> = None;
    while at < bytes.len() {
        let (kind, len) = match bytes[at] {
            b' ' | b'\t' | b'\n' | b'\r' => {
                at += 1;
                continue;
            }
            b'/' if bytes.get(at + 1) == Some(&b'/') => {
                at += text[at..].find('\n').unwrap_or(text.len() - at);
                continue;
            }
            b'/' if bytes.get(at + 1) == Some(&b'*') => {
                at += block_comment(&text[at..]).ok_or_else(|| {
                    SyntaxFault::new(at, "this comment is never closed", Some("close it with */"))
                })?;
                continue;
            }
            b'(' | b'[' | b'{' => (TokenKind::Open(0), 1),
            b')' | b']' | b'}' => (TokenKind::Close, 1),
            b',' => (TokenKind::Comma, 1),
            b':' => (TokenKind::Colon, 1),
            b'0'..=b'9' | b'+' | b'-' | b'.' => (TokenKind::Number, number_len(&bytes[at..])),
            b'"' | b'\'' | b'b' | b'r' => match text_len(&text[at..]) {
                Some(Some(len)) => {
                    if text[at..at + len].contains('\n') {
                        long_text.get_or_insert(at);
                    }
                    (TokenKind::Text, len)
                }
                Some(None) => {
                    let at = long_text.unwrap_or(at);
                    let hint = Some("close it with \"");
                    return Err(SyntaxFault::new(at, "this text in quotes is never closed", hint));
                }
                None => word_or_other(&text[at..]),
            },
            _ => {
                let c = text[at..].chars().next().unwrap_or(' ');
                if c.is_whitespace() || matches!(c, '\u{200E}' | '\u{200F}' | '\u{FEFF}') {
                    at += c.len_utf8();
                    continue;
                }
                word_or_other(&text[at..])
            }
        };
        tokens.push(Token { kind, start: at as u32, end: (at + len) as u32 });
        at += len;
    }
    Ok(tokens)
}

fn number_len(bytes: &[u8]) -> usize {
    let part = |b: &u8| b.is_ascii_alphanumeric() || matches!(b, b'_' | b'.' | b'+' | b'-');
    bytes.iter().position(|b| !part(b)).unwrap_or(bytes.len())
}

fn word_or_other(rest: &str) -> (TokenKind, usize) {
    let part = |c: char| c.is_alphanumeric() || c == '_';
    match rest.find(|c| !part(c)).unwrap_or(rest.len()) {
        0 => (TokenKind::Other, rest.chars().next().map_or(1, char::len_utf8)),
        len => (TokenKind::Word, len),
    }
}

/// Length of the comment `rest` starts with; comments nest.
pub(super) fn block_comment(rest: &str) -> Option<usize> {
    let bytes = rest.as_bytes();
    let (mut depth, mut at) = (0, 0);
    while at + 1 < bytes.len() {
        match (bytes[at], bytes[at + 1]) {
            (b'/', b'*') => {
                depth += 1;
                at += 2;
            }
            (b'*', b'/') => {
                depth -= 1;
                at += 2;
                if depth == 0 {
                    return Some(at);
                }
            }
            _ => at += 1,
        }
    }
    None
}

/// `Some(length)` when `rest` starts with a text in quotes, the length `None` when it is never closed.
fn text_len(rest: &str) -> Option<Option<usize>> {
    let plain = rest.strip_prefix("b\"").map(|_| 2).or_else(|| rest.strip_prefix('"').map(|_| 1));
    if let Some(start) = plain {
        let mut escaped = false;
        for (i, b) in rest.bytes().enumerate().skip(start) {
            match b {
                _ if escaped => escaped = false,
                b'\\' => escaped = true,
                b'"' => return Some(Some(i + 1)),
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

/// Joins every opening bracket with its partner.
fn pair(text: &str, tokens: &mut [Token]) -> Result<(), SyntaxFault> {
    let mut open: Vec<usize> = Vec::new();
    for i in 0..tokens.len() {
        match tokens[i].kind {
            TokenKind::Open(_) => open.push(i),
            TokenKind::Close => {
                let closing = &text[tokens[i].range()];
                let Some(o) = open.pop() else {
                    let hint = Some("take it out, or open the bracket before it");
                    let said = format!("this `{closing}` closes nothing");
                    return Err(SyntaxFault::new(tokens[i].start as usize, said, hint));
                };
                let opening = &text[tokens[o].range()];
                if partner(opening) != closing {
                    let said = format!("this `{opening}` is never closed: a `{closing}` comes first");
                    let hint = format!("close it with `{}`", partner(opening));
                    return Err(SyntaxFault::new(tokens[o].start as usize, said, Some(&hint)));
                }
                tokens[o].kind = TokenKind::Open(i as u32);
            }
            _ => {}
        }
    }
    match open.last() {
        None => Ok(()),
        Some(&o) => {
            let opening = &text[tokens[o].range()];
            let hint = format!("close it with `{}`", partner(opening));
            let said = format!("this `{opening}` is never closed");
            Err(SyntaxFault::new(tokens[o].start as usize, said, Some(&hint)))
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
