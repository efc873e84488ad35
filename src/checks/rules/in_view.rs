//! What a sensor has to see lies inside its view.

use super::{Page, Rule, RuleId};
use crate::checks::finding::{Finding, Outcome, Unit};
use crate::checks::pairs::Cx;
use crate::geometry::P3;

pub const RULE: Rule = Rule {
    id: RuleId::InView,
    page: Page {
        title: "Target in the sensor's view",
        checks: "The middle and the four corners of each target a sensor looks at lie inside the sensor's view angles; so do the corners of an area it has to see.",
        matters: "A target at the rim of the picture, or half outside it, is not found, or found by a part of itself.",
        measured: "Both angles are counted from the sensor's forward axis, turned by `facing` and then tilted by `tilt`: sideways and upright, each half the full view angle less the angle of the point. The least over all points counts, in degrees.",
        remedy: "Check the sensor's place and angles in the vehicle file, the variant and the procedure's distance; nothing in the bay changes this.",
        source: "`view` of the vehicle file's sensor; nothing to spare is asked.",
    },
    run,
};

/// Degrees that differ by no more than this are equal.
const NOISE_DEG: f64 = 1e-9;

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    let layout = cx.layout;
    for (s, setup) in layout.setups.iter().enumerate() {
        for sight in layout.sights(setup) {
            let base = Finding {
                procedure: Some(setup.procedure),
                setup: Some(s),
                items: vec![sight.from.clone(), sight.to.clone()],
                unit: Unit::Deg,
                ..Finding::new(RuleId::InView, Outcome::Unknown)
            };
            let rays = match (&sight.rays, sight.eye) {
                // between two points nobody looks; but a name that is not known may be a sensor's
                (Ok(_), None) => continue,
                (Err(missing), None) if !missing.0.contains(&sight.from) => continue,
                (Err(missing), _) => {
                    out.push(Finding { missing: missing.0.clone(), ..base });
                    continue;
                }
                (Ok(rays), Some(_)) => rays,
            };
            let Some(eye) = sight.eye else { continue };
            let seen = |p: P3| Some((eye.inside_view(p)?, p));
            let least = rays.iter().filter_map(|r| seen(r.b)).min_by(|a, b| a.0.total_cmp(&b.0));
            let Some((left, p)) = least else {
                out.push(Finding {
                    outcome: Outcome::NotApplicable,
                    note: Some("the vehicle file gives no view angles".into()),
                    ..base
                });
                continue;
            };
            let left = if left.abs() <= NOISE_DEG { 0.0 } else { left };
            out.push(Finding {
                outcome: if left < 0.0 { Outcome::Fail } else { Outcome::Pass },
                have: Some(left),
                need: Some(0.0),
                margin: Some(left),
                witness: Some((p.xy(), p.xy())),
                ..base
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RuleId::InView as RULE;
    use crate::checks::Outcome::{Fail, NotApplicable, Pass, Unknown};
    use crate::checks::rules::workbench::{BOARD, Bench};

    /// A camera 1000 behind the front axle, 700 high: the board's face, 600 wide and 800 high from 300 up, is 4000 ahead.
    fn camera(view: &str) -> Bench {
        Bench::new()
            .vehicle(&format!(
                r#"sensors: {{"windscreen camera": (kind: Camera, at: (-1000, 0, 700), {view})}}"#
            ))
            .setup(&format!(r#"{BOARD}, sights: [(from: "windscreen camera", to: "board")]"#))
    }

    #[test]
    fn inside_at_the_rim_and_outside() {
        // half of the face: 300 of 4000 sideways is 4.289 degrees, 400 of 4000 up is 5.711
        let (side, up) = ((300.0f64 / 4000.0).atan().to_degrees(), 0.1f64.atan().to_degrees());
        for (case, across, tall, outcome, left) in [
            ("inside", 2.0 * side + 2.0, 90.0, Pass, 1.0),
            ("at the rim", 2.0 * side, 90.0, Pass, 0.0),
            ("out sideways", 2.0 * side - 2.0, 90.0, Fail, -1.0),
            ("out above and below", 90.0, 2.0 * up - 2.0, Fail, -1.0),
            ("the smaller of both", 2.0 * side + 6.0, 2.0 * up + 2.0, Pass, 1.0),
        ] {
            let found = camera(&format!("view: (across: {across:?}, up: {tall:?})")).check();
            let f = found.one(case, RULE, &["windscreen camera", "board"]);
            assert!((f.margin.unwrap() - left).abs() < 1e-6, "{case}: {:?}", f.margin);
            assert_eq!((f.outcome, f.unit.word()), (outcome, "deg"), "{case}");
        }
        // turned 3 degrees aside, or tilted 3 degrees down, the far corners are that much nearer to the rim
        for view in ["facing: 3, view: (across: 10, up: 90)", "tilt: -3, view: (across: 90, up: 14)"] {
            assert_eq!(camera(view).check().one(view, RULE, &["windscreen camera", "board"]).outcome, Fail);
        }
    }

    #[test]
    fn what_is_missing() {
        let pair = ["windscreen camera", "board"];
        assert_eq!(camera("").check().one("no view angles", RULE, &pair).outcome, NotApplicable);
        let none = Bench::new()
            .setup(&format!(r#"{BOARD}, sights: [(from: "windscreen camera", to: "board")]"#))
            .check();
        none.lacks("no such sensor", RULE, &pair, &["windscreen camera"]);
        let no_height = Bench::new()
            .vehicle(r#"sensors: {"c": (kind: Camera, at: (-1000, 0, 700), view: (across: 52, up: 30))}"#)
            .setup(r#"name: "S", marks: [("X", Along(line: Centre, from: "FA", by: 3000))], stations: [(name: "board", target: "board", at: "X")], sights: [(from: "c", to: "board")]"#)
            .check();
        assert_eq!(no_height.one("no height", RULE, &["c", "board"]).outcome, Unknown);
    }

    #[test]
    fn an_area_to_be_seen() {
        let rear = |reach: f64| {
            Bench::new()
                .vehicle(r#"sensors: {"rear camera": (kind: Camera, at: (-3200, 0, 1000), facing: 180, tilt: -45, view: (across: 120, up: 80))}"#)
                .setup(&format!(
                    r#"name: "S", zones: [(name: "ground", shape: Strip(line: Tail, from: "T", along: (-500, 500), left: (200, {reach:?})), seen: true)],
                    sights: [(from: "rear camera", to: "ground")]"#
                ))
                .check()
        };
        // up to 5 degrees below level: 1000 / tan 5 degrees is 11430
        assert_eq!(rear(5000.0).one("near", RULE, &["rear camera", "ground"]).outcome, Pass);
        assert_eq!(rear(9000.0).one("far", RULE, &["rear camera", "ground"]).outcome, Pass);
        let far = rear(12000.0);
        assert_eq!(far.one("past the rim", RULE, &["rear camera", "ground"]).outcome, Fail);
    }
}
