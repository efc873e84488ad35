//! The floor where the targets stand lies in one plane with the wheels.

use std::borrow::Cow;
use std::sync::Arc;

use super::{Page, Rule, RuleId};
use crate::checks::finding::{Finding, Outcome};
use crate::checks::pairs::Cx;
use crate::geometry::{NOISE_MM, P2, Polygon, segment_gap};
use crate::layout::plane::no_survey;
use crate::layout::{FloorField, Known, Layout, Setup, Stance, WheelPlane, both};
use crate::model::language::Over;
use crate::units::format_mm_exact;

pub const RULE: Rule = Rule {
    id: RuleId::Level,
    page: Page {
        title: "Floor in one plane with the wheels",
        checks: "The floor under each target, over a zone or at marks lies in the plane of the four tyre contacts. This is not the same as flat (no bumps), nor as level (no slope): a flat slope is one plane with the wheels.",
        matters: "A floor that falls to a drain sets the target low or the vehicle nose down. The sensor is then aimed off by that angle, and the tester may still say 'completed'.",
        measured: "Heights are taken from the floor survey, linear between spots; the plane is the least-squares plane of the floor's heights under the four tyres. The largest height of the floor off that plane counts, up or down. A target is judged at the foot of its face; a zone at its corners, at the survey's spots inside and where its edge crosses the survey's triangles. Outside the survey, and raised on a lift, it is not known.",
        remedy: "Stand the vehicle elsewhere, shim the target by the height given with the station if the procedure allows that, or survey more of the floor.",
        source: "`within` of the procedure; where the maker gives no figure, `level` of the bay or the job, 5 mm unless the shop says otherwise.",
    },
    run,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    judge(cx.layout, out);
}

/// The least of allowed height less height off the plane over everything the setups ask at this pose, mm: for a map of
/// where the floor lets the vehicle stand. `None` where something asked is not known, or nothing is asked.
pub fn level_margin(layout: &Layout) -> Option<f64> {
    let mut found = Vec::new();
    judge(layout, &mut found);
    let margins: Option<Vec<f64>> = found.iter().map(|f| f.margin).collect();
    margins?.into_iter().min_by(f64::total_cmp)
}

/// [`level_margin`] with the vehicle at each of these places, for a picture of the best place as far as the floor goes.
pub fn level_map(layout: &Layout, stances: &[Stance]) -> Vec<Option<f64>> {
    stances.iter().map(|s| level_margin(&layout.at(*s))).collect()
}

fn judge(layout: &Layout, out: &mut Vec<Finding>) {
    for (s, setup) in layout.setups.iter().enumerate() {
        let Some(ask) = &setup.def.level else { continue };
        let within = match &ask.within {
            Some(figure) => layout.values(setup.procedure).of(figure),
            None => Ok(layout.needs.level),
        };
        let plane = both(within, layout.wheels(Some(setup)));
        for (name, places) in places(layout, setup, &ask.over) {
            let base = Finding {
                procedure: Some(setup.procedure),
                setup: Some(s),
                items: vec![name],
                ..Finding::new(RuleId::Level, Outcome::Unknown)
            };
            out.push(match both(plane.clone(), places) {
                Ok(((within, wheels), places)) => {
                    let shops = ask.within.is_none();
                    held(layout, base, (within, shops), &wheels, &places)
                }
                Err(missing) => Finding { missing: missing.0, note: raised(layout), ..base },
            });
        }
    }
}

/// The places that decide one finding.
struct Places {
    points: Vec<P2>,
    /// Some of what is asked lies off the survey.
    partly: bool,
}

/// What is asked, each by its name.
fn places(layout: &Layout, setup: &Setup, over: &Over) -> Vec<(Arc<str>, Known<Places>)> {
    let field = &layout.stage.survey;
    let one = |p: P2| Places { points: vec![p], partly: field.height(p).is_none() };
    match over {
        Over::Stations => {
            let foot = |s: &crate::layout::Station| s.place.clone().map(|stand| one(stand.frame.origin));
            setup.stations.iter().map(|s| (s.name.clone(), foot(s))).collect()
        }
        Over::Marks(names) => {
            names.iter().map(|n| (n.text.clone(), layout.mark(setup, n).map(one))).collect()
        }
        Over::Zone(name) => {
            let zone = setup.zones.iter().find(|z| *name == *z.name);
            let place = match zone {
                Some(zone) => zone.place.clone(),
                None => Err(crate::layout::Missing::one(name.text.clone())),
            };
            let all = place.map(|area| {
                let mut all = Places { points: Vec::new(), partly: false };
                for outline in area.outlines() {
                    add_area(field, outline, &mut all);
                }
                all
            });
            vec![(name.text.clone(), all)]
        }
    }
}

/// Where the height off a plane can be largest over an area: the surface is flat between these.
fn add_area(field: &FloorField, outline: &Polygon, all: &mut Places) {
    for corner in outline.points() {
        all.partly |= field.height(*corner).is_none();
        all.points.push(*corner);
    }
    all.points.extend(field.spots().iter().map(|s| s.xy()).filter(|p| outline.contains(*p)));
    let bounds = outline.bounds();
    for (p, q) in field.edges() {
        let near = p.x.min(q.x) <= bounds.max.x && p.x.max(q.x) >= bounds.min.x;
        if !near || p.y.min(q.y) > bounds.max.y || p.y.max(q.y) < bounds.min.y {
            continue;
        }
        for (a, b) in outline.edges() {
            let gap = segment_gap(a, b, p, q);
            if gap.mm <= NOISE_MM {
                all.points.push(gap.a);
            }
        }
    }
}

fn held(
    layout: &Layout,
    base: Finding,
    (within, shops): (f64, bool),
    wheels: &WheelPlane,
    places: &Places,
) -> Finding {
    let field = &layout.stage.survey;
    let known = places.points.iter().filter_map(|p| Some((wheels.residual(field, *p)?, *p)));
    let worst = known.max_by(|a, b| a.0.abs().total_cmp(&b.0.abs()));
    let Some((residual, at)) = worst.filter(|(r, _)| !places.partly || r.abs() > within + NOISE_MM) else {
        return Finding { need: Some(within), missing: no_survey().0, note: raised(layout), ..base };
    };
    let mut margin = within - residual.abs();
    if margin.abs() <= NOISE_MM {
        margin = 0.0;
    }
    let mut note = String::from(if residual < 0.0 { "below" } else { "above" });
    note += " the plane of the wheels";
    if let Some(error) = wheels.measured(field, at).and_then(|m| m.error) {
        note += &format!("; the survey's reading error makes that ±{} mm", format_mm_exact(error, 1));
        if margin.abs() < error {
            note += ", more than what is left";
        }
    }
    if shops {
        note += &format!("; the maker gives no figure, yours is {within} mm");
    }
    Finding {
        outcome: if margin < 0.0 { Outcome::Fail } else { Outcome::Pass },
        have: Some(residual.abs()),
        need: Some(within),
        margin: Some(margin),
        witness: Some((at, at)),
        note: Some(note.into()),
        ..base
    }
}

fn raised(layout: &Layout) -> Option<Cow<'static, str>> {
    (layout.raise != 0.0)
        .then(|| "the vehicle is raised: the floor's survey says nothing of the lift's plane".into())
}

#[cfg(test)]
mod tests {
    use super::RuleId::Level as RULE;
    use super::{level_map, level_margin};
    use crate::checks::Outcome::{Fail, Pass, Unknown};
    use crate::checks::rules::workbench::{BOARD, Bench};
    use crate::layout::Stance;

    /// A floor that rises to `spot` at the foot of the board (5000, 13000) and is even everywhere else.
    fn floor(spot: f64) -> String {
        format!(
            "heights: [(0, 0, 0), (10000, 0, 0), (10000, 20000, 0), (0, 20000, 0), (5000, 13000, {spot:?}), (0, 10100, 0), (10000, 10100, 0), (5000, 10300, 0)]"
        )
    }

    fn asked(within: &str, over: &str) -> String {
        format!("{BOARD}, level: ({within} over: {over})")
    }

    #[test]
    fn under_a_target() {
        for (case, spot, outcome, margin) in [
            ("clear by 1 mm", -4.0, Pass, 1.0),
            ("exactly equal", -5.0, Pass, 0.0),
            ("exactly equal, above", 5.0, Pass, 0.0),
            ("short by 1 mm", 6.0, Fail, -1.0),
            ("short by 1 mm, below", -6.0, Fail, -1.0),
        ] {
            let found = Bench::new().bay(&floor(spot)).setup(&asked("within: 5,", "Stations")).check();
            let f = found.one(case, RULE, &["board"]);
            let margin_is = f.margin.unwrap();
            assert!((margin_is - margin).abs() < 1e-9, "{case}: {margin_is}");
            assert_eq!(f.outcome, outcome, "{case}");
            assert!(
                (f.have.unwrap() - spot.abs()).abs() < 1e-9 && f.need == Some(5.0),
                "{case}: need - have, not have - need"
            );
            let way = if spot < 0.0 { "below" } else { "above" };
            assert!(f.note.as_deref().unwrap().starts_with(way), "{case}");
            assert!((level_margin(&found.layout).unwrap() - margin).abs() < 1e-9);
        }
    }

    #[test]
    fn what_is_missing() {
        let none = Bench::new().setup(&asked("within: 5,", "Stations")).check();
        none.lacks("no survey", RULE, &["board"], &["floor survey"]);
        assert_eq!(level_margin(&none.layout), None);
        let short = Bench::new()
            .bay("heights: [(0, 0, 0), (10000, 0, 0), (10000, 12000, 0), (0, 12000, 0)]")
            .setup(&asked("within: 5,", "Stations"))
            .check();
        short.lacks("the board off the survey", RULE, &["board"], &["floor survey"]);
        let aside = Bench::new()
            .bay(&floor(0.0))
            .setup(&asked("within: 5,", "Stations"))
            .pose(200.0, 10000.0, 0.0)
            .check();
        aside.lacks("the tyres off the survey", RULE, &["board"], &["floor survey"]);
        let figure = Bench::new()
            .bay(&floor(0.0))
            .procedure(r#"values: {"off plane": Missing("cut from the copy read")}"#)
            .setup(&asked(r#"within: "off plane","#, "Stations"))
            .check();
        figure.lacks("the limit", RULE, &["board"], &["off plane"]);
        let lift = Bench::new()
            .bay(&floor(0.0))
            .bay(r#"lifts: [(name: "scissor", heights: [0, 900])]"#)
            .job(r#"support: Lift(name: "scissor", height: 900)"#)
            .setup(&asked("within: 5,", "Stations"))
            .check();
        lift.lacks("raised on a lift", RULE, &["board"], &["floor survey"]);
        Bench::new().bay(&floor(40.0)).setup(BOARD).check().idle("not asked for", RULE);
    }

    #[test]
    fn the_shops_own_limit_says_so() {
        let found = Bench::new().bay(&floor(-5.5)).setup(&asked("", "Stations")).check();
        let f = found.one("default", RULE, &["board"]);
        assert_eq!((f.outcome, f.need), (Fail, Some(5.0)));
        assert!(f.note.as_deref().unwrap().contains("the maker gives no figure, yours is 5 mm"));
        let own =
            Bench::new().bay(&floor(-5.5)).bay("rules: (level: 6)").setup(&asked("", "Stations")).check();
        assert_eq!(own.one("own", RULE, &["board"]).outcome, Pass);
    }

    #[test]
    fn at_marks_and_over_zones() {
        let zone = |along: &str, within: f64| {
            let text = format!(
                r#"zones: [(name: "field", shape: Strip(line: Centre, from: "FA", along: ({along}), left: (-500, 500)))], level: (within: {within:?}, over: Zone("field"))"#
            );
            Bench::new().bay(&floor(-6.0)).setup(&format!("{BOARD}, {text}"))
        };
        // the spot lies inside the zone, no corner near it
        zone("1000, 4000", 6.0)
            .check()
            .one("a spot inside", RULE, &["field"])
            .margin
            .map(|m| assert!(m.abs() < 1e-9))
            .unwrap();
        assert_eq!(zone("1000, 4000", 5.0).check().one("a spot inside", RULE, &["field"]).outcome, Fail);
        // off the survey ahead: a known spot out of plane fails it, else it is not known
        assert_eq!(zone("1000, 11000", 5.0).check().one("partly off", RULE, &["field"]).outcome, Fail);
        assert_eq!(zone("1000, 11000", 7.0).check().one("partly off", RULE, &["field"]).outcome, Unknown);
        // the edge crosses the slope between spots: corners at 0 each, the crossing of the side y = 13000 is not a corner
        let across = zone("2999, 3001", 5.9).check();
        assert_eq!(across.one("between corners", RULE, &["field"]).outcome, Fail);
        let marks = Bench::new()
            .bay(&floor(-6.0))
            .setup(&format!(r#"{BOARD}, level: (within: 5, over: Marks(["X", "nose"]))"#))
            .check();
        assert_eq!(marks.one("X", RULE, &["X"]).outcome, Fail);
        assert_eq!(marks.one("nose", RULE, &["nose"]).outcome, Pass);
    }

    #[test]
    fn the_reading_error_is_told() {
        let found = Bench::new()
            .bay(&floor(-5.5))
            .bay("reading_error: 1")
            .setup(&asked("within: 5,", "Stations"))
            .check();
        let note = found.one("error", RULE, &["board"]).note.as_deref().unwrap();
        assert!(note.contains("±1") && note.contains("more than what is left"), "{note}");
        assert!(!found.layout.stage.survey.is_empty());
    }

    #[test]
    fn a_map_of_poses() {
        let found = Bench::new().bay(&floor(-6.0)).setup(&asked("within: 5,", "Stations")).check();
        let stances = [10000.0, 6000.0, 18000.0].map(|y| Stance { x: 5000.0, y, heading: 0.0 });
        let map = level_map(&found.layout, &stances);
        assert!((map[0].unwrap() + 1.0).abs() < 1e-9);
        assert!(map[1].unwrap() > 4.0, "the board then stands at 9000, on even floor");
        assert_eq!(map[2], None, "the board then stands off the survey");
    }
}
