//! The rules by name: the one list of them. A rule stands here and in its file in `checks/rules`; files, findings and
//! answers name it by the word given here.

/// Hands the list to a macro: each rule as its id, its word, and its file in `checks/rules`. The order is the one
/// findings are listed in.
macro_rules! every_rule {
    ($then:ident) => {
        $then! {
            VehicleClear "vehicle-clear" vehicle_clear,
            MirrorClear "mirror-clear" mirror_clear,
            TargetClear "target-clear" target_clear,
            RoomBehind "room-behind" room_behind,
            TargetsApart "targets-apart" targets_apart,
            ClearZone "clear-zone" clear_zone,
            KeepClear "keep-clear" keep_clear,
            Headroom "headroom" headroom,
            Doorway "doorway" doorway,
            DriveIn "drive-in" drive_in,
            SightLine "sight-line" sight_line,
            InView "in-view" in_view,
            Level "level" level,
            FloorLine "floor-line" floor_line,
            OnLift "on-lift" on_lift,
            CheckLength "check-length" check_length,
            FixedPlace "fixed-place" fixed_place,
            Measured "measured" measured,
            Equipment "equipment" equipment,
            Readiness "readiness" readiness,
        }
    };
}
pub(crate) use every_rule;

macro_rules! ids {
    ($($id:ident $word:literal $file:ident,)*) => {
        /// A rule by its name, in the order findings are listed in.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum RuleId {
            $($id,)*
        }

        impl RuleId {
            /// Every rule, in order.
            pub const ALL: &[RuleId] = &[$(RuleId::$id,)*];

            /// The name used in files, JSON and `explain`.
            pub fn word(self) -> &'static str {
                match self {
                    $(RuleId::$id => $word,)*
                }
            }
        }
    };
}
every_rule!(ids);

impl RuleId {
    /// The rule a file names; `None` where there is no such rule.
    pub fn read(word: &str) -> Option<RuleId> {
        RuleId::ALL.iter().copied().find(|r| r.word() == word)
    }
}

#[cfg(test)]
mod tests {
    use super::RuleId;

    #[test]
    fn every_word_is_its_rules_alone() {
        for rule in RuleId::ALL {
            assert_eq!(RuleId::read(rule.word()), Some(*rule));
        }
        assert_eq!(RuleId::read("vehicle clear"), None);
        assert_eq!(RuleId::read(""), None);
    }
}
