//! The rules by name: the one list of them. A rule stands here and in its file in `checks/rules`; files, findings and
//! answers name it by the word given here.

/// Hands the list to a macro: each rule as its id, its word, its file in `checks/rules`, and whether its findings
/// are about `things` of the files alone or about what is `said` too: lines, lengths, lists. The order is the one findings
/// are listed in.
macro_rules! every_rule {
    ($then:ident) => {
        $then! {
            VehicleClear "vehicle-clear" vehicle_clear things,
            MirrorClear "mirror-clear" mirror_clear things,
            TargetClear "target-clear" target_clear things,
            RoomBehind "room-behind" room_behind things,
            TargetsApart "targets-apart" targets_apart things,
            ClearZone "clear-zone" clear_zone things,
            KeepClear "keep-clear" keep_clear things,
            Headroom "headroom" headroom said,
            Doorway "doorway" doorway things,
            DriveIn "drive-in" drive_in things,
            SightLine "sight-line" sight_line things,
            InView "in-view" in_view things,
            Level "level" level said,
            FloorLine "floor-line" floor_line said,
            OnLift "on-lift" on_lift things,
            CheckLength "check-length" check_length said,
            FixedPlace "fixed-place" fixed_place said,
            Measured "measured" measured things,
            Equipment "equipment" equipment things,
            Readiness "readiness" readiness said,
        }
    };
}
pub(crate) use every_rule;

macro_rules! ids {
    ($($id:ident $word:literal $file:ident $about:ident,)*) => {
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

            /// Whether its findings are about things of the files alone, which must be there.
            pub fn is_about_things(self) -> bool {
                match self {
                    $(RuleId::$id => stringify!($about) == "things",)*
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
