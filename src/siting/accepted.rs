//! What a person accepted, as needs: an accepted pair may not get worse than at the job's pose, and solid things may
//! never overlap. Areas (zones, keep-clear, the room behind a target) may be overlapped as far as they are there.

use std::collections::BTreeMap;

use crate::checks::acceptance::Acceptances;
use crate::checks::{Outcome, check};
use crate::layout::Layout;
use crate::model::{FindingKey, ItemRef, Pose, RuleId};

/// Accepted pairs, with what they have at the job's pose.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Relaxed {
    /// What a person accepted.
    accepted: Acceptances,
    /// What accepted pairs have at the job's pose.
    have: BTreeMap<FindingKey, f64>,
    /// Whether the job has a pose.
    placed: bool,
}

impl Relaxed {
    /// Reads the job's acceptances; without a pose of its own nothing may overlap.
    pub fn new(layout: &Layout) -> Relaxed {
        let mut relaxed = Relaxed {
            accepted: Acceptances::of(&layout.bundle),
            have: BTreeMap::new(),
            placed: matches!(layout.bundle.job.pose, Pose::At { .. }),
        };
        if relaxed.accepted.is_empty() || !relaxed.placed {
            return relaxed;
        }
        for f in check(layout).findings {
            if let Some(have) = f.have.filter(|_| f.outcome == Outcome::Accepted) {
                relaxed.have.insert(f.key(), have);
            }
        }
        relaxed
    }

    /// What a pair needs: its rule's need, or less where a person accepted less.
    pub fn need(&self, rule: RuleId, setup: Option<usize>, items: [ItemRef; 2], need: f64) -> f64 {
        let Some(key) = self.accepted_pair(rule, setup, items) else { return need };
        match self.have.get(&key) {
            Some(have) if rule.rule().policy.solid => need.min(have.max(0.0)),
            Some(have) => need.min(*have),
            None if self.placed => need,
            None => need.min(0.0),
        }
    }

    /// What a pair may have at most: its rule's figure, or more where a person accepted more.
    pub fn most(&self, rule: RuleId, setup: Option<usize>, items: [ItemRef; 2], allowed: f64) -> f64 {
        let Some(key) = self.accepted_pair(rule, setup, items) else { return allowed };
        self.have.get(&key).map_or(allowed, |have| allowed.max(*have))
    }

    /// The pair, where a person accepted it.
    fn accepted_pair(&self, rule: RuleId, setup: Option<usize>, items: [ItemRef; 2]) -> Option<FindingKey> {
        if self.accepted.is_empty() {
            return None;
        }
        let items = items.map(ItemRef::item);
        self.accepted.place(rule, &items)?;
        Some(FindingKey::new(rule, setup, items))
    }
}
