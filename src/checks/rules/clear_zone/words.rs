//! The words of the rule about zones.

use crate::checks::figures::{Figures, Show};
use crate::checks::finding::{Finding, Outcome};
use crate::checks::wording::{capital, the, two};
use crate::layout::{Area, Layout};
use crate::model::{Item, ItemKind, Surface};

pub fn title(finding: &Finding, layout: &Layout, show: Show) -> String {
    let (zone, thing) = two(finding);
    let inside = finding.have.is_some_and(|h| h < 0.0);
    let figures = Figures::of(finding, show);
    let is_wall =
        finding.items.get(1).is_some_and(|i| !matches!(i.kind(), ItemKind::Fixture | ItemKind::Post));
    if is_halo(finding, layout) {
        return match inside {
            true => format!("{thing} is {} too near for {zone}", figures.depth()),
            false => format!("{thing} is {} farther than {zone} asks", figures.have()),
        };
    }
    match (inside, is_wall) {
        (true, true) => format!("{zone} reaches {} past {}", figures.depth(), the(&thing)),
        (true, false) => format!("{thing} stands {} inside {zone}", figures.depth()),
        (false, true) => format!("{zone} ends {} before {}", figures.have(), the(&thing)),
        (false, false) => format!("{thing} stands {} outside {zone}", figures.have()),
    }
}

/// Whether the finding is about a box round a face.
fn is_halo(finding: &Finding, layout: &Layout) -> bool {
    finding.setup.and_then(|s| layout.setups.get(s)).is_some_and(|setup| {
        setup.zones.iter().any(|z| {
            Some(z.item()) == finding.items.first().map(Item::by_ref)
                && matches!(z.place, Ok(Area::Around(_)))
        })
    })
}

/// What helps against something too near a face: put it out of sight rather than drive away from it.
pub fn instead(finding: &Finding, layout: &Layout) -> Option<String> {
    (finding.outcome == Outcome::Fail && is_halo(finding, layout)).then(|| halo_remedy(finding, layout))?
}

/// The same, or what is always possible.
pub fn remedy(finding: &Finding, layout: &Layout) -> Option<String> {
    if finding.outcome != Outcome::Fail || !is_halo(finding, layout) {
        return None;
    }
    let name = finding.items.get(1).map_or("it", |n| n.name());
    halo_remedy(finding, layout).or_else(|| Some(format!("Clear {name}, or use another bay")))
}

/// What helps against something too near a face where it is put out of sight rather than driven away from.
fn halo_remedy(finding: &Finding, layout: &Layout) -> Option<String> {
    let still = finding.items.get(1)?;
    let name = still.name();
    let thing = layout.stage.things.iter().find(|t| t.item() == still.by_ref());
    let has = |s: Surface| thing.is_some_and(|t| t.surface.contains(&s));
    Some(match &thing.and_then(|t| t.clear_by.clone()) {
        Some(words) => format!("{}: {words}", capital(name)),
        None if has(Surface::Light) && has(Surface::Glass) => format!("Close a blind over {name}"),
        None if has(Surface::Light) => format!("Switch {name} off"),
        None if has(Surface::Pattern) || has(Surface::Shine) => format!("Cover {name}"),
        None => return None,
    })
}
