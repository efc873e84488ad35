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
pub use in_view::TURNED;
pub use level::{level_map, level_margin};
pub use on_lift::{BETWEEN_AXLES, LiftPair, lift_pairs};

use super::finding::Finding;
use super::pairs::{Cx, Pair};

/// A rule: what `explain` prints, and how it judges.
pub struct Rule {
    pub id: RuleId,
    pub page: Page,
    pub run: fn(&Cx, &mut Vec<Finding>),
}

/// The page about a rule, five questions answered.
pub struct Page {
    pub title: &'static str,
    pub checks: &'static str,
    pub matters: &'static str,
    pub measured: &'static str,
    pub remedy: &'static str,
    pub source: &'static str,
}

/// Every rule by name, in the order findings are listed in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RuleId {
    VehicleClear,
    MirrorClear,
    TargetClear,
    RoomBehind,
    TargetsApart,
    ClearZone,
    KeepClear,
    Headroom,
    Doorway,
    DriveIn,
    SightLine,
    InView,
    Level,
    FloorLine,
    OnLift,
    CheckLength,
    FixedPlace,
    Measured,
    Equipment,
    Readiness,
}

impl RuleId {
    /// The name used in files, JSON and `explain`.
    pub fn word(self) -> &'static str {
        match self {
            RuleId::VehicleClear => "vehicle-clear",
            RuleId::MirrorClear => "mirror-clear",
            RuleId::TargetClear => "target-clear",
            RuleId::RoomBehind => "room-behind",
            RuleId::TargetsApart => "targets-apart",
            RuleId::ClearZone => "clear-zone",
            RuleId::KeepClear => "keep-clear",
            RuleId::Headroom => "headroom",
            RuleId::Doorway => "doorway",
            RuleId::DriveIn => "drive-in",
            RuleId::SightLine => "sight-line",
            RuleId::InView => "in-view",
            RuleId::Level => "level",
            RuleId::FloorLine => "floor-line",
            RuleId::OnLift => "on-lift",
            RuleId::CheckLength => "check-length",
            RuleId::FixedPlace => "fixed-place",
            RuleId::Measured => "measured",
            RuleId::Equipment => "equipment",
            RuleId::Readiness => "readiness",
        }
    }

    /// Whether shutting a door can change what it finds.
    pub fn reads_walls(self) -> bool {
        matches!(
            self,
            RuleId::VehicleClear
                | RuleId::MirrorClear
                | RuleId::TargetClear
                | RuleId::RoomBehind
                | RuleId::ClearZone
                | RuleId::SightLine
                | RuleId::FloorLine
        )
    }

    /// Whether it is about where the vehicle stands in plan, against what stays: what siting searches by.
    pub fn is_plan(self) -> bool {
        self.reads_walls() || matches!(self, RuleId::KeepClear | RuleId::OnLift)
    }

    /// The rule of this name.
    pub fn rule(self) -> &'static Rule {
        // every id has its rule: tests/rules.rs holds the two lists together
        RULES.iter().find(|r| r.id == self).unwrap_or(&RULES[0])
    }
}

/// All rules in the order of their ids.
pub const RULES: &[Rule] = &[
    vehicle_clear::RULE,
    mirror_clear::RULE,
    target_clear::RULE,
    room_behind::RULE,
    targets_apart::RULE,
    clear_zone::RULE,
    keep_clear::RULE,
    headroom::RULE,
    doorway::RULE,
    drive_in::RULE,
    sight_line::RULE,
    in_view::RULE,
    level::RULE,
    floor_line::RULE,
    on_lift::RULE,
    check_length::RULE,
    fixed_place::RULE,
    measured::RULE,
    equipment::RULE,
    readiness::RULE,
];

/// Every pair the plan rules hold against each other, but for the boxes round faces and the lift: those are
/// [`halo_pairs`] and [`lift_pairs`].
pub fn plan_pairs<'a>(cx: &'a Cx<'a>, each: &mut dyn FnMut(Pair<'a>)) {
    vehicle_clear::pairs(cx, each);
    mirror_clear::pairs(cx, each);
    target_clear::pairs(cx, each);
    room_behind::pairs(cx, each);
    clear_zone::pairs(cx, each);
    keep_clear::pairs(cx, each);
}
