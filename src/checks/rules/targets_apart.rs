//! Targets that stand at the same time do not meet.

use std::sync::Arc;

use super::{Page, Rule, RuleId};
use crate::checks::finding::Finding;
use crate::checks::pairs::Cx;
use crate::layout::{Solid, gap_of};

pub const RULE: Rule = Rule {
    id: RuleId::TargetsApart,
    page: Page {
        title: "Targets clear of each other and of the vehicle",
        checks: "The targets of one setup do not overlap each other, nor the body, mirrors or tyres of the vehicle.",
        matters: "A mat under a tyre lies crooked; two stands in one place cannot both be right. It also shows a procedure typed wrong.",
        measured: "The shortest plan distance between the two outlines, where their heights overlap. Touching is allowed.",
        remedy: "Nothing in the bay helps: check the vehicle's data, the variant chosen and the procedure's figures against the maker's text.",
        source: "Geometry; nothing to spare is asked.",
    },
    run,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    let layout = cx.layout;
    for (s, setup) in layout.setups.iter().enumerate() {
        let placed: Vec<(&Arc<str>, &[Solid])> = setup
            .stations
            .iter()
            .filter_map(|st| Some((&st.name, st.place.as_ref().ok()?.parts.as_slice())))
            .collect();
        let body = setup.moved.as_ref().map_or(&layout.body, |m| &m.body);
        let vehicle: [(&Arc<str>, &[Solid]); 3] = [
            (&cx.vehicle, &body.hull),
            (&cx.mirrors, &body.mirrors),
            (&cx.tyres, &body.tyres),
        ];
        for (i, (name, parts)) in placed.iter().enumerate() {
            // one piece that visits its places in turn never meets itself
            let others = if setup.def.in_turn { &[] } else { &placed[i + 1..] };
            for (other, theirs) in others.iter().chain(&vehicle) {
                if let Some(g) = gap_of(parts, theirs) {
                    let mut finding = cx.measured(RuleId::TargetsApart, g.mm, 0.0);
                    finding.procedure = Some(setup.procedure);
                    finding.setup = Some(s);
                    finding.items = vec![(*name).clone(), (*other).clone()];
                    finding.witness = Some((g.a, g.b));
                    out.push(finding);
                }
            }
        }
    }
}
