//! Pages broken at the width of what they are read on.

/// A page narrower than this is not made narrower.
const NARROWEST: usize = 40;

/// The page with no line longer than `width` characters where a space lets it be broken. What follows a break hangs
/// under the text it belongs to: under what stands behind a dash, a number, a word with a colon, or in the second column;
/// else two deeper than the line. No-break spaces hold figures together.
pub fn wrap(page: &str, width: usize) -> String {
    let width = width.max(NARROWEST);
    let mut out = String::with_capacity(page.len() + page.len() / 16);
    for line in page.split_inclusive('\n') {
        let (text, end) = line.strip_suffix('\n').map_or((line, ""), |text| (text, "\n"));
        broken(text, width, &mut out);
        out.push_str(end);
    }
    out
}

fn broken(line: &str, width: usize, out: &mut String) {
    let chars = |text: &str| text.chars().count();
    if chars(line) <= width {
        out.push_str(line);
        return;
    }
    let hang = hang(line).min(width / 2);
    let start = line.len() - line.trim_start_matches(' ').len();
    out.push_str(&line[..start]);
    let mut used = start;
    // spaces inside a line are kept, as columns are made of them
    let mut rest = &line[start..];
    let mut first = true;
    while !rest.is_empty() {
        let gap = rest.len() - rest.trim_start_matches(' ').len();
        let word_end = rest[gap..].find(' ').map_or(rest.len(), |at| gap + at);
        let word = &rest[gap..word_end];
        if word.is_empty() {
            return;
        }
        if !first && used + gap + chars(word) > width {
            out.push('\n');
            out.push_str(&" ".repeat(hang));
            used = hang + chars(word);
        } else {
            out.push_str(&rest[..gap]);
            used += gap + chars(word);
        }
        out.push_str(word);
        first = false;
        rest = &rest[word_end..];
    }
}

/// How far the lines that continue this one are set in.
fn hang(line: &str) -> usize {
    let start = line.len() - line.trim_start_matches(' ').len();
    let text = &line[start..];
    let word = text.split(' ').next().unwrap_or_default();
    let numbered =
        word.strip_suffix('.').is_some_and(|n| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit()));
    if word == "-" || numbered || (start == 0 && word.ends_with(':') && !word.contains('/')) {
        return start + word.chars().count() + 1;
    }
    // a second column begins behind two spaces or more
    if let Some(at) = text.find("  ") {
        let column = &text[..at];
        let gap = text[at..].len() - text[at..].trim_start_matches(' ').len();
        if column.chars().count() + gap <= 20 {
            return start + column.chars().count() + gap;
        }
    }
    start + 2
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn what_follows_a_break_hangs_under_its_text() {
        for (line, wrapped) in [
            ("short", "short"),
            (
                "Binds: The board is 88 mm too close to the east wall",
                "Binds: The board is 88 mm too close to\n       the east wall",
            ),
            (
                "  - Move the trolley out of the way and leave it there",
                "  - Move the trolley out of the way and\n    leave it there",
            ),
            (
                "  2. The front axle's middle 2\u{a0}750 mm from the left",
                "  2. The front axle's middle 2\u{a0}750 mm\n     from the left",
            ),
            (
                "  headroom       12 passed; least: board ends 900 mm below",
                "  headroom       12 passed; least: board\n                 ends 900 mm below",
            ),
            (
                "    [clear-zone] Trolley stands 130 mm inside radar field",
                "    [clear-zone] Trolley stands 130 mm\n      inside radar field",
            ),
            (
                "a-very-long-name-without-any-space-that-nobody-can-break stays",
                "a-very-long-name-without-any-space-that-nobody-can-break\n  stays",
            ),
        ] {
            assert_eq!(wrap(line, 40), wrapped);
        }
        assert_eq!(wrap("one\n\ntwo\n", 80), "one\n\ntwo\n");
    }

    proptest! {
        #![proptest_config(crate::seeds::cases(256))]
        /// Nothing is lost, and no line is longer than it must be.
        #[test]
        fn words_stay(page in "([ ]{0,6}([a-zäß:.-]{1,12}[ ]{1,2}){0,30}\n){0,4}", width in 40..100usize) {
            let wrapped = wrap(&page, width);
            let words = |t: &str| t.split_whitespace().map(String::from).collect::<Vec<_>>();
            prop_assert_eq!(words(&page), words(&wrapped));
            prop_assert!(wrapped.lines().all(|l| l.trim_end().chars().count() <= width));
        }
    }
}
