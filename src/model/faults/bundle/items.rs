//! The things an accepted finding can be about.

use crate::model::job::Accepted;
use crate::model::spot::Name;
use crate::model::{Items, RuleId};

use super::super::Defects;

/// Items of accepted findings must exist. Some rules speak of more than things: of lines, lengths and lists; their
/// items are left alone.
pub(super) fn accepted(accepted: &Accepted, known: &Items, out: &mut Defects) {
    if RuleId::read(accepted.rule.as_str()).is_some_and(|rule| !rule.is_about_things()) {
        return;
    }
    for item in &accepted.items {
        if known.called(item.as_str()).next().is_none() {
            let item = Name { text: item.text.clone(), spot: item.spot };
            out.unknown(&item, "thing", known.names());
        }
    }
}
