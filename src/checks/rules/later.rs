//! Rules this version does not judge: where a procedure asks for one, the answer is that it is not known.

use super::{Page, Rule, RuleId};
use crate::checks::finding::{Finding, Outcome};
use crate::checks::pairs::Cx;
use crate::model::Setup;

const NOT_JUDGED: &str = "not judged by this version";

const fn page(title: &'static str, checks: &'static str, matters: &'static str) -> Page {
    Page {
        title,
        checks,
        matters,
        measured: "Not judged by this version: where a procedure asks for it, the finding is `unknown` and so is the job.",
        remedy: "Have a qualified person see to it by the maker's procedure.",
        source: "The procedure file that asks for it.",
    }
}

pub const SIGHT_LINE: Rule = Rule {
    id: RuleId::SightLine,
    page: page(
        "Free sight",
        "Nothing stands between a sensor and the target it looks at.",
        "A post or a hanging lamp in the line of sight spoils the picture.",
    ),
    run: |cx, out| {
        asked(cx, out, RuleId::SightLine, |s| {
            s.sights.iter().map(|x| vec![x.from.text.clone(), x.to.text.clone()]).collect()
        })
    },
};

pub const IN_VIEW: Rule = Rule {
    id: RuleId::InView,
    page: page(
        "Target in the sensor's view",
        "The target lies inside the sensor's view angles.",
        "A target at the rim of the picture is not found.",
    ),
    run: |cx, out| {
        asked(cx, out, RuleId::InView, |s| {
            s.sights.iter().map(|x| vec![x.from.text.clone(), x.to.text.clone()]).collect()
        })
    },
};

pub const LEVEL: Rule = Rule {
    id: RuleId::Level,
    page: page(
        "Floor in one plane with the wheels",
        "The floor under the targets lies in the plane of the four tyre contacts.",
        "A floor that falls to a drain tilts the target's world against the vehicle's.",
    ),
    run: |cx, out| {
        asked(cx, out, RuleId::Level, |s| s.level.iter().map(|_| vec![s.name.text.clone()]).collect())
    },
};

pub const FLOOR_LINE: Rule = Rule {
    id: RuleId::FloorLine,
    page: page(
        "Floor for the string lines",
        "Each string line finds the length of floor the procedure asks for.",
        "A line that ends at a cabinet cannot be pulled true.",
    ),
    run: |cx, out| {
        asked(cx, out, RuleId::FloorLine, |s| s.lines.iter().map(|l| vec![l.from.text.clone()]).collect())
    },
};

/// One unknown finding for every set of items a setup asks about.
fn asked(cx: &Cx, out: &mut Vec<Finding>, rule: RuleId, items: fn(&Setup) -> Vec<Vec<std::sync::Arc<str>>>) {
    for (s, setup) in cx.layout.setups.iter().enumerate() {
        let def = &*setup.def;
        for items in items(def) {
            out.push(Finding {
                procedure: Some(setup.procedure),
                setup: Some(s),
                items,
                note: Some(NOT_JUDGED.into()),
                ..Finding::new(rule, Outcome::Unknown)
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{NOT_JUDGED, RuleId};
    use crate::checks::Outcome::Unknown;
    use crate::checks::Verdict;
    use crate::checks::rules::workbench::{BOARD, Bench};

    #[test]
    fn what_is_asked_for_is_unknown_and_nothing_else_is() {
        let setup = format!(
            r#"{BOARD}, sights: [(from: "front radar", to: "board")], level: (within: 5, over: Stations),
            lines: [(line: Centre, from: "FA", reach: 4000)]"#
        );
        let asked = Bench::new().setup(&setup).check();
        let quiet = Bench::new().setup(BOARD).check();
        for (rule, items) in [
            (RuleId::SightLine, &["front radar", "board"][..]),
            (RuleId::InView, &["front radar", "board"]),
            (RuleId::Level, &["Board ahead"]),
            (RuleId::FloorLine, &["FA"]),
        ] {
            let f = asked.one(rule.word(), rule, items);
            assert_eq!((f.outcome, f.note.as_deref()), (Unknown, Some(NOT_JUDGED)), "{}", rule.word());
            quiet.idle(rule.word(), rule);
        }
        assert_eq!(asked.judgement.verdict, Verdict::NotKnown);
        assert_eq!(quiet.judgement.verdict, Verdict::Fits);
    }
}
