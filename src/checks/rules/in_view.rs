//! What a sensor has to see lies inside its view.

use std::sync::Arc;

use super::{Page, Policy, Rule, RuleId, SIGHTED, Wording};
use crate::checks::figures::Figures;
use crate::checks::finding::{Finding, Outcome, Unit};
use crate::checks::note::Note;
use crate::checks::pairs::Cx;
use crate::checks::wording::item;
use crate::geometry::P3;
use crate::layout::sights::SightLine;
use crate::layout::{Layout, Setup, Stand};
use crate::model::{Item, ItemKind};
use crate::phrases::{Say, phrases, say};

phrases! { in "in-view";
    OUTSIDE = "{over} outside";
    BACK = "{seen} shows its back to {the sensor}, by {short}";
    EDGE_ON = "{seen} stands edge-on to {the sensor}";
    FRONT = "{seen} shows its front to {the sensor}, {left} from edge-on";
    OUT_OF_VIEW = "{seen} reaches {short} out of the view of {the sensor}";
    IN_VIEW = "{seen} lies inside the view of {the sensor} with {left} to spare";
    UNJUDGED = "{seen} in the view of {the sensor}";
}

pub(super) const RULE: Rule = Rule {
    id: RuleId::InView,
    page: Page {
        title: "Target in the sensor's view",
        checks: "The middle and the four corners of each target a sensor looks at lie inside the sensor's view angles; so do the corners of an area it has to see. An upright target turns its front to the sensor that looks at it: that of its sight, else the one the procedure is about.",
        matters: "A target at the rim of the picture, or half outside it, is not found, or found by a part of itself. A board that shows its back shows nothing.",
        measured: "Both angles are counted from the sensor's forward axis, turned by `facing` and then tilted by `tilt`: sideways and upright, each half the full view angle less the angle of the point. The least over all points counts, in degrees. The front: 90 degrees less the angle between the face's normal and the way from its middle to the sensor; told where it is 0 or less, or where no view angles are known.",
        remedy: "Check the sensor's place and angles in the vehicle file, the variant and the procedure's distance; nothing in the bay changes this. A target that shows its back: look up where it has to look.",
        source: "`view` of the vehicle file's sensor, `looks` of the procedure; nothing to spare is asked.",
    },
    policy: Policy::PLAIN,
    wording: Wording { past: OUTSIDE, ..Wording::titled(title) },
    phrases: PHRASES,
    about: &[&[ItemKind::Sensor, ItemKind::Mark], SIGHTED],
    run,
    pairs: None,
};

/// Degrees that differ by no more than this are equal.
const NOISE_DEG: f64 = 1e-9;

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    let layout = cx.layout;
    for (s, setup) in layout.setups.iter().enumerate() {
        let base = |sensor: &Item, seen: &Item| Finding {
            procedure: Some(setup.procedure),
            setup: Some(s),
            items: vec![sensor.clone(), seen.clone()],
            unit: Unit::Deg,
            ..Finding::new(RuleId::InView, Outcome::Unknown)
        };
        let mut looked_at: Vec<Arc<str>> = Vec::new();
        for sight in layout.sights(setup) {
            if sight.eye.is_some() {
                looked_at.push(sight.to.name().clone());
            }
            out.extend(of_sight(setup, &sight, base(&sight.from, &sight.to)));
        }
        let Some((sensor, eye)) = layout.own_sensor(setup) else { continue };
        let sensor = Item::new(ItemKind::Sensor, sensor);
        for station in setup.stations.iter().filter(|s| !looked_at.contains(&s.name)) {
            if let Ok(stand) = &station.place
                && let Some(front) = stand.turned_to(eye.at)
            {
                out.push(turned(front, stand, base(&sensor, &station.item().item())));
            }
        }
    }
}

/// What one sight finds: the front of what it looks at first, then the view. Nothing where nobody looks.
fn of_sight(setup: &Setup, sight: &SightLine, base: Finding) -> Option<Finding> {
    let (rays, eye) = match (&sight.rays, sight.eye) {
        // between two points nobody looks; but a name that is not known may be a sensor's
        (Ok(_), None) => return None,
        (Err(missing), None) if !missing.0.iter().any(|m| m.is_named(sight.from.name())) => return None,
        (Err(missing), _) => return Some(Finding { missing: missing.0.clone(), ..base }),
        (Ok(rays), Some(eye)) => (rays, eye),
    };
    let station = setup.stations.iter().find(|s| sight.own.contains(&s.name));
    let stand = station.and_then(|s| s.place.as_ref().ok());
    let front = stand.and_then(|stand| Some((stand.turned_to(eye.at)?, stand)));
    let seen = |p: P3| Some((eye.inside_view(p)?, p));
    let least = rays.iter().filter_map(|r| seen(r.b)).min_by(|a, b| a.0.total_cmp(&b.0));
    Some(match (front, least) {
        (Some((front, stand)), None) => turned(front, stand, base),
        (Some((front, stand)), _) if front <= NOISE_DEG => turned(front, stand, base),
        (_, Some((left, p))) => {
            let left = if left.abs() <= NOISE_DEG { 0.0 } else { left };
            measured(left, left < 0.0, p, base)
        }
        (None, None) => Finding { outcome: Outcome::NotApplicable, note: Some(Note::NoViewAngles), ..base },
    })
}

/// How far a target's front is turned toward the sensor; edge-on it shows nothing yet.
fn turned(front: f64, stand: &Stand, base: Finding) -> Finding {
    let front = if front.abs() <= NOISE_DEG { 0.0 } else { front };
    Finding { note: Some(Note::Turned), ..measured(front, front <= 0.0, stand.middle(), base) }
}

fn measured(left: f64, fails: bool, at: P3, base: Finding) -> Finding {
    Finding {
        outcome: if fails { Outcome::Fail } else { Outcome::Pass },
        have: Some(left),
        need: Some(0.0),
        margin: Some(left),
        witness: Some((at.xy(), at.xy())),
        ..base
    }
}

fn title(finding: &Finding, _: &Layout, say: Say) -> String {
    let (sensor, seen) = (item(finding, 0, say), item(finding, 1, say));
    let figures = Figures::of(finding, say.show);
    let front = finding.note == Some(Note::Turned);
    let phrase = match finding.margin {
        Some(left) if front && left < 0.0 => BACK,
        Some(_) if front && finding.outcome == Outcome::Fail => EDGE_ON,
        Some(_) if front => FRONT,
        Some(left) if left < 0.0 => OUT_OF_VIEW,
        Some(_) => IN_VIEW,
        None => UNJUDGED,
    };
    say!(say, phrase, seen, sensor, short = figures.short(), left = figures.left())
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

    /// The board 3000 ahead, its middle at 700: seen from (-1000, 0, 700) its front, looking back, is square to the sight.
    #[test]
    fn a_board_that_shows_its_back() {
        let pair = ["windscreen camera", "board"];
        let looks = |looks: &str, view: &str| {
            let setup = BOARD.replace("looks: Backward", looks);
            Bench::new()
                .vehicle(&format!(
                    r#"sensors: {{"windscreen camera": (kind: Camera, at: (-1000, 0, 700), {view})}}"#
                ))
                .setup(&format!(r#"{setup}, sights: [(from: "windscreen camera", to: "board")]"#))
                .check()
        };
        for (case, turned, front) in [
            ("its front", "looks: Backward", 90.0),
            ("a quarter less 1 degree", "looks: Backward, turn: 89", 1.0),
            ("edge-on", "looks: Right", 0.0),
            ("1 degree too far", "looks: Backward, turn: -91", -1.0),
            ("its back", "looks: Forward", -90.0),
        ] {
            let found = looks(turned, "");
            let f = found.one(case, RULE, &pair);
            assert!((f.have.unwrap() - front).abs() < 1e-6, "{case}: {:?}", f.have);
            assert_eq!(f.outcome, if front > 1e-6 { Pass } else { Fail }, "{case}");
            // with view angles the view's figure stands while the front is seen: 45 less 5.711 (400 of 4000 up)
            let found = looks(turned, "view: (across: 90, up: 90)");
            let f = found.one(case, RULE, &pair);
            assert_eq!(f.outcome, if front > 1e-6 { Pass } else { Fail }, "{case} with a view");
            if front <= 1e-6 {
                assert!((f.have.unwrap() - front).abs() < 1e-6, "{case}: {:?}", f.have);
            }
        }
        let square = looks("looks: Backward", "view: (across: 90, up: 90)");
        let left = 45.0 - 0.1f64.atan().to_degrees();
        assert!((square.one("view", RULE, &pair).have.unwrap() - left).abs() < 1e-6);
    }

    #[test]
    fn the_procedures_own_sensor_looks_where_no_sight_says_so() {
        let bench = |system: &str, sensor: &str, looks: &str| {
            Bench::new()
                .vehicle(&format!(
                    r#"sensors: {{"{sensor}": (kind: Camera, at: (-1000, 0, 700), view: (across: 1, up: 1))}}"#
                ))
                .procedure(&format!("system: {system}"))
                .setup(&BOARD.replace("looks: Backward", looks))
                .check()
        };
        for (system, sensor) in [
            ("ForwardCamera", "windscreen camera"),
            ("ForwardRadar", "front radar"),
            ("ForwardLaser", "windscreen laser"),
            ("NightVision", "night camera"),
            ("RearCamera", "rear camera"),
        ] {
            let back = bench(system, sensor, "looks: Forward");
            let f = back.one(system, RULE, &[sensor, "board"]);
            assert_eq!((f.outcome, f.have), (Fail, Some(-90.0)), "{system}");
            // only the front is asked, not the view of 1 degree
            let front = bench(system, sensor, "looks: Backward");
            let f = front.one(system, RULE, &[sensor, "board"]);
            assert_eq!((f.outcome, f.have), (Pass, Some(90.0)), "{system}");
        }
        bench("ForwardRadar", "windscreen camera", "looks: Forward").idle("not this system's", RULE);
        bench("SurroundView", "rear camera", "looks: Forward").idle("no one sensor", RULE);
        // a mat has no front
        let mat = Bench::new()
            .vehicle(r#"sensors: {"rear camera": (kind: Camera, at: (-3200, 0, 1000))}"#)
            .procedure("system: RearCamera")
            .targets(r#""mat": (kind: Mat, face: (width: 400, height: 400))"#)
            .setup(r#"name: "S", stations: [(name: "mat", target: "mat", at: "N")]"#);
        mat.check().idle("a mat", RULE);
    }

    #[test]
    fn what_is_missing() {
        let pair = ["windscreen camera", "board"];
        // without view angles there is still the front, square to the sight; an area has none
        let blind = camera("").check();
        let f = blind.one("no view angles", RULE, &pair);
        assert_eq!((f.outcome, f.have), (Pass, Some(90.0)));
        let area = Bench::new()
            .vehicle(r#"sensors: {"c": (kind: Camera, at: (-1000, 0, 700))}"#)
            .setup(r#"name: "S", zones: [(name: "z", shape: AroundVehicle(ahead: 1, behind: 1, left: 1, right: 1), seen: true)], sights: [(from: "c", to: "z")]"#)
            .check();
        assert_eq!(area.one("no view angles", RULE, &["c", "z"]).outcome, NotApplicable);
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
