//! Texts in quotes: read and written.

/// Why a text in quotes cannot be read, and where in it (bytes).
pub(super) type BadEscape = usize;

/// What a text in quotes says, plain (`"a\n"`) or raw (`r#"a"#`); an `Err` is the place of a backslash that means nothing.
pub fn unquote(source: &str) -> Result<String, BadEscape> {
    if source.starts_with('r') {
        let body = source.trim_start_matches('r').trim_start_matches('#');
        let hashes = source.len() - 1 - body.len();
        return Ok(body[1..body.len() - 1 - hashes].to_owned());
    }
    let body = &source[1..source.len() - 1];
    if !body.contains('\\') {
        return Ok(body.to_owned());
    }
    let mut said = String::with_capacity(body.len());
    let mut rest = body;
    while let Some(at) = rest.find('\\') {
        said.push_str(&rest[..at]);
        let place = source.len() - 1 - (rest.len() - at);
        let after = &rest[at + 1..];
        let (c, len) = escape(after).ok_or(place)?;
        said.push(c);
        rest = &after[len..];
    }
    said.push_str(rest);
    Ok(said)
}

/// The character that stands behind a backslash, and how many bytes spell it.
fn escape(after: &str) -> Option<(char, usize)> {
    let c = after.chars().next()?;
    Some(match c {
        'n' => ('\n', 1),
        'r' => ('\r', 1),
        't' => ('\t', 1),
        '0' => ('\0', 1),
        '\\' | '"' | '\'' => (c, 1),
        'x' => {
            let code = u8::from_str_radix(after.get(1..3)?, 16).ok()?;
            (code.is_ascii().then_some(code as char)?, 3)
        }
        'u' => {
            let body = after.strip_prefix("u{")?;
            let end = body.find('}')?;
            (char::from_u32(u32::from_str_radix(&body[..end], 16).ok()?)?, 2 + end + 1)
        }
        _ => return None,
    })
}

/// A text in quotes that says this.
pub fn quote(said: &str) -> String {
    let mut text = String::with_capacity(said.len() + 2);
    text.push('"');
    for c in said.chars() {
        match c {
            '"' | '\\' => text.extend(['\\', c]),
            '\n' => text.push_str("\\n"),
            '\r' => text.push_str("\\r"),
            '\t' => text.push_str("\\t"),
            c if c.is_control() => text.push_str(&format!("\\u{{{:x}}}", c as u32)),
            c => text.push(c),
        }
    }
    text.push('"');
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn texts_are_read_as_ron_reads_them() {
        for source in [
            r#""""#,
            r#""a""#,
            r#""a \"b\" c""#,
            r#""\\ \n \t \r \0 \'""#,
            r#""\x41\u{e4}\u{1F600}""#,
            "\"two\nlines\"",
            "r\"a\\b\"",
            "r#\"a \"b\" c\"#",
            "r##\"a\"#b\"##",
            "\"äöü 24' 7-1/2\\\"\"",
        ] {
            let theirs = ron::from_str::<String>(source).unwrap_or_else(|e| panic!("{source}: {e}"));
            assert_eq!(unquote(source), Ok(theirs), "{source}");
        }
        for (source, at) in [(r#""a\q""#, 2), (r#""\x4""#, 1), (r#""ab\u{zz}""#, 3), (r#""\xff""#, 1)] {
            assert_eq!(unquote(source), Err(at), "{source}");
        }
    }

    proptest! {
        #![proptest_config(crate::seeds::cases(256))]
        #[test]
        fn what_is_written_reads_back(said in any::<String>()) {
            prop_assert_eq!(unquote(&quote(&said)), Ok(said.clone()));
            prop_assert_eq!(ron::from_str::<String>(&quote(&said)).ok(), Some(said));
        }
    }
}
