//! What a person accepted, as needs: an accepted pair may not get worse than at the job's pose, and solid things may
//! never overlap. Areas (zones, keep-clear, the room behind a target) may be overlapped as far as they are there.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::checks::RuleId;
use crate::checks::{Outcome, check};
use crate::layout::Layout;
use crate::model::Pose;

/// Sorted names of what a finding is about.
type Items = Vec<Arc<str>>;

/// Accepted pairs, with what they have at the job's pose.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Relaxed {
    /// Rules and sorted items a person accepted.
    accepted: Vec<(String, Items)>,
    /// What accepted pairs have at the job's pose.
    have: BTreeMap<(RuleId, Option<usize>, Items), f64>,
    /// Whether the job has a pose.
    placed: bool,
}

impl Relaxed {
    /// Reads the job's acceptances; without a pose of its own nothing may overlap.
    pub fn new(layout: &Layout) -> Relaxed {
        let mut relaxed = Relaxed::default();
        for a in &layout.bundle.job.accepted {
            let mut items: Vec<Arc<str>> = a.items.iter().map(|i| i.text.clone()).collect();
            items.sort();
            relaxed.accepted.push((a.rule.to_string(), items));
        }
        relaxed.placed = matches!(layout.bundle.job.pose, Pose::At { .. });
        if relaxed.accepted.is_empty() || !relaxed.placed {
            return relaxed;
        }
        for f in check(layout).findings {
            if let Some(have) = f.have.filter(|_| f.outcome == Outcome::Accepted) {
                let mut items = f.items;
                items.sort();
                relaxed.have.insert((f.rule, f.setup, items), have);
            }
        }
        relaxed
    }

    /// What a pair needs: its rule's need, or less where a person accepted less.
    pub fn need(&self, rule: RuleId, setup: Option<usize>, items: [&Arc<str>; 2], need: f64) -> f64 {
        let Some(items) = self.accepted_items(rule, items) else { return need };
        let solid = rule.rule().policy.solid;
        let key = (rule, setup, items);
        match self.have.get(&key) {
            Some(have) if solid => need.min(have.max(0.0)),
            Some(have) => need.min(*have),
            None if self.placed => need,
            None => need.min(0.0),
        }
    }

    /// What a pair may have at most: its rule's figure, or more where a person accepted more.
    pub fn most(&self, rule: RuleId, setup: Option<usize>, items: [&Arc<str>; 2], allowed: f64) -> f64 {
        let Some(items) = self.accepted_items(rule, items) else { return allowed };
        self.have.get(&(rule, setup, items)).map_or(allowed, |have| allowed.max(*have))
    }

    /// The items sorted, where a person accepted the pair.
    fn accepted_items(&self, rule: RuleId, items: [&Arc<str>; 2]) -> Option<Items> {
        if self.accepted.is_empty() {
            return None;
        }
        let mut items = items.map(Arc::clone).to_vec();
        items.sort();
        self.accepted.iter().any(|(r, i)| r == rule.word() && *i == items).then_some(items)
    }
}
