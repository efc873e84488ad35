//! What a press on the plan chooses.

use crate::app::state::finding_list;
use crate::app::state::panel_context::PanelContext;
use crate::model::{Item, ItemKind};
use crate::scene::Tag;

/// The finding a mark stands for; of a thing the worst about it, and on the next press the next.
pub(super) fn about(cx: PanelContext, tag: &Tag) -> Option<usize> {
    let (item, setup) = match tag {
        Tag::Finding(at) => return Some(*at),
        Tag::Vehicle => (Item::only(ItemKind::Vehicle), None),
        Tag::Thing(item) => (item.clone(), None),
        Tag::Station { setup, name } => (Item::new(ItemKind::Station, name.clone()), Some(*setup)),
        Tag::Zone { setup, name } => (Item::new(ItemKind::Zone, name.clone()), Some(*setup)),
        Tag::Mark { .. } => return None,
    };
    let order = finding_list::order(cx);
    let findings = cx.findings();
    let of_it = |i: &usize| {
        let f = &findings[*i];
        f.items.contains(&item) && (setup.is_none() || f.setup == setup)
    };
    let about: Vec<usize> = order.into_iter().filter(of_it).collect();
    let next = match cx.derived.chosen().and_then(|c| about.iter().position(|i| *i == c)) {
        Some(at) => (at + 1) % about.len().max(1),
        None => 0,
    };
    about.get(next).copied()
}
