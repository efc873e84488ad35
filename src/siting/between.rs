//! What binds a place: two things that a rule holds apart.

use super::space::Hold;
use super::still::Item as Still;
use crate::checks::RuleId;
use crate::layout::Stage;
use crate::model::{Item, ItemKind};

/// Two things that a rule holds apart where nothing is left.
#[derive(Clone, Debug, PartialEq)]
pub struct Between {
    pub rule: RuleId,
    /// What moves, then what stays; the latter is missing where it is the floor's edge.
    pub items: Vec<Item>,
}

impl Hold {
    /// The two it holds apart.
    pub fn between(&self, stage: &Stage) -> Between {
        let still = match self.item {
            Still::Thing(t) => Some(stage.things[t].item().item()),
            Still::Kept(k) => Some(stage.keep_clear[k].item().item()),
            Still::Edge(label) | Still::Side(label) => Some(stage.bound(label).item().item()),
            Still::Outside => None,
            Still::Lift => Some(Item::new(ItemKind::Lift, self.still.clone())),
            Still::Fixed => Some(match stage.label(&self.still) {
                Some(label) => stage.bound(label).item().item(),
                None => Item::new(ItemKind::Installed, self.still.clone()),
            }),
        };
        Between { rule: self.rule, items: std::iter::once(self.moving_item()).chain(still).collect() }
    }

    /// What moves, of a kind that the rule speaks of first.
    fn moving_item(&self) -> Item {
        let kinds = self.rule.rule().about.first().copied().unwrap_or_default();
        let part = kinds.iter().map(|kind| Item::only(*kind)).find(|part| *part.name() == self.moving);
        part.unwrap_or_else(|| {
            let of_setup = |kind: &&ItemKind| Item::only(**kind).name().is_empty();
            let kind = kinds.iter().find(of_setup).copied().unwrap_or(ItemKind::Station);
            Item::new(kind, self.moving.clone())
        })
    }
}
