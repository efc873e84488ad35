//! Room beside the mirrors.

use super::{OBSTACLES, Page, Policy, Rule, RuleId, Wording};
use crate::checks::finding::Finding;
use crate::checks::pairs::{Cx, Pair, Still};
use crate::model::ItemKind;

pub(super) const RULE: Rule = Rule {
    id: RuleId::MirrorClear,
    page: Page {
        title: "Room beside the mirrors",
        checks: "Both mirrors keep the shop's clearance to every wall, fixture and lift post at their height.",
        matters: "Mirrors are the widest part of the vehicle and are the first thing a lift post or a rack takes off.",
        measured: "As for the body, with the two mirror boxes counted as one item.",
        remedy: "Drive the vehicle away from the thing named, fold the mirrors only where the maker's procedure allows it, or clear the thing.",
        source: "`clearance` of the bay or the job, 100 mm unless the shop says otherwise: the shop's own figure.",
    },
    policy: Policy { solid: true, ..Policy::PLAN },
    wording: Wording::USUAL,
    phrases: &[],
    about: &[&[ItemKind::Mirrors], OBSTACLES],
    run,
    pairs: Some(pairs),
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    pairs(cx, &mut |pair| cx.judge(&pair, out));
}

pub(super) fn pairs<'a>(cx: &'a Cx<'a>, each: &mut dyn FnMut(Pair<'a>)) {
    let layout = cx.layout;
    for (procedure, setup, body) in layout.bodies() {
        let parts = &body.mirrors;
        if parts.is_empty() {
            continue;
        }
        let things = layout.stage.things.iter().map(Still::Thing);
        for still in things.chain([Still::Walls]) {
            each(Pair {
                rule: RuleId::MirrorClear,
                procedure,
                setup,
                moving: cx.mirrors.by_ref(),
                parts,
                still,
                need: layout.needs.clearance,
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RuleId::MirrorClear as RULE;
    use crate::checks::Outcome::{Fail, Movable, Pass, Tight};
    use crate::checks::rules::workbench::Bench;

    // Mirror boxes x 3900 to 4100 and 5900 to 6100, y 9400 to 9600, z 900 to 1100.
    const MIRRORS: &str = "mirrors: (width: 2200, behind_front_axle: 500, depth: 200, z: (900, 1100))";
    const RACK: [&str; 2] = ["mirrors", "rack"];

    #[test]
    fn a_fixture_beside_the_mirror() {
        // near face at x - 200, 100 needed
        for (case, x, outcome, margin) in [
            ("to spare", 6415.0, Pass, 15.0),
            ("clear by 1 mm", 6401.0, Tight, 1.0),
            ("exactly equal", 6400.0, Tight, 0.0),
            ("short by 1 mm", 6399.0, Fail, -1.0),
            // 50 over the mirror box: 50 to the right
            ("overlapping", 6250.0, Fail, -150.0),
        ] {
            let shape = format!("Box(at: ({x:?}, 9500), size: (400, 400))");
            for heights in ["z: (0, 2000)", ""] {
                let found = Bench::new().vehicle(MIRRORS).fixture("rack", &shape, heights).check();
                found.says(case, RULE, &RACK, outcome, margin);
            }
        }
    }

    #[test]
    fn boxes_overlap_but_shapes_do_not() {
        // Square of 400 turned 45 degrees, 250 right of and 250 ahead of the corner (6100, 9600):
        // 250 * sqrt(2) - 200 = 153.553; its box starts at 6350 - 283 = 6067.
        let turned = Bench::new().vehicle(MIRRORS).fixture(
            "rack",
            "Box(at: (6350, 9850), size: (400, 400), turn: 45)",
            "",
        );
        turned.check().says("turned", RULE, &RACK, Pass, 53.553);
    }

    #[test]
    fn only_what_reaches_the_mirrors_height() {
        let at = |z: &str| {
            Bench::new().vehicle(MIRRORS).fixture("rack", "Box(at: (6399, 9500), size: (400, 400))", z)
        };
        at("z: (0, 900)").check().silent("below", RULE, &RACK);
        at("z: (1100, 2000)").check().silent("above", RULE, &RACK);
        at("z: (0, 901)").check().says("reaching in by 1 mm", RULE, &RACK, Fail, -1.0);
        at("z: (0, 901), movable: true").check().says("movable", RULE, &RACK, Movable, -1.0);
        // raised by 300 the mirrors are at 1200 to 1400
        let lift = r#"lifts: [(name: "ramp", heights: [0, 300])]"#;
        let raised = |z| at(z).bay(lift).job(r#"support: Lift(name: "ramp", height: 300)"#).check();
        raised("z: (0, 1200)").silent("raised above it", RULE, &RACK);
        raised("z: (0, 1201)").says("raised", RULE, &RACK, Fail, -1.0);
    }

    #[test]
    fn both_mirrors_are_one_item() {
        let found = Bench::new()
            .vehicle(MIRRORS)
            .fixture("left rack", "Box(at: (3600, 9500), size: (400, 400))", "")
            // 100 ahead of the left mirror, 50 beside the right one: the nearer counts
            .fixture("wide rack", "Outline([(3000, 9700), (6150, 9700), (6150, 9500), (7000, 9500), (7000, 9900), (3000, 9900)])", "")
            .check();
        found.says("left", RULE, &["mirrors", "left rack"], Tight, 0.0);
        found.says("both", RULE, &["mirrors", "wide rack"], Fail, -50.0);
    }

    #[test]
    fn walls_and_no_mirrors() {
        // left mirror's outer face at x - 1100
        let found = Bench::new().vehicle(MIRRORS).pose(1199.0, 10000.0, 0.0).check();
        found.says("wall", RULE, &["mirrors", "wall 3"], Fail, -1.0);
        let found = Bench::new().vehicle(MIRRORS).pose(1000.0, 10000.0, 0.0).check();
        found.says("through the wall", RULE, &["mirrors", "wall 3"], Fail, -200.0);
        let none = Bench::new().fixture("rack", "Box(at: (6200, 9500), size: (400, 400))", "").check();
        none.idle("no mirrors given", RULE);
    }
}
