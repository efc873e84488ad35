//! Text from files as it may be shown: no character of it can move a cursor, start a line or turn what stands beside it.

use std::borrow::Cow;
use std::fmt::Write;

/// Control characters, line breaks, and the marks that change the direction of a text or cannot be seen at all.
pub fn is_unprintable(c: char) -> bool {
    c.is_control()
        || matches!(
            c,
            '\u{2028}' | '\u{2029}'                    // line and paragraph breaks
            | '\u{61c}' | '\u{200e}' | '\u{200f}'      // direction marks
            | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' // embeddings, overrides, isolates and their ends
            | '\u{200b}' | '\u{2060}' | '\u{feff}' // without width
        )
}

/// The text on one line, with what cannot be shown as it would be spelt in a file: `\n`, `\u{1b}`.
pub fn printable(text: &str) -> Cow<'_, str> {
    escaped(text, is_unprintable, |out, c| out.extend(c.escape_default()))
}

/// The same for a text of several lines, which stay.
pub fn printable_lines(text: &str) -> Cow<'_, str> {
    escaped(text, |c| c != '\n' && is_unprintable(c), |out, c| out.extend(c.escape_default()))
}

/// The same for JSON, whose own escapes read back as the character.
pub fn printable_json(json: &str) -> Cow<'_, str> {
    escaped(
        json,
        |c| c != '\n' && is_unprintable(c),
        |out, c| {
            for unit in c.encode_utf16(&mut [0; 2]) {
                let _ = write!(out, "\\u{unit:04x}");
            }
        },
    )
}

/// What is `hidden` is spelt, the rest stays.
fn escaped(text: &str, hidden: impl Fn(char) -> bool, spell: impl Fn(&mut String, char)) -> Cow<'_, str> {
    // nearly every text is plain, which is told byte by byte
    let plain = |b: &u8| matches!(b, b' '..=b'~') || (*b == b'\n' && !hidden('\n'));
    let mut out: Option<String> = None;
    let (mut at, mut kept) = (0, 0);
    while let Some(c) = {
        at += text[at..].bytes().take_while(plain).count();
        text[at..].chars().next()
    } {
        if hidden(c) {
            let out = out.get_or_insert_with(|| String::with_capacity(text.len() + 16));
            out.push_str(&text[kept..at]);
            spell(out, c);
            kept = at + c.len_utf8();
        }
        at += c.len_utf8();
    }
    match out {
        Some(mut out) => {
            out.push_str(&text[kept..]);
            Cow::Owned(out)
        }
        None => Cow::Borrowed(text),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_could_forge_a_line_or_turn_a_text_is_spelt_out() {
        for (text, line, lines, json) in [
            ("Bühne 2 \"a\"", "Bühne 2 \"a\"", "Bühne 2 \"a\"", "Bühne 2 \"a\""),
            ("a\nFITS", "a\\nFITS", "a\nFITS", "a\nFITS"),
            ("\u{1b}[2J", "\\u{1b}[2J", "\\u{1b}[2J", "\\u001b[2J"),
            (
                "\r\t\u{7f}\u{9b}",
                "\\r\\t\\u{7f}\\u{9b}",
                "\\r\\t\\u{7f}\\u{9b}",
                "\\u000d\\u0009\\u007f\\u009b",
            ),
            ("a\u{202e}b\u{2069}", "a\\u{202e}b\\u{2069}", "a\\u{202e}b\\u{2069}", "a\\u202eb\\u2069"),
            ("\u{2028}\u{feff}", "\\u{2028}\\u{feff}", "\\u{2028}\\u{feff}", "\\u2028\\ufeff"),
        ] {
            assert_eq!(
                (&*printable(text), &*printable_lines(text), &*printable_json(text)),
                (line, lines, json)
            );
        }
    }
}
