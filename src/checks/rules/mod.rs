//! The list of rules. Each has a file of its own with its page, its code and its table of cases.

mod check_length;
mod clear_zone;
mod doorway;
mod drive_in;
pub(super) mod equipment;
mod fixed_place;
mod floor_line;
mod headroom;
mod in_view;
mod keep_clear;
mod level;
mod measured;
mod mirror_clear;
mod nothing_placed;
mod on_lift;
mod readiness;
mod room_behind;
mod sight_line;
mod sunlight;
mod target_clear;
mod targets_apart;
mod vehicle_clear;
#[cfg(test)]
pub(in crate::checks) mod workbench;

pub use clear_zone::{HaloPair, HaloStill, halo_pairs};
pub use level::{level_map, level_margin};
pub use on_lift::{LiftPair, lift_pairs};

use super::pairs::{Cx, Pair};
use super::rule::{Competes, Decimals, InCurve, Judged, Page, Policy, Rule, Title, Wording};
use super::rule::{OBSTACLES, PARTS};
use crate::model::rule_id::every_rule;
use crate::model::{ItemKind, RuleId};

macro_rules! rules {
    ($($id:ident $word:literal $file:ident $about:ident,)*) => {
        /// All rules in the order of their ids.
        pub const RULES: &[&Rule] = &[$(&$file::RULE,)*];

        impl RuleId {
            /// The rule of this name.
            pub fn rule(self) -> &'static Rule {
                match self {
                    $(RuleId::$id => &$file::RULE,)*
                }
            }
        }
    };
}
every_rule!(rules);

/// What a sight may start from and lead to.
const SIGHTED: &[ItemKind] =
    &[ItemKind::Sensor, ItemKind::Station, ItemKind::Zone, ItemKind::Point, ItemKind::Mark];

/// Every pair the plan rules hold against each other, but for the boxes round faces and the lift: those are
/// [`halo_pairs`] and [`lift_pairs`].
pub fn plan_pairs<'a>(cx: &'a Cx<'a>, each: &mut dyn FnMut(Pair<'a>)) {
    for pairs in RULES.iter().filter_map(|r| r.pairs) {
        pairs(cx, each);
    }
}
