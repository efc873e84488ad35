//! Areas the workplace must keep free.

use super::fixed_place::held_by_bay;
use super::{Page, Policy, Rule, RuleId, Wording};
use crate::checks::finding::Finding;
use crate::checks::pairs::{Cx, Pair, Still};
use crate::layout::Solid;
use crate::model::{ItemKind, ItemRef};

pub(super) const RULE: Rule = Rule {
    id: RuleId::KeepClear,
    page: Page {
        title: "Areas that must stay free",
        checks: "Neither the vehicle nor any target stands in an area the workplace must keep free: electrical working space, an exit route, an extinguisher.",
        matters: "These areas are for emergencies. They may not be used, not even for the few minutes a target stands.",
        measured: "The shortest plan distance between the outline and the area, where their heights overlap; an area without heights counts at any height, and a mat in it is a failure too.",
        remedy: "Stand the vehicle elsewhere. These areas are not moved and not accepted away: local codes rule.",
        source: "`keep_clear` of the bay file, with the reason the shop wrote there; local codes are the authority.",
    },
    policy: Policy { walls: false, ..Policy::PLAN },
    wording: Wording::USUAL,
    phrases: &[],
    about: &[
        &[ItemKind::Station, ItemKind::Vehicle, ItemKind::Mirrors, ItemKind::Tyres],
        &[ItemKind::KeepClear],
    ],
    run,
    pairs: Some(pairs),
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    pairs(cx, &mut |pair| cx.judge(&pair, out));
}

pub(super) fn pairs<'a>(cx: &'a Cx<'a>, each: &mut dyn FnMut(Pair<'a>)) {
    let layout = cx.layout;
    let mut against_all = |procedure, setup, moving: ItemRef<'a>, parts: &'a [Solid]| {
        for kept in &layout.stage.keep_clear {
            each(Pair {
                rule: RuleId::KeepClear,
                procedure,
                setup,
                moving,
                parts,
                still: Still::Kept(kept),
                need: 0.0,
            });
        }
    };
    for (procedure, setup, body) in layout.bodies() {
        against_all(procedure, setup, cx.vehicle.by_ref(), &body.hull);
        against_all(procedure, setup, cx.mirrors.by_ref(), &body.mirrors);
        against_all(procedure, setup, cx.tyres.by_ref(), &body.tyres);
    }
    for (s, setup) in layout.setups.iter().enumerate() {
        for station in &setup.stations {
            if let Ok(stand) = &station.place
                && !held_by_bay(station)
            {
                against_all(Some(setup.procedure), Some(s), station.item(), &stand.parts);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RuleId::KeepClear as RULE;
    use crate::checks::Outcome::{Accepted, Fail, Pass, Tight};
    use crate::checks::rules::workbench::{BOARD, Bench};

    const PANEL: [&str; 2] = ["vehicle", "panel"];

    fn kept(shape: &str, z: &str) -> Bench {
        Bench::new().bay(&format!(r#"keep_clear: [(name: "panel", shape: {shape}, {z})]"#))
    }

    fn beside(x: f64, z: &str) -> Bench {
        kept(&format!("Box(at: ({x:?}, 8500), size: (400, 400))"), z)
    }

    // The body's right side is at x 5900, the area begins at x - 200; nothing to spare is needed.
    #[test]
    fn an_area_beside_the_body() {
        for (case, x, outcome, margin) in [
            ("to spare", 6115.0, Pass, 15.0),
            ("clear by 1 mm", 6101.0, Tight, 1.0),
            ("exactly equal", 6100.0, Tight, 0.0),
            ("short by 1 mm", 6099.0, Fail, -1.0),
        ] {
            for z in ["z: (0, 1981)", ""] {
                beside(x, z).check().says(case, RULE, &PANEL, outcome, margin);
            }
        }
        // square of 400 turned 45 degrees, 250 right of and 250 ahead of the corner (5900, 10800); its box begins at 5867
        let turned = kept("Box(at: (6150, 11050), size: (400, 400), turn: 45)", "");
        turned.check().says("boxes overlap but shapes do not", RULE, &PANEL, Pass, 153.553);
    }

    #[test]
    fn heights() {
        beside(6099.0, "z: (1500, 1981)").check().silent("above the roof", RULE, &PANEL);
        beside(6099.0, "z: (0, 150)").check().silent("below the body", RULE, &PANEL);
        beside(6099.0, "z: (0, 151)").check().says("reaching in by 1 mm", RULE, &PANEL, Fail, -1.0);
        beside(6099.0, "z: (700, 700)").check().says("without thickness", RULE, &PANEL, Fail, -1.0);
        // painted on the floor it is the tyres' and the targets' matter; the tyre's outer face is at 5850
        let painted = kept("Box(at: (6049, 10000), size: (400, 400))", "z: (0, 0)").check();
        painted.says("painted on the floor", RULE, &["tyres", "panel"], Fail, -1.0);
        painted.silent("under the body", RULE, &PANEL);
    }

    #[test]
    fn body_mirrors_and_tyres_are_three_items() {
        let mirrors = "mirrors: (width: 2200, behind_front_axle: 500, depth: 200, z: (900, 1100))";
        let found = kept("Box(at: (6150, 9600), size: (200, 600))", "").vehicle(mirrors).check();
        found.says("body", RULE, &PANEL, Pass, 150.0);
        // 50 over the mirror box: 50 to the left
        found.says("mirrors", RULE, &["mirrors", "panel"], Fail, -50.0);
        // the tyre's outer face is at 5850
        found.says("tyres", RULE, &["tyres", "panel"], Pass, 200.0);
        Bench::new().check().idle("nothing to keep clear", RULE);
    }

    #[test]
    fn targets_and_mats() {
        let mat = |thickness: &str| {
            (
                format!(r#""mat": (kind: Mat, face: (width: 400, height: 400, {thickness}))"#),
                r#"name: "S", marks: [("X", Along(line: Centre, from: "FA", by: 3000))], stations: [(name: "mat", target: "mat", at: "X")]"#,
            )
        };
        // mat x 4800 to 5200; the area ends at 4801
        for (thickness, z) in
            [("thickness: 5", ""), ("thickness: 5", "z: (0, 1981)"), ("", ""), ("", "z: (0, 1981)")]
        {
            let (targets, setup) = mat(thickness);
            let found =
                kept("Box(at: (4601, 13000), size: (400, 400))", z).targets(&targets).setup(setup).check();
            found.says("a mat that lies in it", RULE, &["mat", "panel"], Fail, -1.0);
        }
        let (targets, setup) = mat("thickness: 5");
        let found = kept("Box(at: (4601, 13000), size: (400, 400))", "z: (100, 1981)")
            .targets(&targets)
            .setup(setup)
            .check();
        found.silent("a mat under it", RULE, &["mat", "panel"]);
        let found = kept("Box(at: (4501, 13000), size: (400, 400))", "").setup(BOARD).check();
        found.says("a board", RULE, &["board", "panel"], Fail, -1.0);
    }

    #[test]
    fn accepted_with_a_reason() {
        let found = beside(6099.0, "")
            .job(r#"accepted: [(rule: "keep-clear", items: ["vehicle", "panel"], reason: "power is off")]"#)
            .check();
        found.says("accepted", RULE, &PANEL, Accepted, -1.0);
    }
}
