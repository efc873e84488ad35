//! The shop owns what the job needs.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::{Page, Rule, RuleId};
use crate::checks::finding::{Finding, Outcome, Unit};
use crate::checks::pairs::Cx;

pub const RULE: Rule = Rule {
    id: RuleId::Equipment,
    page: Page {
        title: "Targets owned",
        checks: "The shop owns as many of each target as any one setup needs at the same time.",
        matters: "A target that is not there on the day stops the job; a home-made one spoils it.",
        measured: "Pieces owned, by the equipment file, against the most that stand in one setup.",
        remedy: "Borrow, hire or buy the target named, or send the job out.",
        source: "`owned` of the equipment file; the stations of the procedure.",
    },
    run,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    let layout = cx.layout;
    let mut most: BTreeMap<&Arc<str>, usize> = BTreeMap::new();
    for setup in &layout.setups {
        let mut here: BTreeMap<&Arc<str>, usize> = BTreeMap::new();
        for station in &setup.stations {
            *here.entry(&station.target).or_default() += 1;
        }
        for (target, count) in here {
            let m = most.entry(target).or_default();
            *m = count.max(*m);
        }
    }
    for (target, need) in most {
        let listed = layout.bundle.equipment.targets.get(target);
        let have = f64::from(listed.map_or(0, |t| t.owned));
        let need = need as f64;
        out.push(Finding {
            items: vec![target.clone()],
            have: Some(have),
            need: Some(need),
            margin: Some(have - need),
            unit: Unit::Count,
            note: listed.is_none().then(|| "the equipment file does not list it".into()),
            ..Finding::new(RuleId::Equipment, if have < need { Outcome::Fail } else { Outcome::Pass })
        });
    }
}
