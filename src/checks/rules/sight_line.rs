//! Nothing stands in a line of sight.

use std::sync::Arc;

use super::{Page, Rule, RuleId};
use crate::checks::finding::{Finding, Outcome};
use crate::checks::pairs::Cx;
use crate::geometry::{Bounds, P2, Ray, RayGap, Shape};
use crate::layout::Setup;
use crate::layout::sights::SightLine;

pub const RULE: Rule = Rule {
    id: RuleId::SightLine,
    page: Page {
        title: "Free sight",
        checks: "Nothing stands between a sensor and the middle and four corners of the target it looks at, nor between any two points a procedure names.",
        matters: "A post, a hanging lamp or another target in the line of sight hides a part of the target, and what is read is not what was set out.",
        measured: "Straight lines in space, from the sensor to the face, against fixtures, overhead ones too, lift posts, the other targets of the setup and the walls, each with its heights. The least distance counts; touching is allowed. The vehicle and the target itself do not count. What lies flush in the floor hides nothing.",
        remedy: "Clear or move what stands there, or stand the vehicle so that the line misses it.",
        source: "Geometry; nothing to spare is asked.",
    },
    run,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    for (s, setup) in cx.layout.setups.iter().enumerate() {
        for sight in cx.layout.sights(setup) {
            let mut finding = judge(cx, setup, &sight);
            finding.procedure = Some(setup.procedure);
            finding.setup = Some(s);
            out.push(finding);
        }
    }
}

/// Something that may stand in the way.
struct Obstacle<'a> {
    name: &'a Arc<str>,
    form: Form<'a>,
    z: (f64, f64),
    movable: bool,
}

enum Form<'a> {
    Prism(&'a Shape),
    Sheet(P2, P2),
}

impl Obstacle<'_> {
    fn through(&self, ray: &Ray) -> Option<f64> {
        match self.form {
            Form::Prism(shape) => ray.through(shape, self.z).map(|(from, _)| from),
            Form::Sheet(a, b) => ray.through_sheet(a, b, self.z),
        }
    }

    fn gap(&self, ray: &Ray) -> RayGap {
        match self.form {
            Form::Prism(shape) => ray.gap(shape, self.z),
            Form::Sheet(a, b) => ray.sheet_gap(a, b, self.z),
        }
    }

    /// Never more than the gap.
    fn at_least(&self, ray: &Ray) -> f64 {
        match self.form {
            Form::Prism(shape) => ray.box_gap(&shape.bounds(), self.z),
            Form::Sheet(a, b) => ray.box_gap(&Bounds::of([a, b]), self.z),
        }
    }
}

fn obstacles<'a>(cx: &'a Cx, setup: &'a Setup, own: &[Arc<str>]) -> Vec<Obstacle<'a>> {
    let stage = &cx.layout.stage;
    let things = stage.things.iter().filter(|t| !t.solid.z.is_flush()).map(|t| Obstacle {
        name: &t.name,
        form: Form::Prism(&t.solid.shape),
        z: (t.solid.z.lo, t.solid.z.hi),
        movable: t.movable,
    });
    let others = setup.stations.iter().filter(|s| !own.contains(&s.name));
    let targets = others.filter_map(|s| Some((&s.name, s.place.as_ref().ok()?))).flat_map(|(name, stand)| {
        let solids = stand.parts.iter().filter(|p| !p.z.is_flush());
        solids.map(move |p| Obstacle {
            name,
            form: Form::Prism(&p.shape),
            z: (p.z.lo, p.z.hi),
            movable: false,
        })
    });
    let walls = stage.sheets.iter().map(|w| Obstacle {
        name: &w.name,
        form: Form::Sheet(w.a, w.b),
        z: w.z,
        movable: false,
    });
    things.chain(targets).chain(walls).collect()
}

fn judge(cx: &Cx, setup: &Setup, sight: &SightLine) -> Finding {
    let mut items = vec![sight.from.clone(), sight.to.clone()];
    let rays = match &sight.rays {
        Ok(rays) => rays,
        Err(missing) => {
            return Finding {
                items,
                missing: missing.0.clone(),
                ..Finding::new(RuleId::SightLine, Outcome::Unknown)
            };
        }
    };
    let mut nearest: Option<(RayGap, &Arc<str>)> = None;
    // how far along its ray, where, what
    let mut blockers: Vec<(f64, P2, &Obstacle)> = Vec::new();
    let obstacles = obstacles(cx, setup, &sight.own);
    for obstacle in &obstacles {
        let mut entry: Option<(f64, P2)> = None;
        for ray in rays {
            if let Some(t) = obstacle.through(ray) {
                let far = t * ray.length();
                if entry.is_none_or(|e| far < e.0) {
                    entry = Some((far, ray.at(t).xy()));
                }
            }
        }
        if let Some((far, at)) = entry {
            blockers.push((far, at, obstacle));
        }
        if !blockers.is_empty() {
            continue;
        }
        for ray in rays {
            if nearest.as_ref().is_some_and(|n| obstacle.at_least(ray) >= n.0.mm) {
                continue;
            }
            let gap = obstacle.gap(ray);
            if nearest.as_ref().is_none_or(|n| gap.mm < n.0.mm) {
                nearest = Some((gap, obstacle.name));
            }
        }
    }
    blockers.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.2.name.cmp(b.2.name)));
    if let Some((_, at, first)) = blockers.first() {
        items.push(first.name.clone());
        let only_movable = blockers.iter().all(|b| b.2.movable);
        let mut others: Vec<&str> =
            blockers[1..].iter().map(|b| &**b.2.name).filter(|n| **n != **first.name).collect();
        others.dedup();
        return Finding {
            items,
            need: Some(0.0),
            witness: Some((*at, *at)),
            moves: if only_movable {
                blockers.iter().map(|b| b.2.name.clone()).collect()
            } else {
                Vec::new()
            },
            note: (!others.is_empty()).then(|| format!("then by {}", others.join(", ")).into()),
            ..Finding::new(RuleId::SightLine, if only_movable { Outcome::Movable } else { Outcome::Fail })
        };
    }
    let Some((gap, name)) = nearest else {
        return Finding { items, need: Some(0.0), ..Finding::new(RuleId::SightLine, Outcome::Pass) };
    };
    items.push(name.clone());
    Finding {
        items,
        witness: Some((gap.on_ray.xy(), gap.on_thing.xy())),
        ..cx.measured(RuleId::SightLine, gap.mm, 0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::RuleId::SightLine as RULE;
    use crate::checks::Outcome::{Fail, Movable, Pass, Tight};
    use crate::checks::Verdict;
    use crate::checks::rules::workbench::{BOARD, Bench};

    /// A camera at (5000, 9000), 700 high, looking at the board's face at y 13000, x 4700 to 5300, z 300 to 1100.
    fn looking() -> Bench {
        Bench::new()
            .vehicle(r#"sensors: {"camera": (kind: Camera, at: (-1000, 0, 700))}"#)
            .setup(&format!(r#"{BOARD}, sights: [(from: "camera", to: "board")]"#))
    }

    fn box_at(x: f64, y: f64, w: f64) -> String {
        format!("Box(at: ({x:?}, {y:?}), size: ({w:?}, 200))")
    }

    #[test]
    fn a_cabinet_beside_the_line() {
        // the line to a left corner leaves the middle line by 300 in 4000: at y 12900 it is 292.5 aside. The cabinet's near
        // corner is at y 12900: square to the line counts
        let slant = 4000.0 / 4000f64.hypot(300.0);
        for (case, aside, outcome) in [
            ("clear by 1 mm", 1.0, Tight),
            ("clear by 20 mm", 20.0, Pass),
            ("exactly equal", 0.0, Tight),
            ("short by 1 mm", -1.0, Fail),
        ] {
            // ends just at y 12900 and is endless in height, so the nearest is the plan distance of its corner
            let x = 5292.5 + aside + 500.0;
            let found = looking().fixture("cabinet", &box_at(x, 12800.0, 1000.0), "z: (0, 4000)").check();
            let f = found.one(case, RULE, &["camera", "board", "cabinet"]);
            assert_eq!(f.outcome, outcome, "{case}: {:?}", f.margin);
            let want = (aside >= 0.0).then_some(aside * slant);
            match (f.margin, want) {
                (Some(have), Some(want)) => assert!((have - want).abs() < 0.02, "{case}: {have} {want}"),
                (have, want) => assert_eq!(have, want, "{case}"),
            }
        }
    }

    #[test]
    fn heights_count() {
        let pair = ["camera", "board", "beam"];
        // the highest line ends at 1100: a beam's underside over it
        for (case, under, outcome) in [
            ("clear by 1 mm", 1101.0, Tight),
            ("exactly equal", 1100.0, Tight),
            ("short by 1 mm", 1099.0, Fail),
        ] {
            let found = looking()
                .fixture(
                    "beam",
                    "Box(at: (5000, 12950), size: (4000, 100))",
                    &format!("z: ({under:?}, 2000), overhead: true"),
                )
                .check();
            assert_eq!(found.one(case, RULE, &pair).outcome, outcome, "{case}");
        }
        // low things and things on the floor under the lines
        let low = looking().fixture("ramp", &box_at(5000.0, 12000.0, 4000.0), "z: (0, 250)").check();
        assert_eq!(low.one("under it", RULE, &["camera", "board", "ramp"]).outcome, Pass);
        let grate = looking().fixture("grate", &box_at(5000.0, 12900.0, 400.0), "z: (0, 0)").check();
        grate.silent("flush things", RULE, &["camera", "board", "grate"]);
    }

    #[test]
    fn blocked_lines_have_no_figure_and_name_the_first() {
        let found = looking()
            .fixture("far rack", &box_at(5000.0, 12000.0, 400.0), "z: (0, 2000)")
            .fixture("trolley", &box_at(5000.0, 11500.0, 400.0), "z: (0, 2000), movable: true")
            .check();
        let f = found.one("rack and trolley", RULE, &["camera", "board", "trolley"]);
        assert_eq!((f.outcome, f.have, f.margin, f.need), (Fail, None, None, Some(0.0)));
        assert_eq!(f.note.as_deref(), Some("then by far rack"));
        let movable = looking()
            .fixture("trolley", &box_at(5000.0, 11500.0, 400.0), "z: (0, 2000), movable: true")
            .fixture(
                "stool",
                &box_at(5240.0, 12200.0, 100.0),
                "z: (0, 900), movable: true, clear_by: \"carry it out\"",
            )
            .check();
        let f = movable.one("only movable", RULE, &["camera", "board", "trolley"]);
        assert_eq!((f.outcome, f.margin), (Movable, None));
        assert_eq!(movable.judgement.verdict, Verdict::FitsIf);
        assert_eq!(movable.judgement.conditions, ["stool: carry it out", "move trolley out of the way"]);
        let cleared = looking()
            .fixture("trolley", &box_at(5000.0, 11500.0, 400.0), "z: (0, 2000), movable: true")
            .job(r#"cleared: ["trolley"]"#)
            .check();
        cleared.silent("cleared", RULE, &["camera", "board", "trolley"]);
    }

    #[test]
    fn walls_doors_and_other_targets() {
        // behind the north wall at y 20000
        let out = Bench::new()
            .vehicle(r#"sensors: {"camera": (kind: Camera, at: (-1000, 0, 700))}"#)
            .setup(r#"name: "S", marks: [("X", Along(line: Centre, from: "FA", by: 12000))], stations: [(name: "board", target: "board", at: "X", looks: Backward, height: Floor(300))], sights: [(from: "camera", to: "board")]"#);
        let door = |height: f64| {
            format!(
                r#"doorways: [(name: "gate", side: 2, from: 3000, width: 4000, height: {height:?}, apron: [(3000, 20000), (7000, 20000), (7000, 24000), (3000, 24000)])]"#
            )
        };
        let pair = |last| ["camera", "board", last];
        assert_eq!(out.check().one("wall", RULE, &pair("wall 2")).outcome, Fail);
        assert_eq!(
            out.clone().bay(&door(3000.0)).check().one("shut door", RULE, &pair("gate")).outcome,
            Fail
        );
        let open = out.clone().bay(&door(3000.0)).job(r#"doors_open: ["gate"]"#).check();
        let f = open.of(RULE)[0];
        assert_eq!(f.outcome, Pass, "{f:?}");
        assert!(open.judgement.conditions.iter().any(|c| c == "gate stays open"));
        // the wall over a low open door
        let low = out.clone().bay(&door(1000.0)).job(r#"doors_open: ["gate"]"#).check();
        assert_eq!(low.one("lintel", RULE, &pair("wall 2")).outcome, Fail);
        let two = Bench::new()
            .vehicle(r#"sensors: {"camera": (kind: Camera, at: (-1000, 0, 700))}"#)
            .setup(r#"name: "S", marks: [("X", Along(line: Centre, from: "FA", by: 3000)), ("Y", Along(line: Centre, from: "FA", by: 2000))],
                stations: [(name: "far", target: "board", at: "X", looks: Backward, height: Floor(300)), (name: "near", target: "board", at: "Y", looks: Backward, height: Floor(300))],
                sights: [(from: "camera", to: "far"), (from: "camera", to: "near")]"#)
            .check();
        assert_eq!(two.one("hidden", RULE, &["camera", "far", "near"]).outcome, Fail);
        assert_eq!(two.one("not by what is behind", RULE, &["camera", "near", "far"]).outcome, Pass);
    }

    #[test]
    fn between_named_points() {
        let bench = |sight: &str| {
            Bench::new()
                .bay(r#"points: {"head left": (1000, 10000, 700), "head high": (1000, 10000, 3000)}"#)
                .vehicle(r#"points: {"roof centre": (-1000, 0, 1500)}"#)
                .fixture("jack", "Box(at: (2500, 10000), size: (300, 300))", "z: (0, 500)")
                .setup(&format!(r#"{BOARD}, sights: [{sight}]"#))
                .check()
        };
        // 700 high at the head, 300 at the wheel's middle: at the jack's far side, x 2650, still 491
        let f = bench(r#"(from: "head left", to: "front left wheel")"#);
        assert_eq!(f.one("blocked", RULE, &["head left", "front left wheel", "jack"]).outcome, Fail);
        let f = bench(r#"(from: "head high", to: "roof centre")"#);
        assert_eq!(f.one("over it", RULE, &["head high", "roof centre", "wall 3"]).outcome, Pass);
        assert_eq!(f.of(super::RuleId::InView)[0].items.len(), 0, "nobody looks along it");
        bench(r#"(from: "head right", to: "front left wheel")"#).lacks(
            "unknown",
            RULE,
            &["head right", "front left wheel"],
            &["head right"],
        );
        // to a mark on the floor: the jack, 500 high, is not in the way of a line that comes down behind it
        let f = bench(r#"(from: "head high", to: "X")"#);
        assert_eq!(f.of(RULE)[0].outcome, Pass);
    }

    #[test]
    fn what_is_missing() {
        let none =
            Bench::new().setup(&format!(r#"{BOARD}, sights: [(from: "camera", to: "board")]"#)).check();
        none.lacks("no such sensor", RULE, &["camera", "board"], &["camera"]);
        assert_eq!(none.judgement.verdict, Verdict::NotKnown);
        Bench::new().setup(BOARD).check().idle("no sights", RULE);
    }
}
