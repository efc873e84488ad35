//! Words that several rules' titles share.

use super::figures::{Figures, Show};
use super::finding::Finding;
use super::rule::PARTS;
use crate::geometry::NOISE_MM;
use crate::layout::Layout;
use crate::model::item::names;
use crate::model::{Item, ItemKind};
use crate::units::printable;

/// What a finding's note says, or this.
pub fn note_or(finding: &Finding, other: &str) -> String {
    finding.note.as_deref().unwrap_or(other).to_string()
}

/// All it is about: "board and north wall".
pub fn pair_name(finding: &Finding) -> String {
    names(&finding.items, " and ")
}

/// The n-th thing it is about; nothing where there is none.
pub fn item(finding: &Finding, i: usize) -> String {
    finding.items.get(i).map_or_else(String::new, |s| s.to_string())
}

/// The first two.
pub fn two(finding: &Finding) -> (String, String) {
    (item(finding, 0), item(finding, 1))
}

/// "the east wall", but names that carry their own article, a number or a capital stand alone.
pub fn the(name: &str) -> String {
    let plain = name.chars().next().is_some_and(char::is_lowercase);
    let numbered = name.chars().last().is_some_and(|c| c.is_ascii_digit());
    if plain && !numbered && !name.starts_with("the ") { format!("the {name}") } else { name.to_string() }
}

/// On one line, with a capital first; what a file's text holds besides plain text is spelt out.
pub fn capital(text: &str) -> String {
    let text = printable(text);
    let mut chars = text.chars();
    match chars.next() {
        Some(first) => first.to_uppercase().chain(chars).collect(),
        None => String::new(),
    }
}

/// The title of a rule that holds two things apart.
pub fn apart(finding: &Finding, _: &Layout, show: Show) -> String {
    let (moving, _) = two(finding);
    let kind = finding.items.first().map(Item::kind);
    let subject = if kind.is_some_and(|k| PARTS.contains(&k)) { format!("the {moving}") } else { moving };
    let plural = matches!(kind, Some(ItemKind::Mirrors | ItemKind::Tyres));
    apart_as(&subject, plural, finding, show)
}

/// The same under another name for what moves.
pub fn apart_as(subject: &str, plural: bool, finding: &Finding, show: Show) -> String {
    let (_, still) = two(finding);
    let (is, stands) = if plural { ("are", "stand") } else { ("is", "stands") };
    let have = finding.have.unwrap_or(0.0);
    let need = finding.need.unwrap_or(0.0);
    let figures = Figures::of(finding, show);
    if finding.margin.unwrap_or(0.0) >= 0.0 {
        if have <= NOISE_MM {
            return format!("{subject} just {} {}", if plural { "touch" } else { "touches" }, the(&still));
        }
        return format!("{subject} {is} {} from {}", figures.have(), the(&still));
    }
    if have < -NOISE_MM {
        let verb = match (need > 0.0, plural) {
            (true, _) => stands,
            (false, true) => "reach",
            (false, false) => "reaches",
        };
        return format!("{subject} {verb} {} into {}", figures.depth(), the(&still));
    }
    format!("{subject} {is} {} too close to {}", figures.short(), the(&still))
}
