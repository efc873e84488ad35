//! A place of the bay told in words.

use crate::geometry::P2;
use crate::model::Bay;
use crate::units::parse_length;

/// "1200 right, 850 up from corner 0": lengths in any unit; right and left across the bay, up (or in) and down (or out) along
/// it; counted from a corner of the floor, by its number or as A, B, C .., or where none is named from the bay's zero.
pub fn place_in_words(bay: &Bay, text: &str) -> Result<P2, String> {
    const HOW: &str = "write it as 1200 right, 850 up from corner 0";
    let lower = text.to_lowercase();
    let (moves, from) = match lower.split_once("from") {
        Some((moves, from)) => (moves.to_owned(), corner(bay, from.trim())?),
        None => (lower, P2::origin()),
    };
    let (mut across, mut along) = (None, None);
    let mut length = String::new();
    for word in moves.split([' ', ',', ';', '\u{a0}']).filter(|w| !w.is_empty() && *w != "and") {
        let (of, sign) = match word {
            "right" => (&mut across, 1.0),
            "left" => (&mut across, -1.0),
            "up" | "in" if !length.is_empty() && !is_inches(&length, word) => (&mut along, 1.0),
            "down" | "out" => (&mut along, -1.0),
            "up" => return Err(HOW.into()),
            part => {
                length.push_str(if length.is_empty() { "" } else { " " });
                length.push_str(part);
                continue;
            }
        };
        let mm = parse_length(&length).map_err(|e| format!("{e}; {HOW}"))?;
        if of.replace(sign * mm).is_some() {
            return Err(format!("a direction is told twice; {HOW}"));
        }
        length.clear();
    }
    if !length.is_empty() || (across.is_none() && along.is_none()) {
        return Err(HOW.into());
    }
    Ok(P2::new(from.x + across.unwrap_or(0.0), from.y + along.unwrap_or(0.0)))
}

/// "in" after a figure may be inches: it is the direction only where a unit or another figure cannot follow.
fn is_inches(length: &str, word: &str) -> bool {
    word == "in" && !length.contains(['\'', '"', 'm'])
}

fn corner(bay: &Bay, text: &str) -> Result<P2, String> {
    let name = text.trim_start_matches("corner").trim();
    let letter = match name.as_bytes() {
        [b] if b.is_ascii_lowercase() => Some(usize::from(b - b'a')),
        _ => None,
    };
    let point = letter.or_else(|| name.parse().ok()).and_then(|i: usize| bay.floor.points.get(i));
    let last = bay.floor.points.len().saturating_sub(1);
    point
        .map(|p| P2::new(p.0, p.1))
        .ok_or_else(|| format!("the floor has no corner {name:?}; they are numbered 0 to {last}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::read_text;

    #[test]
    fn a_place_is_told_as_one_says_it() {
        let text = "(name: \"B\", floor: [(100, 200), (6100, 0), (6000, 12000), (0, 12000)])";
        let bay: Bay = read_text(text, std::path::Path::new("bay.ron")).unwrap();
        for (text, x, y) in [
            ("1200 right, 850 up from corner 0", 1300.0, 1050.0),
            ("1200 right, 850 up from corner A", 1300.0, 1050.0),
            ("1.2 m left 850 down from corner 2", 4800.0, 11_150.0),
            ("850 up and 1 200 right", 1200.0, 850.0),
            ("4' 2\" right from 1", 7370.0, 0.0),
            ("4' 2\" in", 0.0, 1270.0),
            ("10 in right", 254.0, 0.0),
            ("300 mm out from corner 3", 0.0, 11_700.0),
        ] {
            let place = place_in_words(&bay, text).unwrap_or_else(|e| panic!("{text}: {e}"));
            assert!((place - P2::new(x, y)).norm() < 1e-9, "{text}: {place}");
        }
        for (text, why) in [
            ("", "write it as"),
            ("right", "write it as"),
            ("1200", "write it as"),
            ("1200 right 300 left", "told twice"),
            ("12oo right", "write it as"),
            ("5 up from corner 4", "numbered 0 to 3"),
            ("5 up from corner Q", "numbered 0 to 3"),
        ] {
            let fault = place_in_words(&bay, text).unwrap_err();
            assert!(fault.contains(why), "{text}: {fault}");
        }
    }
}
