//! Height above the vehicle, the targets and the zones.

use super::{Page, Policy, Rule, RuleId, Wording};
use crate::checks::figures::Figures;
use crate::checks::finding::{Finding, Outcome};
use crate::checks::pairs::Cx;
use crate::checks::wording::two;
use crate::geometry::{NOISE_MM, P2, Shape, V2, gap};
use crate::layout::strings::StringRun;
use crate::layout::{Area, Known, Layout, Solid, Stand, Thing, both};
use crate::model::language::FreeOf;
use crate::model::{Item, ItemKind, ItemRef, Lack};
use crate::phrases::{Say, phrases, say};

phrases! { in "headroom";
    ABOVE = "{what} reaches {depth} above {the ceiling}";
    TOO_HIGH = "{what} is {short} too high under {the ceiling}";
    BELOW = "{what} ends {have} below {the ceiling}";
}

pub const RULE: Rule = Rule {
    id: RuleId::Headroom,
    page: Page {
        title: "Headroom",
        checks: "The vehicle with its mirrors and every target with its stand keep the shop's headroom to the ceiling and to whatever hangs above them; so does a string that runs over the roof; a zone with a printed top that must be free of anything ends below both.",
        matters: "A van on a raised floor, a board on a tall stand, a radar field 4 m high under a crane beam: none of it shows in plan.",
        measured: "The vertical gap from the top to the ceiling or to the underside of what hangs above it in plan: each part by itself (body, each mirror, face, stand), and the least counts, so that a shelf over a stand counts though the face beside it is higher. What stands on the floor hangs over nothing. A string over the roof runs level at roof height for its whole reach.",
        remedy: "Stand elsewhere in the bay, lower the lift, raise or clear what hangs there, or use another bay.",
        source: "`headroom` of the bay or the job, 150 mm unless the shop says otherwise; for a zone its printed top and nothing more.",
    },
    policy: Policy::PLAIN,
    wording: Wording::titled(title),
    phrases: PHRASES,
    about: &[
        &[ItemKind::Vehicle, ItemKind::String, ItemKind::Station, ItemKind::Zone],
        &[ItemKind::Ceiling, ItemKind::Fixture, ItemKind::Post],
    ],
    run,
    pairs: None,
};

/// Something that needs height above it.
struct Tall<'a> {
    procedure: Option<usize>,
    setup: Option<usize>,
    what: ItemRef<'a>,
    /// Plan shapes with the height of their tops.
    parts: Vec<(&'a Shape, f64)>,
    need: f64,
}

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    let layout = cx.layout;
    let need = layout.needs.headroom;
    for (procedure, setup, body) in layout.bodies() {
        let parts = tops(body.hull.iter().chain(&body.mirrors));
        judge(cx, Tall { procedure, setup, what: cx.vehicle.by_ref(), parts, need }, out);
    }
    for (s, setup) in layout.setups.iter().enumerate() {
        for run in setup.strings.iter().filter(|r| r.over_vehicle) {
            let string = Item::new(ItemKind::String, format!("string from {}", run.from));
            match over_roof(run) {
                Ok(Some(shape)) => {
                    let parts = vec![(&shape, roof(layout))];
                    judge(
                        cx,
                        Tall {
                            procedure: Some(setup.procedure),
                            setup: Some(s),
                            what: string.by_ref(),
                            parts,
                            need,
                        },
                        out,
                    );
                }
                Ok(None) => {}
                Err(missing) => out.push(Finding {
                    procedure: Some(setup.procedure),
                    setup: Some(s),
                    items: vec![string],
                    missing: missing.0,
                    ..Finding::new(RuleId::Headroom, Outcome::Unknown)
                }),
            }
        }
        for station in &setup.stations {
            if let Ok(stand) = &station.place {
                let tall = Tall {
                    procedure: Some(setup.procedure),
                    setup: Some(s),
                    what: station.item(),
                    parts: tops_of(stand),
                    need,
                };
                judge(cx, tall, out);
            }
        }
        for zone in &setup.zones {
            if let Ok(Area::Plan { solid, printed: true }) = &zone.place
                && zone.free_of.contains(&FreeOf::Anything)
                && !zone.seen
            {
                let tall = Tall {
                    procedure: Some(setup.procedure),
                    setup: Some(s),
                    what: zone.item(),
                    parts: vec![(&solid.shape, solid.z.hi)],
                    need: 0.0,
                };
                judge(cx, tall, out);
            }
        }
    }
}

fn judge(cx: &Cx, tall: Tall, out: &mut Vec<Finding>) {
    let layout: &Layout = cx.layout;
    let top = tall.parts.iter().map(|p| p.1).fold(f64::NEG_INFINITY, f64::max);
    let fill = |mut finding: Finding, under: Item, at: P2| {
        finding.procedure = tall.procedure;
        finding.setup = tall.setup;
        finding.items = vec![tall.what.item(), under];
        finding.witness = Some((at, at));
        finding
    };
    let middle = tall.parts[0].0.bounds().centre();
    let ceiling = Item::only(ItemKind::Ceiling);
    out.push(match layout.stage.ceiling {
        Some(height) => fill(cx.measured(RuleId::Headroom, height - top, tall.need), ceiling, middle),
        None => fill(
            Finding {
                missing: vec![Lack::Ceiling],
                need: Some(tall.need),
                ..Finding::new(RuleId::Headroom, Outcome::Unknown)
            },
            ceiling,
            middle,
        ),
    });
    for thing in &layout.stage.things {
        let under = tall
            .parts
            .iter()
            .filter(|(shape, top)| {
                hangs_over(thing, *top) && shape.bounds().distance(&thing.solid.shape.bounds()) <= 0.0
            })
            .map(|(shape, top)| (gap(shape, &thing.solid.shape), top))
            .filter(|(g, _)| g.mm < -NOISE_MM)
            .max_by(|a, b| a.1.total_cmp(b.1));
        let Some((g, top)) = under else { continue };
        let mut finding = if thing.overhead && thing.endless {
            Finding {
                need: Some(tall.need),
                missing: vec![Lack::HeightOf(thing.name.clone())],
                ..Finding::new(RuleId::Headroom, Outcome::Unknown)
            }
        } else {
            cx.measured(RuleId::Headroom, thing.solid.z.lo - top, tall.need)
        };
        if thing.movable && finding.outcome == Outcome::Fail {
            finding.outcome = Outcome::Movable;
        }
        out.push(fill(finding, thing.item().item(), g.a));
    }
}

/// Whether a thing hangs over whatever ends at this height: flagged so, or wholly above it and not standing on the floor.
fn hangs_over(thing: &Thing, top: f64) -> bool {
    thing.overhead || (thing.solid.z.lo > NOISE_MM && thing.solid.z.lo + NOISE_MM >= top)
}

/// A flat target without thickness is no higher than where it lies.
fn tops_of(stand: &Stand) -> Vec<(&Shape, f64)> {
    if stand.path.len() > 1 {
        return tops(&stand.parts);
    }
    let face = (&stand.face.shape, stand.lower + stand.size.height);
    std::iter::once(face).chain(stand.foot.iter().map(|f| (&f.shape, f.z.hi))).collect()
}

/// Height of the roof above the bay's floor datum, mm.
fn roof(layout: &Layout) -> f64 {
    layout.body.hull.iter().map(|s| s.z.hi).fold(0.0, f64::max)
}

/// A string over the roof in plan: a strip as thin as a string. Nothing where it has no length.
fn over_roof(run: &StringRun) -> Known<Option<Shape>> {
    const STRING: f64 = 1.0;
    let (line, (back, forward)) = both(run.line.clone(), run.reach.clone())?;
    let (a, b) = (line.at - line.dir * back.unwrap_or(0.0), line.at + line.dir * forward);
    let length = (b - a).norm();
    let turn = line.dir.y.atan2(line.dir.x);
    Ok(Shape::rect(nalgebra::center(&a, &b), V2::new(length, STRING), turn).ok())
}

fn tops<'a>(solids: impl IntoIterator<Item = &'a Solid>) -> Vec<(&'a Shape, f64)> {
    solids.into_iter().map(|s| (&s.shape, s.z.hi)).collect()
}

fn title(finding: &Finding, _: &Layout, say: Say) -> String {
    let (what, ceiling) = two(finding, say);
    let figures = Figures::of(finding, say.show);
    let (depth, short, have) = (figures.depth(), figures.short(), figures.have());
    let phrase = match finding.margin {
        Some(margin) if margin < 0.0 && finding.have.is_some_and(|h| h < 0.0) => ABOVE,
        Some(margin) if margin < 0.0 => TOO_HIGH,
        _ => BELOW,
    };
    say!(say, phrase, what, ceiling, depth, short, have)
}

#[cfg(test)]
mod tests {
    use super::RuleId::{self, Headroom as RULE};
    use crate::checks::Outcome::{Fail, Movable, Pass, Tight};
    use crate::checks::Verdict;
    use crate::checks::rules::workbench::{BOARD, Bench};

    // The roof is at 1500, 150 needed.
    #[test]
    fn the_ceiling() {
        for (case, height, outcome, margin) in [
            ("to spare", 1665.0, Pass, 15.0),
            ("clear by 1 mm", 1651.0, Tight, 1.0),
            ("exactly equal", 1650.0, Tight, 0.0),
            ("short by 1 mm", 1649.0, Fail, -1.0),
            ("through it", 1400.0, Fail, -250.0),
        ] {
            Bench::new().ceiling(Some(height)).check().says(
                case,
                RULE,
                &["vehicle", "ceiling"],
                outcome,
                margin,
            );
        }
        let unknown = Bench::new().ceiling(None).check();
        unknown.lacks("no ceiling told", RULE, &["vehicle", "ceiling"], &["ceiling"]);
        assert_eq!(unknown.judgement.verdict, Verdict::NotKnown);
    }

    #[test]
    fn what_hangs_above() {
        let beam = |shape: &str, more: &str| Bench::new().fixture("beam", shape, more).check();
        let over = "Box(at: (5000, 9000), size: (9000, 200))";
        let pair = ["vehicle", "beam"];
        for (case, z, outcome, margin) in [
            ("clear by 1 mm", "z: (1651, 1800)", Tight, 1.0),
            ("exactly equal", "z: (1650, 1800)", Tight, 0.0),
            ("short by 1 mm", "z: (1649, 1800)", Fail, -1.0),
            ("lower than the roof", "z: (1400, 1800)", Fail, -250.0),
        ] {
            beam(over, &format!("{z}, overhead: true")).says(case, RULE, &pair, outcome, margin);
        }
        beam(over, "z: (1649, 1800)").says("not flagged, but wholly above", RULE, &pair, Fail, -1.0);
        beam(over, "z: (1499, 1800)").silent("not flagged and reaching below the roof", RULE, &pair);
        beam(over, "z: (1649, 1800), overhead: true, movable: true")
            .says("movable", RULE, &pair, Movable, -1.0);
        beam(over, "overhead: true").lacks("hangs at no known height", RULE, &pair, &["height of beam"]);
        let aside = "z: (1500, 1800), overhead: true";
        beam("Box(at: (6000, 9000), size: (200, 200))", aside).silent("touching in plan only", RULE, &pair);
        beam("Box(at: (5999, 9000), size: (200, 200))", aside).says(
            "1 mm above it in plan",
            RULE,
            &pair,
            Fail,
            -150.0,
        );
        // its box starts at 6150 - 283, left of the body's side
        let turned = "Box(at: (6150, 11050), size: (400, 400), turn: 45)";
        beam(turned, aside).silent("boxes overlap but shapes do not", RULE, &pair);
    }

    #[test]
    fn targets_by_the_part_that_stands_under_it() {
        let targets = r#""tall": (kind: Board, face: (width: 600, height: 800, thickness: 40), stand: Box(at: (-300, 0), size: (600, 700)))"#;
        let setup = BOARD.replace(r#"target: "board""#, r#"target: "tall""#);
        // face y 13000 to 13040, top 1100; stand y 13000 to 13600, top 300
        let lamp = |y: f64, z: f64| {
            let shape = format!("Box(at: (5000, {y:?}), size: (1500, 200))");
            let more = format!("z: ({z:?}, 3000), overhead: true");
            Bench::new().targets(targets).setup(&setup).fixture("lamp", &shape, &more).check()
        };
        let pair = ["board", "lamp"];
        lamp(13000.0, 1250.0).says("over the face", RULE, &pair, Tight, 0.0);
        lamp(13300.0, 1249.0).says("over the stand alone", RULE, &pair, Pass, 799.0);
        lamp(13300.0, 449.0).says("too near the stand", RULE, &pair, Fail, -1.0);
        let found = lamp(13000.0, 3000.0);
        found.says("and the ceiling", RULE, &["board", "ceiling"], Pass, 2750.0);
        let lost = Bench::new().setup(&BOARD.replace(", height: Floor(300)", "")).check();
        lost.silent("a target without a place", RULE, &["board", "ceiling"]);
    }

    #[test]
    fn a_shelf_over_a_stand_below_the_top_of_the_face() {
        // face y 13000 to 13040, z 300 to 1100; stand y 13000 to 13600, top 300: 150 above it are free up to 450
        let targets = r#""tall": (kind: Board, face: (width: 600, height: 800, thickness: 40), stand: Box(at: (-300, 0), size: (600, 700)))"#;
        let setup = BOARD.replace(r#"target: "board""#, r#"target: "tall""#);
        let shelf = |z: &str| {
            let shape = "Box(at: (5000, 13400), size: (1500, 200))";
            Bench::new().targets(targets).setup(&setup).fixture("shelf", shape, z).check()
        };
        let pair = ["board", "shelf"];
        shelf("z: (450, 500)").says("exactly equal", RULE, &pair, Tight, 0.0);
        shelf("z: (449, 500)").says("1 mm too low", RULE, &pair, Fail, -1.0);
        shelf("z: (300, 500)").says("lying on the stand", RULE, &pair, Fail, -150.0);
        shelf("z: (299, 500)").silent("reaching into the stand: a matter of its clearance", RULE, &pair);
    }

    #[test]
    fn a_shelf_over_a_mirror() {
        // mirrors x 3900 to 4100 and 5900 to 6100, y 9400 to 9600, tops 1100: below the roof at 1500
        let mirrors = "mirrors: (width: 2200, behind_front_axle: 500, depth: 200, z: (900, 1100))";
        let shelf = |x: f64, z: &str| {
            let shape = format!("Box(at: ({x:?}, 9500), size: (400, 400))");
            Bench::new().vehicle(mirrors).fixture("shelf", &shape, z).check()
        };
        let pair = ["vehicle", "shelf"];
        shelf(6250.0, "z: (1250, 1300)").says("exactly equal", RULE, &pair, Tight, 0.0);
        shelf(6250.0, "z: (1101, 1300), overhead: true").says(
            "1 above the mirror",
            RULE,
            &pair,
            Fail,
            -149.0,
        );
        shelf(6300.0, "z: (1101, 1300)").silent("beside the mirror", RULE, &pair);
        // over mirror and roof: one item, the least counts
        shelf(6050.0, "z: (1600, 1700)").says("over both", RULE, &pair, Fail, -50.0);
        shelf(6050.0, "z: (1600, 1700)").says("ceiling", RULE, &["vehicle", "ceiling"], Pass, 2350.0);
    }

    #[test]
    fn what_stands_on_the_floor_hangs_over_no_mat() {
        // mat without thickness x 4800 to 5200, y 12800 to 13200
        let over = |z: &str| {
            Bench::new()
                .targets(r#""mat": (kind: Mat, face: (width: 400, height: 400))"#)
                .setup(r#"name: "S", marks: [("X", Along(line: Centre, from: "FA", by: 3000))], stations: [(name: "mat", target: "mat", at: "X")]"#)
                .fixture("cabinet", "Box(at: (5000, 13100), size: (400, 400))", z)
                .check()
        };
        let pair = ["mat", "cabinet"];
        over("z: (0, 1900)").silent("a cabinet on the floor", RULE, &pair);
        over("z: (0, 1900)").says("is in its way", RuleId::TargetClear, &pair, Fail, -400.0);
        over("z: (0, 0)").silent("a plate in the floor", RULE, &pair);
        over("z: (100, 1900)").says("a cabinet on legs", RULE, &pair, Fail, -50.0);
        over("z: (100, 300), overhead: true").says("a hood", RULE, &pair, Fail, -50.0);
    }

    #[test]
    fn a_flat_target_has_its_own_height_and_no_more() {
        let found = Bench::new()
            .targets(r#""mat": (kind: Mat, face: (width: 400, height: 400))"#)
            .setup(r#"name: "S", marks: [("X", Along(line: Centre, from: "FA", by: 3000))], stations: [(name: "mat", target: "mat", at: "X")]"#)
            .check();
        assert_eq!(found.one("mat", RULE, &["mat", "ceiling"]).have, Some(4000.0));
    }

    #[test]
    fn zones_with_a_printed_top_that_must_be_free_of_anything() {
        let zone = |fields: &str| {
            let shape = r#"shape: Strip(line: Centre, from: "nose", along: (0, 5000), left: (-1500, 1500))"#;
            Bench::new().zone(&format!("{shape}, {fields}")).fixture(
                "beam",
                "Box(at: (5000, 13000), size: (9000, 200))",
                "z: (3300, 3500), overhead: true",
            )
        };
        let (beam, ceiling) = (["field", "beam"], ["field", "ceiling"]);
        for (case, top, outcome, margin) in [
            ("clear by 1 mm", 3299.0, Tight, 1.0),
            ("exactly equal", 3300.0, Tight, 0.0),
            ("short by 1 mm", 3301.0, Fail, -1.0),
        ] {
            let found = zone(&format!("z: (0, {top:?}), free_of: [Anything]")).check();
            found.says(case, RULE, &beam, outcome, margin);
            found.says(case, RULE, &ceiling, Pass, 4000.0 - top);
        }
        let metal = zone("z: (0, 3301), free_of: [Metal]").check();
        metal.silent("a field that forbids metal alone", RULE, &beam);
        metal.silent("a field that forbids metal alone", RULE, &ceiling);
        let endless = zone("free_of: [Anything]").check();
        endless.silent("no printed top", RULE, &beam);
        endless.silent("no printed top", RULE, &ceiling);
        let lift = r#"lifts: [(name: "ramp", heights: [0, 100])]"#;
        let raised = zone("z: (0, 3201), free_of: [Anything]")
            .bay(lift)
            .job(r#"support: Lift(name: "ramp", height: 100)"#);
        raised.check().says("raised", RULE, &beam, Fail, -1.0);
    }

    #[test]
    fn a_raised_vehicle() {
        let lift = r#"lifts: [(name: "ramp", heights: [0, 2350, 2351])]"#;
        let raised = |height: u32| {
            Bench::new().bay(lift).job(&format!(r#"support: Lift(name: "ramp", height: {height})"#)).check()
        };
        // 4000 - 1500 - 150 = 2350
        raised(2350).says("exactly equal", RULE, &["vehicle", "ceiling"], Tight, 0.0);
        raised(2351).says("1 mm too high", RULE, &["vehicle", "ceiling"], Fail, -1.0);
    }
}
