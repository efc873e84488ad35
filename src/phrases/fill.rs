//! How the places of a template are filled in.

use std::fmt::{Display, Write};

/// A piece of a template.
enum Piece<'a> {
    Text(&'a str),
    /// A place by its name; with the English article.
    Place(&'a str, bool),
    /// The wordings a number chooses among.
    Number(&'a str, std::str::Split<'a, char>),
}

fn pieces(template: &str) -> impl Iterator<Item = Piece<'_>> {
    let mut rest = template;
    std::iter::from_fn(move || {
        if rest.is_empty() {
            return None;
        }
        let inside = rest.strip_prefix('{').and_then(|r| r.split_once('}'));
        let Some((place, after)) = inside else {
            let first = rest.chars().next().map_or(0, char::len_utf8);
            let end = rest[first..].find('{').map_or(rest.len(), |i| i + first);
            let (text, after) = rest.split_at(end);
            rest = after;
            return Some(Piece::Text(text));
        };
        rest = after;
        Some(match (place.split_once('|'), place.strip_prefix("the ")) {
            (Some((name, wordings)), _) => Piece::Number(name, wordings.split('|')),
            (None, Some(name)) => Piece::Place(name, true),
            (None, None) => Piece::Place(place, false),
        })
    })
}

/// The names of the places of a template.
pub(super) fn places(template: &str) -> Vec<&str> {
    let name = |piece| match piece {
        Piece::Text(_) => None,
        Piece::Place(name, _) | Piece::Number(name, _) => Some(name),
    };
    pieces(template).filter_map(name).collect()
}

/// The template with what belongs into its places. A place that nothing is given for stays as it is spelt.
pub(super) fn fill(template: &str, parts: &[(&str, &dyn Display)], form: fn(&str) -> usize) -> String {
    let mut out = String::with_capacity(template.len() + 32);
    let of = |name: &str| parts.iter().find(|(n, _)| *n == name).map(|(_, value)| value);
    for piece in pieces(template) {
        match piece {
            Piece::Text(text) => out.push_str(text),
            Piece::Place(name, article) => match of(name) {
                Some(value) if article => out.push_str(&with_article(value.to_string())),
                Some(value) => _ = write!(out, "{value}"),
                None => _ = write!(out, "{{{name}}}"),
            },
            Piece::Number(name, wordings) => {
                let at = of(name).map_or(0, |value| form(&value.to_string()));
                let chosen = wordings.clone().nth(at).or_else(|| wordings.clone().next_back());
                out.push_str(chosen.unwrap_or_default());
            }
        }
    }
    out
}

/// English: one thing, or as many as you like.
pub(super) fn one_or_many(number: &str) -> usize {
    usize::from(number != "1")
}

/// "the east wall", but names that carry their own article, a number or a capital stand alone.
fn with_article(name: String) -> String {
    let plain = name.chars().next().is_some_and(char::is_lowercase);
    let numbered = name.chars().last().is_some_and(|c| c.is_ascii_digit());
    if plain && !numbered && !name.starts_with("the ") { format!("the {name}") } else { name }
}

#[cfg(test)]
mod tests {
    use crate::phrases::{ENGLISH, Phrase, Say, TableFault, Words, phrases, say};
    use crate::units::Show;

    phrases! { in "test";
        GAP = "{thing} is {gap} from {the wall}";
        FAILS = "{n} {n|thing fails|things fail} there";
    }

    #[test]
    fn places_are_filled_by_name() {
        let say = Say::english(Show::Mm);
        for (wall, said) in [
            ("east wall", "post is 5 mm from the east wall"),
            ("the east wall", "post is 5 mm from the east wall"),
            ("wall 3", "post is 5 mm from wall 3"),
            ("Lift", "post is 5 mm from Lift"),
            // what is filled in is not looked into
            ("{gap}", "post is 5 mm from {gap}"),
        ] {
            let thing = "post";
            assert_eq!(say!(say, GAP, wall, thing, gap = say.up(5.0)), said);
        }
        assert_eq!(
            [0, 1, 2].map(|n| say!(say, FAILS, n)),
            ["0 things fail there", "1 thing fails there", "2 things fail there"]
        );
        assert_eq!(say!(say, GAP, thing = "post"), "post is {gap} from {wall}", "a place left open shows");
        for english in ["a { b", "{", "é{", ""] {
            assert_eq!(say.word(Phrase { group: "", name: "", english }), english);
        }
    }

    #[test]
    fn another_language_is_another_table() {
        let spelt = |phrase: &Phrase| match phrase.name {
            "GAP" => Some("von {wall} zu {thing}: {gap}".to_owned()),
            _ => Some("dort {n|scheitert eines|scheitern zwei|scheitern {n}}".replace("{n}", "viele")),
        };
        let three: fn(&str) -> usize = |n| n.parse::<usize>().unwrap_or(9).saturating_sub(1);
        let words = Words::of(PHRASES, spelt, three).unwrap();
        let say = Say::new(Show::Mm, &words);
        assert_eq!(say!(say, GAP, wall = "Ostwand", thing = "Pfosten", gap = 5), "von Ostwand zu Pfosten: 5");
        assert_eq!(
            [1, 2, 9].map(|n| say!(say, FAILS, n)),
            ["dort scheitert eines", "dort scheitern zwei", "dort scheitern viele"]
        );
    }

    #[test]
    fn a_table_with_a_hole_is_refused() {
        let none = Words::of(PHRASES, |p| (p.name == "GAP").then(|| "{thing} {size}".into()), ENGLISH.form);
        let faults = [
            TableFault::NoSuchPlace("test.GAP".into(), "size".into()),
            TableFault::Missing("test.FAILS".into()),
        ];
        assert_eq!(none.err().unwrap(), faults);
    }
}
