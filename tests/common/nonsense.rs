//! A language of nonsense: every letter of every template in another alphabet. And what a job's own files say.

use std::collections::BTreeSet;

use baywright::layout::Layout;
use baywright::model::ItemKind;
use baywright::phrases::{Phrase, Words};

/// The table: for good, as a program's own is. Each entry carries its number, so that it is known which were said.
pub(super) fn words(all: &[Phrase]) -> &'static Words {
    let number = |phrase: &Phrase| all.iter().position(|p| p == phrase);
    let of = |phrase: &Phrase| Some(format!("{}⟨{}⟩", nonsense(phrase.english), number(phrase)?));
    let words = Words::of(all, of, |_| 0).unwrap_or_else(|faults| panic!("{faults:?}"));
    Box::leak(Box::new(words))
}

/// Greek for every letter outside the places; no articles; of the wordings for a number the first.
pub(super) fn nonsense(english: &str) -> String {
    let mut out = String::new();
    let mut rest = english;
    while let Some((text, after)) = rest.split_once('{') {
        out.extend(text.chars().map(greek));
        let (place, after) = after.split_once('}').expect("a place ends");
        let (name, wordings) = place.split_once('|').unwrap_or((place, ""));
        out += "{";
        out += name.strip_prefix("the ").unwrap_or(name);
        if !wordings.is_empty() {
            out.push('|');
            out.extend(wordings.chars().map(greek));
        }
        out.push('}');
        rest = after;
    }
    out.extend(rest.chars().map(greek));
    out
}

fn greek(c: char) -> char {
    let small: Vec<char> = "αβγδεζηθικλμνξοπρστυφχψωάέ".chars().collect();
    let great: Vec<char> = "ΑΒΓΔΕΖΗΘΙΚΛΜΝΞΟΠΡΣΤΥΦΧΨΩΆΈ".chars().collect();
    match c {
        'a'..='z' => small[(c as u8 - b'a') as usize],
        'A'..='Z' => great[(c as u8 - b'A') as usize],
        other => other,
    }
}

/// The names and notes of a job's own files, longest first.
pub(super) struct Names(Vec<String>);

impl Names {
    /// Every string of these texts, and the names that the layout makes of them.
    pub(super) fn of(layout: &Layout, texts: &[String]) -> Names {
        let mut all = BTreeSet::new();
        for text in texts {
            // strings hold no escaped quotes
            for line in text.lines().map(|l| l.split("//").next().unwrap_or(l)) {
                all.extend(line.split('"').skip(1).step_by(2).map(str::to_owned));
            }
        }
        for setup in &layout.rig.setups {
            // a mirrored setup has names of its own, and a string is called as the file spells its line
            all.insert(setup.name.to_string());
            all.extend(setup.stations.iter().map(|s| s.name.to_string()));
            all.extend(setup.zones.iter().map(|z| z.name.to_string()));
            all.extend(setup.marks.iter().map(|m| m.name.to_string()));
            all.extend(setup.strings.iter().map(|s| s.word.to_string()));
        }
        all.extend(layout.rig.left_out.iter().map(|l| l.name.to_string()));
        // what a file is told to write before a name
        all.extend(ItemKind::ALL.iter().map(|kind| format!("{}:", kind.word())));
        let mut all: Vec<String> = all.into_iter().filter(|n| n.chars().count() > 1).collect();
        all.sort_by_key(|n| std::cmp::Reverse(n.len()));
        Names(all)
    }

    /// The text without them where they stand as whole words, whatever letter they begin with.
    pub(super) fn taken_out_of(&self, text: &str) -> String {
        let mut text = text.to_owned();
        for name in &self.0 {
            let mut first = name.chars();
            let capital: String =
                first.next().into_iter().flat_map(char::to_uppercase).chain(first).collect();
            for name in [name, &capital, &name.to_uppercase()] {
                let mut from = 0;
                while let Some(at) = text[from..].find(name.as_str()).map(|i| i + from) {
                    let end = at + name.len();
                    let is_letter = |c: Option<char>| c.is_some_and(|c| c.is_ascii_alphabetic());
                    let cut = is_letter(text[..at].chars().next_back()) && is_letter(name.chars().next())
                        || is_letter(text[end..].chars().next()) && is_letter(name.chars().next_back());
                    if cut {
                        from = at + name.chars().next().map_or(1, char::len_utf8);
                    } else {
                        text.replace_range(at..end, "·");
                        from = at + "·".len();
                    }
                }
            }
        }
        text
    }
}

/// Units that stand in every language; "MM" in a headline.
const UNITS: [&str; 5] = ["mm", "MM", "in", "kg", "lx"];

/// Words of two letters or more that neither the job's files nor a unit account for.
pub(super) fn english_left(text: &str, names: &Names) -> BTreeSet<String> {
    let mut left = BTreeSet::new();
    for line in names.taken_out_of(text).lines() {
        for word in line.split(|c: char| !c.is_ascii_alphabetic()) {
            if word.len() > 1 && !UNITS.contains(&word) {
                left.insert(format!("{word:?} in {line:?}"));
            }
        }
        // a place that nothing was given for
        if line.contains('{') {
            left.insert(line.to_owned());
        }
    }
    left
}
