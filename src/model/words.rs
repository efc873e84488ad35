//! Helping a person who misspelt a name: the nearest known one, and short lists of what there is.

/// The known name nearest to `word`, when it is near enough to be a slip: letters swapped, missing, added or in the
/// wrong case. Of equally near ones one that
/// only grew, else one of the same length, else the first.
pub fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let lower = word.to_lowercase();
    let allowed = match lower.chars().count() {
        0 => return None,
        1..=4 => 1,
        5..=8 => 2,
        n => (n / 3).min(4),
    };
    let length = lower.chars().count();
    let mut best: Option<((usize, bool, usize), &str)> = None;
    for name in known {
        let known = name.to_lowercase();
        let long = known.chars().count();
        if long.abs_diff(length) > allowed {
            continue; // so many letters are missing, or too many
        }
        let away = strsim::damerau_levenshtein(&lower, &known);
        let rank = (away, !lower.starts_with(&known), long.abs_diff(length));
        if away <= allowed && away < long.min(length).max(1) && best.is_none_or(|(b, _)| rank < b) {
            best = Some((rank, name));
        }
    }
    best.map(|(_, name)| name)
}

/// The known name that `word` most probably is, misspelt: at most two slips away, of five letters at least, and not
/// another of a numbered row.
pub fn slip<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let plain = |text: &str| text.to_lowercase().replace(|c: char| c.is_ascii_digit(), "");
    let letters = plain(word);
    if letters.chars().count() < 5 {
        return None;
    }
    let near = known.into_iter().filter(|k| {
        k.len().abs_diff(word.len()) <= 8 && strsim::damerau_levenshtein(&letters, &plain(k)) <= 2
    });
    nearest(word, near.filter(|k| plain(k) != letters || k.to_lowercase() == word.to_lowercase()))
}

/// "did you mean ...?" when a known name is near, else the list of the known ones; `None` when there are none.
pub fn suggest<'a>(word: &str, what: &str, known: impl IntoIterator<Item = &'a str>) -> Option<String> {
    let mut known: Vec<&str> = known.into_iter().filter(|k| !k.is_empty()).collect();
    if let Some(near) = nearest(word, known.iter().copied()) {
        return Some(format!("did you mean {near:?}?"));
    }
    known.sort_unstable();
    known.dedup();
    match known.as_slice() {
        [] => None,
        [only] => Some(format!("the only {what} is {only:?}")),
        _ => Some(format!("known: {}", list(&known, |k| format!("{k:?}")))),
    }
}

/// The first dozen, comma between, and how many more there are.
pub fn list<T>(items: &[T], show: impl Fn(&T) -> String) -> String {
    const MOST: usize = 12;
    let mut text = items.iter().take(MOST).map(show).collect::<Vec<_>>().join(", ");
    if items.len() > MOST {
        text += &format!(" and {} more", items.len() - MOST);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_names_are_found_and_far_ones_are_not() {
        let known = ["front emblem", "rear emblem", "roof centre"];
        for (word, near) in [
            ("front emblen", Some("front emblem")),
            ("Rear emblem", Some("rear emblem")),
            ("raer emblem", Some("rear emblem")),
            ("windscreen", None),
            ("", None),
            ("roof centree", Some("roof centre")),
        ] {
            assert_eq!(nearest(word, known), near, "{word}");
        }
        for (word, near) in [
            ("front rader", Some("front radar")),
            ("Front Radar", Some("front radar")),
            ("left radar", None),
            ("camera 2", None),
            ("camrea 1", Some("camera 1")),
        ] {
            assert_eq!(slip(word, ["front radar", "right radar", "camera 1"]), near, "{word}");
        }
        assert_eq!(nearest("A", ["B"]), None, "a one-letter name is not near every other one");
        assert_eq!(nearest("a", ["A", "B"]), Some("A"));
    }

    #[test]
    fn a_suggestion_names_the_near_one_or_lists_all() {
        assert_eq!(suggest("gpa", "value", ["gap", "side"]).as_deref(), Some("did you mean \"gap\"?"));
        assert_eq!(suggest("x", "value", ["side", "gap"]).as_deref(), Some("known: \"gap\", \"side\""));
        assert_eq!(suggest("x", "value", ["gap"]).as_deref(), Some("the only value is \"gap\""));
        assert_eq!(suggest("x", "value", []), None);
        let many: Vec<String> = (0..15).map(|i| format!("name {i}")).collect();
        assert_eq!(list(&many[..], |k| k.clone()).matches(',').count(), 11);
        assert!(list(&many[..], |k| k.clone()).ends_with(" and 3 more"));
    }
}
