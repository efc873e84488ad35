//! The words of the rule about zones.

use crate::checks::figures::Figures;
use crate::checks::finding::{Finding, Outcome};
use crate::checks::note::Remedy;
use crate::checks::wording::two;
use crate::layout::{Area, Layout};
use crate::model::{Item, ItemKind, Surface};
use crate::phrases::{Say, phrases, say};

phrases! { pub(super) in "clear-zone";
    INSIDE = "{over} inside";
    TOO_NEAR = "{thing} is {depth} too near for {zone}";
    FARTHER = "{thing} is {have} farther than {zone} asks";
    REACHES_PAST = "{zone} reaches {depth} past {the thing}";
    STANDS_INSIDE = "{thing} stands {depth} inside {zone}";
    ENDS_BEFORE = "{zone} ends {have} before {the thing}";
    STANDS_OUTSIDE = "{thing} stands {have} outside {zone}";
}

pub(super) fn title(finding: &Finding, layout: &Layout, say: Say) -> String {
    let (zone, thing) = two(finding, say);
    let inside = finding.have.is_some_and(|h| h < 0.0);
    let figures = Figures::of(finding, say.show);
    let is_wall =
        finding.items.get(1).is_some_and(|i| !matches!(i.kind(), ItemKind::Fixture | ItemKind::Post));
    let phrase = match (is_halo(finding, layout), inside, is_wall) {
        (true, true, _) => TOO_NEAR,
        (true, false, _) => FARTHER,
        (false, true, true) => REACHES_PAST,
        (false, true, false) => STANDS_INSIDE,
        (false, false, true) => ENDS_BEFORE,
        (false, false, false) => STANDS_OUTSIDE,
    };
    say!(say, phrase, zone, thing, depth = figures.depth(), have = figures.have())
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
pub(super) fn instead(finding: &Finding, layout: &Layout) -> Option<Remedy> {
    (finding.outcome == Outcome::Fail && is_halo(finding, layout)).then(|| halo_remedy(finding, layout))?
}

/// The same, or what is always possible.
pub(super) fn remedy(finding: &Finding, layout: &Layout) -> Option<Remedy> {
    if finding.outcome != Outcome::Fail || !is_halo(finding, layout) {
        return None;
    }
    halo_remedy(finding, layout).or_else(|| Some(Remedy::Clear(finding.items.get(1).cloned())))
}

/// What helps against something too near a face where it is put out of sight rather than driven away from.
fn halo_remedy(finding: &Finding, layout: &Layout) -> Option<Remedy> {
    let still = finding.items.get(1)?.clone();
    let thing = layout.stage.things.iter().find(|t| t.item() == still.by_ref());
    let has = |s: Surface| thing.is_some_and(|t| t.surface.contains(&s));
    Some(match thing.and_then(|t| t.clear_by.clone()) {
        Some(how) => Remedy::By { thing: still, how },
        None if has(Surface::Light) && has(Surface::Glass) => Remedy::CloseBlind(still),
        None if has(Surface::Light) => Remedy::SwitchOff(still),
        None if has(Surface::Pattern) || has(Surface::Shine) => Remedy::Cover(still),
        None => return None,
    })
}
