//! String lines find the floor they need.

use std::sync::Arc;

use super::{Page, Rule, RuleId};
use crate::checks::finding::{Finding, Outcome};
use crate::checks::pairs::Cx;
use crate::geometry::{Line, NOISE_MM, P2, P3, Ray, V2};
use crate::layout::{Stage, Thing, both};

pub const RULE: Rule = Rule {
    id: RuleId::FloorLine,
    page: Page {
        title: "Floor for the string lines",
        checks: "Each string line of the procedure finds the length of free floor it is to be pulled over.",
        matters: "A line that ends at a cabinet or at the wall before its mark cannot be pulled true, and all marks taken from it are off.",
        measured: "From the foot of its mark along the line until the usable floor ends or something stands on it. What hangs overhead or lies flush does not count. It is not cut off at the length asked for.",
        remedy: "Clear what stands on the line, open a door, or move the vehicle back from where the line ends.",
        source: "`reach` of the procedure's line.",
    },
    run,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    for (s, setup) in cx.layout.setups.iter().enumerate() {
        for string in &setup.strings {
            let base = |outcome| Finding {
                procedure: Some(setup.procedure),
                setup: Some(s),
                items: vec![string.from.clone(), string.word.clone()],
                ..Finding::new(RuleId::FloorLine, outcome)
            };
            let ((back, far), line) = match both(string.reach.clone(), string.line.clone()) {
                Ok(known) => known,
                Err(missing) => {
                    out.push(Finding { missing: missing.0, ..base(Outcome::Unknown) });
                    continue;
                }
            };
            let ways =
                back.map(|need| (Line { dir: -line.dir, ..line }, need)).into_iter().chain([(line, far)]);
            for (line, need) in ways {
                // a reach below 0 is asked for the other way
                let line = if need < 0.0 && back.is_none() { Line { dir: -line.dir, ..line } } else { line };
                let need = if back.is_none() { need.abs() } else { need.max(0.0) };
                let found = judge(cx, line, need);
                let named = base(found.outcome);
                out.push(Finding {
                    procedure: named.procedure,
                    setup: named.setup,
                    items: named.items,
                    ..found
                });
            }
        }
    }
}

fn judge(cx: &Cx, line: Line, need: f64) -> Finding {
    let stage = &cx.layout.stage;
    let found = floor_from(stage, line.at, line.dir, &|_| true);
    let mut finding = cx.measured(RuleId::FloorLine, found.mm, need);
    let end = line.at + line.dir * found.mm;
    finding.witness = Some((line.at, end));
    finding.note = found.ends_at.as_ref().map(|name| format!("it ends at {name}").into());
    if finding.outcome == Outcome::Fail {
        let fixed = floor_from(stage, line.at, line.dir, &|thing| !thing.movable);
        if fixed.mm >= need - NOISE_MM {
            finding.outcome = Outcome::Movable;
            let ray = ray(line.at, line.at + line.dir * need);
            let on_it = stands(stage).filter(|t| t.movable && ray.through(&t.solid.shape, BAND).is_some());
            finding.moves = on_it.map(|t| t.name.clone()).collect();
        }
    }
    finding
}

struct Found {
    mm: f64,
    ends_at: Option<Arc<str>>,
}

/// Heights round the floor: plan questions asked of rays.
const BAND: (f64, f64) = (-1.0, 1.0);

fn ray(a: P2, b: P2) -> Ray {
    Ray { a: P3::new(a.x, a.y, 0.0), b: P3::new(b.x, b.y, 0.0) }
}

/// Things that stand on the floor.
fn stands(stage: &Stage) -> impl Iterator<Item = &Thing> {
    stage.things.iter().filter(|t| !t.overhead && !t.solid.z.is_flush() && t.solid.z.lo <= NOISE_MM)
}

/// The free floor from a place in a direction, with only the things that `counts` names.
fn floor_from(stage: &Stage, at: P2, way: V2, counts: &dyn Fn(&Thing) -> bool) -> Found {
    let (mm, edge) = usable_floor(stage, at, way);
    let mut found = Found { mm, ends_at: edge };
    let line = ray(at, at + way * mm);
    for thing in stands(stage).filter(|t| counts(t)) {
        if let Some((from, _)) = line.through(&thing.solid.shape, BAND)
            && from * mm < found.mm
        {
            found = Found { mm: from * mm, ends_at: Some(thing.name.clone()) };
        }
    }
    found
}

/// How far the usable floor reaches from a place in a direction, and the edge it ends at; 0 for a place off it.
fn usable_floor(stage: &Stage, at: P2, way: V2) -> (f64, Option<Arc<str>>) {
    if !stage.floor.contains(at) {
        return (0.0, None);
    }
    let mut stops: Vec<(f64, u32)> = Vec::new();
    let mut crossed = f64::INFINITY;
    for edge in stage.floor.edges() {
        let (p, q) = (edge.a - at, edge.b - at);
        let (off_p, off_q) = (way.perp(&p), way.perp(&q));
        let crosses = off_p.min(off_q) < -NOISE_MM && off_p.max(off_q) > NOISE_MM;
        if crosses {
            let along = way.dot(&(p + (q - p) * (off_p / (off_p - off_q))));
            stops.push((along, edge.label));
            if along > NOISE_MM {
                crossed = crossed.min(along);
            }
        } else {
            stops.extend(
                [(off_p, p), (off_q, q)]
                    .iter()
                    .filter(|(off, _)| off.abs() <= NOISE_MM)
                    .map(|(_, v)| (way.dot(v), edge.label)),
            );
        }
    }
    stops.retain(|(along, _)| *along > -NOISE_MM);
    stops.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let name = |label: u32| Some(stage.bound(label).name.clone());
    let mut last = (0.0, None);
    for (along, label) in stops {
        // between two stops the line is on the floor throughout, or off it
        if along - last.0 > NOISE_MM && !stage.floor.contains(at + way * ((along + last.0) / 2.0)) {
            return (last.0, last.1.and_then(name));
        }
        last = (along.max(0.0), Some(label));
        if along >= crossed {
            return (along, name(label));
        }
    }
    (last.0, last.1.and_then(name))
}

#[cfg(test)]
mod tests {
    use super::RuleId::FloorLine as RULE;
    use crate::checks::Outcome::{Fail, Movable, Pass, Tight, Unknown};
    use crate::checks::rules::workbench::Bench;

    /// The centre line from the front axle at (5000, 10000): the north wall is 10000 ahead.
    fn line(reach: &str) -> Bench {
        Bench::new().setup(&format!(r#"name: "S", lines: [(line: Centre, from: "FA", reach: {reach})]"#))
    }

    const PAIR: [&str; 2] = ["FA", "Centre"];

    #[test]
    fn to_the_wall() {
        for (case, reach, outcome, margin) in [
            ("clear by 20 mm", "9980", Pass, 20.0),
            ("clear by 1 mm", "9999", Tight, 1.0),
            ("exactly equal", "10000", Tight, 0.0),
            ("short by 1 mm", "10001", Fail, -1.0),
        ] {
            line(reach).check().says(case, RULE, &PAIR, outcome, margin);
        }
        // a named figure taken the other way
        let back = line(r#""-far""#).procedure(r#"values: {"far": 10001}"#).check();
        back.says("backward, short by 1 mm", RULE, &PAIR, Fail, -1.0);
        let found = line("12000").check();
        assert_eq!(found.one("ends", RULE, &PAIR).note.as_deref(), Some("it ends at wall 2"));
        // not cut off at the length asked for
        assert_eq!(line("100").check().one("free", RULE, &PAIR).have, Some(10000.0));
    }

    #[test]
    fn both_ways() {
        let found = line("(-9000, 11000)").check();
        let both = found.about(RULE, &PAIR);
        let told: Vec<_> = both.iter().map(|f| (f.outcome, f.need, f.margin)).collect();
        assert_eq!(told, [(Pass, Some(9000.0), Some(1000.0)), (Fail, Some(11000.0), Some(-1000.0))]);
    }

    #[test]
    fn things_on_the_line() {
        let cabinet = |more: &str| {
            line("3000").fixture("cabinet", "Box(at: (5400, 12500), size: (1000, 200))", more).check()
        };
        cabinet("z: (0, 900)").says("stands on it", RULE, &PAIR, Fail, -600.0);
        cabinet("z: (0, 900), movable: true").says("can be moved", RULE, &PAIR, Movable, -600.0);
        assert!(
            cabinet("z: (0, 900), movable: true")
                .judgement
                .conditions
                .contains(&"move cabinet out of the way".into())
        );
        cabinet("z: (2000, 2500), overhead: true").says("overhead", RULE, &PAIR, Pass, 7000.0);
        cabinet("z: (2000, 2500)").says("hangs on a wall", RULE, &PAIR, Pass, 7000.0);
        cabinet("z: (0, 0)").says("flush", RULE, &PAIR, Pass, 7000.0);
        // its side just touches the line
        let beside = line("3000")
            .fixture("cabinet", "Box(at: (5500, 12500), size: (1000, 200))", "z: (0, 900)")
            .check();
        beside.says("touching", RULE, &PAIR, Pass, 7000.0);
        // moving one of two is not enough
        let two = line("3000")
            .fixture("trolley", "Box(at: (5000, 11500), size: (400, 200))", "z: (0, 900), movable: true")
            .fixture("press", "Box(at: (5000, 12500), size: (400, 200))", "z: (0, 900)")
            .check();
        two.says("a press behind", RULE, &PAIR, Fail, -1600.0);
    }

    #[test]
    fn doors_and_notches() {
        let door = r#"doorways: [(name: "gate", side: 2, from: 4000, width: 2000, height: 3000, apron: [(4000, 20000), (6000, 20000), (6000, 23000), (4000, 23000)])]"#;
        line("12000").bay(door).check().says("shut", RULE, &PAIR, Fail, -2000.0);
        let open = line("12000").bay(door).job(r#"doors_open: ["gate"]"#).check();
        open.says("open", RULE, &PAIR, Pass, 1000.0);
        assert!(open.judgement.conditions.contains(&"gate stays open".into()));
        // a floor narrower ahead: the line runs along the notch's side and past its corner
        let notch = line("9000")
            .floor("[(0, 0), (5000, 0), (5000, 4000), (10000, 4000), (10000, 20000), (0, 20000)]")
            .pose(5000.0, 10000.0, 180.0);
        notch.check().says("along the side of a notch", RULE, &PAIR, Pass, 1000.0);
        let past = line("9000")
            .floor("[(0, 0), (4900, 0), (4900, 4000), (10000, 4000), (10000, 20000), (0, 20000)]")
            .pose(5000.0, 10000.0, 180.0);
        past.check().says("across it", RULE, &PAIR, Fail, -3000.0);
    }

    #[test]
    fn what_is_missing() {
        let thrust =
            Bench::new().setup(r#"name: "S", lines: [(line: Thrust, from: "RA", reach: 3000)]"#).check();
        thrust.lacks("no rear toe", RULE, &["RA", "Thrust"], &["rear_toe"]);
        let outside = line("100").pose(5000.0, 30000.0, 0.0).check();
        outside.says("off the floor", RULE, &PAIR, Fail, -100.0);
        Bench::new().setup(r#"name: "S""#).check().idle("no lines", RULE);
        let figure = Bench::new()
            .procedure(r#"values: {"far": Missing("cut off")}"#)
            .setup(r#"name: "S", lines: [(line: Centre, from: "FA", reach: "far")]"#)
            .check();
        assert_eq!(figure.one("no figure", RULE, &PAIR).outcome, Unknown);
    }
}
