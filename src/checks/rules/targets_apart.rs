//! Targets that stand at the same time do not meet.

use super::{Page, Policy, Rule, RuleId, Wording};
use crate::checks::finding::Finding;
use crate::checks::pairs::Cx;
use crate::layout::{Solid, gap_of};
use crate::model::{ItemKind, ItemRef};

pub(super) const RULE: Rule = Rule {
    id: RuleId::TargetsApart,
    page: Page {
        title: "Targets clear of each other and of the vehicle",
        checks: "The targets of one setup do not overlap each other, nor the body, mirrors or tyres of the vehicle.",
        matters: "A mat under a tyre lies crooked; two stands in one place cannot both be right. It also shows a procedure typed wrong.",
        measured: "The shortest plan distance between the two outlines, where their heights overlap. Touching is allowed.",
        remedy: "Nothing in the bay helps: check the vehicle's data, the variant chosen and the procedure's figures against the maker's text.",
        source: "Geometry; nothing to spare is asked.",
    },
    policy: Policy::PLAIN,
    wording: Wording::USUAL,
    phrases: &[],
    about: &[
        &[ItemKind::Station],
        &[ItemKind::Station, ItemKind::Vehicle, ItemKind::Mirrors, ItemKind::Tyres],
    ],
    run,
    pairs: None,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    let layout = cx.layout;
    for (s, setup) in layout.setups.iter().enumerate() {
        let placed: Vec<(ItemRef, &[Solid])> = setup
            .stations
            .iter()
            .filter_map(|st| Some((st.item(), st.place.as_ref().ok()?.parts.as_slice())))
            .collect();
        let body = setup.moved.as_ref().map_or(&layout.body, |m| &m.body);
        let vehicle: [(ItemRef, &[Solid]); 3] = [
            (cx.vehicle.by_ref(), &body.hull),
            (cx.mirrors.by_ref(), &body.mirrors),
            (cx.tyres.by_ref(), &body.tyres),
        ];
        for (i, (name, parts)) in placed.iter().enumerate() {
            // one piece that visits its places in turn never meets itself
            let others = if setup.def.in_turn { &[] } else { &placed[i + 1..] };
            for (other, theirs) in others.iter().chain(&vehicle) {
                if let Some(g) = gap_of(parts, theirs) {
                    let mut finding = cx.measured(RuleId::TargetsApart, g.mm, 0.0);
                    finding.procedure = Some(setup.procedure);
                    finding.setup = Some(s);
                    finding.items = vec![name.item(), other.item()];
                    finding.witness = Some((g.a, g.b));
                    out.push(finding);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RuleId::TargetsApart as RULE;
    use crate::checks::Outcome::{Fail, Pass, Tight};
    use crate::checks::rules::workbench::{BOARD, Bench};

    /// Two boards 600 wide, side by side.
    fn two(apart: f64, more: &str) -> Bench {
        Bench::new().setup(&format!(
            r#"name: "S", marks: [("X", Along(line: Centre, from: "FA", by: 3000)), ("Y", Off(line: Centre, from: "X", by: {apart:?}))],
            stations: [(name: "one", target: "board", at: "X", looks: Backward, height: Floor(300)),
                       (name: "two", target: "board", at: "Y", looks: Backward, {more})]"#
        ))
    }

    #[test]
    fn two_targets() {
        for (case, apart, outcome, margin) in [
            ("to spare", 615.0, Pass, 15.0),
            ("clear by 1 mm", 601.0, Tight, 1.0),
            ("exactly equal", 600.0, Tight, 0.0),
            ("short by 1 mm", 599.0, Fail, -1.0),
            // one upon the other: 40 ahead, the thickness, parts them
            ("in one place", 0.0, Fail, -40.0),
        ] {
            two(apart, "height: Floor(300)").check().says(case, RULE, &["one", "two"], outcome, margin);
        }
        let above = two(0.0, "height: Floor(1100)").check();
        above.silent("one above the other", RULE, &["one", "two"]);
        two(0.0, "height: Floor(1099)").check().says("1 mm too low", RULE, &["one", "two"], Fail, -40.0);
    }

    #[test]
    fn boxes_overlap_but_shapes_do_not() {
        // The second front looks to lower right; its back plane is 40 behind the line through Y to upper right. Y is 424
        // left of X, so the first board's nearest corner, (4700, 13040), is (124, 40) from it: (124 - 40) / sqrt(2) = 59.397
        // before the front plane. The turned face's box ends at x 4576 + 212.
        two(424.0, "turn: 45, height: Floor(300)").check().says(
            "turned",
            RULE,
            &["one", "two"],
            Pass,
            59.397,
        );
    }

    #[test]
    fn targets_and_the_vehicle() {
        let board = |by: f64| Bench::new().setup(&BOARD.replace("3000", &format!("{by:?}"))).check();
        let pair = ["board", "vehicle"];
        // the front faces the nose, 800 ahead of the front axle
        board(801.0).says("clear by 1 mm", RULE, &pair, Tight, 1.0);
        board(800.0).says("touching", RULE, &pair, Tight, 0.0);
        board(799.0).says("1 mm into the nose", RULE, &pair, Fail, -1.0);
        let mat = |left: f64, thickness: &str| {
            Bench::new()
                .targets(&format!(r#""mat": (kind: Mat, face: (width: 300, height: 300, {thickness}))"#))
                .setup(&format!(
                    r#"name: "S", marks: [("X", Off(line: Centre, from: "FA", by: {left:?}))],
                    stations: [(name: "mat", target: "mat", at: "X", looks: Forward)]"#
                ))
                .check()
        };
        for thickness in ["thickness: 5", ""] {
            // the left front tyre's outer face is 850 left of the centre line, the mat's half width is 150
            mat(1000.0, thickness).says("beside the tyre", RULE, &["mat", "tyres"], Tight, 0.0);
            mat(999.0, thickness).says("under the tyre", RULE, &["mat", "tyres"], Fail, -1.0);
            mat(0.0, thickness).silent("under the body", RULE, &["mat", "vehicle"]);
        }
        let mirrors = "mirrors: (width: 2200, behind_front_axle: 500, depth: 200, z: (900, 1100))";
        let setup = BOARD
            .replace(r#"from: "FA", by: 3000"#, r#"from: "FA", by: -300"#)
            .replace("Centre", "BodySide(Left)");
        // on the body's left side, its front 300 behind the front axle; the mirror box begins 400 behind it
        let found = Bench::new().vehicle(mirrors).setup(&setup).check();
        found.says("mirrors", RULE, &["board", "mirrors"], Pass, 100.0);
    }

    #[test]
    fn other_setups_and_targets_without_a_place() {
        let found = Bench::new().setup(BOARD).setup(&BOARD.replace("Board ahead", "Again")).check();
        found.silent("not at the same time", RULE, &["board", "board"]);
        let lost = two(0.0, "").check();
        lost.silent("no height, no place", RULE, &["one", "two"]);
        Bench::new().check().idle("no targets", RULE);
    }
}
