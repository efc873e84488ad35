//! What a person must see to on the day.

use std::borrow::Cow;

use super::{InCurve, Judged, Page, Policy, Rule, RuleId, Title, Wording};
use crate::checks::finding::{Finding, Outcome};
use crate::checks::pairs::Cx;
use crate::geometry::Frame;
use crate::layout::Layout;
use crate::model::further::FixedTo;
use crate::model::language::FreeOf;
use crate::model::{Item, ItemKind, Name};

pub const RULE: Rule = Rule {
    id: RuleId::Readiness,
    page: Page {
        title: "To confirm on the day",
        checks: "Lists what the maker wants of the vehicle, the light, the floor and the people, and what this plan cannot see. Where no procedure is chosen, or nothing of one is set up on this vehicle, it says so.",
        matters: "Tyre pressures, a full boot, a person in the beam: none of it is in a plan, and any of it ends in a wrong 'completed'.",
        measured: "Nothing is measured. What is to be confirmed never changes the verdict and is always printed. Only where nothing is placed is the answer not known: nothing placed is not a fit.",
        remedy: "Confirm each line at the vehicle, before the first target is set. Where nothing is placed, choose a procedure, or look up the variant, the way and the sensors it depends on.",
        source: "The procedure file's own lists, notes and conditions.",
    },
    policy: Policy { curve: InCurve::NoRoom, judged: Judged::Together, ..Policy::PLAIN },
    wording: Wording { title: Title::Note("nothing to confirm"), remedy, ..Wording::USUAL },
    about: &[ItemKind::ALL],
    run,
    pairs: None,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    let layout = cx.layout;
    let mut confirm =
        |procedure: Option<usize>, setup: Option<usize>, item: Item, note: Cow<'static, str>| {
            out.push(Finding {
                procedure,
                setup,
                items: vec![item],
                note: Some(note),
                ..Finding::new(RuleId::Readiness, Outcome::Confirm)
            });
        };
    if layout.bundle.vehicle.mirrors.is_none() {
        confirm(
            None,
            None,
            Item::only(ItemKind::Mirrors),
            "the vehicle file gives no mirrors: measure over them before driving in".into(),
        );
    }
    for (p, procedure) in layout.bundle.procedures.iter().enumerate() {
        if layout.rig.without.iter().any(|(w, _)| *w == p) {
            continue;
        }
        for line in &procedure.vehicle_state {
            confirm(Some(p), None, words(line), line.clone().into());
        }
        let job = &layout.bundle.job;
        let variants = job.procedures.get(p).into_iter().flat_map(|c| c.all_variants());
        let markets: Vec<&Name> = variants
            .filter(|v| procedure.vehicle_state_in.get(v.as_str()).is_some())
            .chain(&job.market)
            .collect();
        for (market, lines) in procedure.vehicle_state_in.iter() {
            if markets.contains(&market) {
                for line in lines {
                    confirm(Some(p), None, words(line), line.clone().into());
                }
            } else if markets.is_empty() {
                confirm(
                    Some(p),
                    None,
                    words(market.as_str()),
                    format!("if made for {market}: {}", lines.join("; ")).into(),
                );
            }
        }
        if let Some(valid) = &procedure.valid {
            let from = valid.from.as_ref().map_or(String::new(), |f| format!(" from {f}"));
            let until = valid.until.as_ref().map_or(String::new(), |u| format!(" until {u}"));
            confirm(
                Some(p),
                None,
                words("validity"),
                format!("this text applies{from}{until}: check the vehicle's date").into(),
            );
        }
        for line in &procedure.readings {
            confirm(Some(p), None, words(line), format!("write down: {line}").into());
        }
        for (figure, printed) in procedure.printed.iter() {
            confirm(
                Some(p),
                None,
                words(figure.as_str()),
                format!("{figure} is printed as {printed}").into(),
            );
        }
        let notes = [
            ("light", &procedure.light_note),
            ("floor", &procedure.floor_note),
            ("surroundings", &procedure.ambient_note),
        ];
        for (word, note) in notes {
            if let Some(note) = note {
                confirm(Some(p), None, words(word), format!("{word}: {note}").into());
            }
        }
    }
    for (s, setup) in layout.setups.iter().enumerate().filter(|(s, _)| !cx.is_idle(*s)) {
        let def = &*setup.def;
        for line in &def.vehicle_state {
            confirm(Some(setup.procedure), Some(s), words(line), line.clone().into());
        }
        for line in &def.readings {
            confirm(Some(setup.procedure), Some(s), words(line), format!("write down: {line}").into());
        }
        for zone in setup.zones.iter().filter(|z| z.free_of.contains(&FreeOf::People)) {
            let note = format!("nobody stands in {} while the sensor works", zone.name);
            confirm(Some(setup.procedure), Some(s), zone.item().item(), note.into());
        }
    }
    drives(cx, &mut |s, after, note| {
        confirm(Some(layout.setups[s].procedure), Some(s), words(after), note.into())
    });
    super::sunlight::notes(cx, out);
    super::nothing_placed::unknowns(cx, out);
    for left in &layout.rig.left_out {
        if let Ok(why) = &left.why {
            out.push(Finding {
                procedure: Some(left.procedure),
                items: vec![Item::new(ItemKind::Words, left.name.clone())],
                note: Some(format!("{} is left out: {why}", left.name).into()),
                ..Finding::new(RuleId::Readiness, Outcome::NotApplicable)
            });
        }
    }
    for (p, sensor) in &layout.rig.without {
        out.push(Finding {
            procedure: Some(*p),
            items: vec![Item::new(ItemKind::Sensor, sensor.text.clone())],
            note: Some(format!("the vehicle has no {sensor}").into()),
            ..Finding::new(RuleId::Readiness, Outcome::NotApplicable)
        });
    }
}

/// A line of a list, known by its own words.
fn words(line: &str) -> Item {
    Item::new(ItemKind::Words, line)
}

/// Where the vehicle is driven between one setup and the next of the same procedure, and which targets stay.
fn drives(cx: &Cx, each: &mut dyn FnMut(usize, &str, String)) {
    let layout = cx.layout;
    let mut before: Option<usize> = None;
    for (s, setup) in layout.setups.iter().enumerate().filter(|(s, _)| !cx.is_idle(*s)) {
        let last = before.replace(s).filter(|b| layout.setups[*b].procedure == setup.procedure);
        let stays: Vec<&str> = setup
            .stations
            .iter()
            .filter(|x| matches!(x.def.fixed_to, Some(FixedTo::Earlier(_))))
            .map(|x| &*x.name)
            .collect();
        let frame_of = |s: usize| layout.setups[s].moved.as_ref().map_or(layout.frame(), |m| m.frame);
        let way = drive_words(&last.map_or(layout.frame(), frame_of), &frame_of(s));
        let after = last.map_or("before the first", |b| &layout.setups[b].name);
        match (stays.is_empty(), way) {
            (true, None) => {}
            (true, Some(way)) => each(s, after, format!("after {after}, for {}: {way}", setup.name)),
            (false, None) => each(
                s,
                after,
                format!(
                    "after {after}, for {}: leave {} standing; the vehicle stays",
                    setup.name,
                    stays.join(", ")
                ),
            ),
            (false, Some(way)) => each(
                s,
                after,
                format!("after {after}, for {}: leave {} standing and {way}", setup.name, stays.join(", ")),
            ),
        }
    }
}

/// "drive 300 mm back"; nothing where the vehicle stays.
fn drive_words(from: &Frame, to: &Frame) -> Option<String> {
    let shift = from.to_local(to.origin);
    let mut words: Vec<String> = Vec::new();
    if shift.x.abs() >= 0.5 {
        words.push(format!(
            "drive {:.0} mm {}",
            shift.x.abs(),
            if shift.x < 0.0 { "back" } else { "forward" }
        ));
    }
    if shift.y.abs() >= 0.5 {
        words.push(format!(
            "bring it {:.0} mm to its {}",
            shift.y.abs(),
            if shift.y < 0.0 { "right" } else { "left" }
        ));
    }
    let turn = from.x.perp(&to.x).atan2(from.x.dot(&to.x)).to_degrees();
    if turn.abs() >= 0.05 {
        words.push(format!(
            "turn it {:.1} degrees {}",
            turn.abs(),
            if turn < 0.0 { "clockwise" } else { "anticlockwise" }
        ));
    }
    (!words.is_empty()).then(|| words.join(", "))
}

fn remedy(finding: &Finding, _: &Layout) -> Option<String> {
    if finding.outcome != Outcome::Unknown {
        return None;
    }
    Some(match finding.procedure {
        None => "Choose a procedure for this vehicle".into(),
        Some(_) => "Choose another variant, way or procedure, or look up the sensors it depends on".into(),
    })
}

#[cfg(test)]
mod tests {
    use super::RuleId::Readiness as RULE;
    use crate::checks::Outcome::{Confirm, NotApplicable};
    use crate::checks::Verdict;
    use crate::checks::rules::RuleId;
    use crate::checks::rules::workbench::{BOARD, Bench};

    const MIRRORS: &str = "mirrors: (width: 2200, behind_front_axle: 500, depth: 200, z: (900, 1100))";

    #[test]
    fn everything_a_person_must_see_to() {
        let found = Bench::new()
            .vehicle(MIRRORS)
            .procedure(r#"vehicle_state: ["tyres at placard pressure", "nobody inside"], light_note: "no glare", floor_note: "level", ambient_note: "no wind""#)
            .setup(&format!(
                r#"{BOARD}, vehicle_state: ["ignition on"], zones: [(name: "beam", shape: AroundVehicle(ahead: 100, behind: 0, left: 0, right: 0), free_of: [People])]"#
            ))
            .check();
        for item in [
            "tyres at placard pressure",
            "nobody inside",
            "light",
            "floor",
            "surroundings",
            "ignition on",
            "beam",
        ] {
            let f = found.one(item, RULE, &[item]);
            assert_eq!((f.outcome, f.margin), (Confirm, None), "{item}");
            assert!(f.note.as_ref().is_some_and(|n| !n.is_empty()), "{item}");
        }
        assert_eq!(found.of(RULE).len(), 7);
        assert_eq!(found.judgement.verdict, Verdict::Fits, "a list to confirm never changes the verdict");
        assert!(found.judgement.conditions.is_empty());
    }

    #[test]
    fn mirrors_that_are_not_given_are_asked_for() {
        assert_eq!(Bench::new().check().one("no mirrors", RULE, &["mirrors"]).outcome, Confirm);
        Bench::new().vehicle(MIRRORS).check().idle("mirrors given, nothing else asked", RULE);
    }

    #[test]
    fn a_sensor_the_vehicle_is_known_to_lack() {
        let setup = r#"name: "S", marks: [("X", Under(Sensor("front radar")))], zones: [(name: "field", shape: NotRead("figure"), free_of: [Metal])]"#;
        let found = Bench::new()
            .vehicle(MIRRORS)
            .vehicle(r#"without: ["front radar"]"#)
            .procedure(r#"vehicle_state: ["nobody inside"], measured: {"ride height": (unit: Mm)}"#)
            .setup(setup)
            .check();
        assert_eq!(found.one("lacks it", RULE, &["front radar"]).outcome, NotApplicable);
        let of_it = found.of(RULE).into_iter().filter(|f| f.procedure == Some(0));
        assert_eq!(of_it.count(), 1, "that procedure gives nothing else");
        found.idle("no measured figures of it", RuleId::Measured);
        found.idle("no zones of it", RuleId::ClearZone);
        // there is no other procedure: nothing placed is not a fit
        assert_eq!(found.judgement.verdict, Verdict::NotKnown);
    }

    #[test]
    fn accepted_in_vain() {
        let accepted = |items: &str| {
            format!(r#"accepted: [(rule: "vehicle-clear", items: [{items}], reason: "agreed")]"#)
        };
        // the bench is 600 from the body: it passes
        let found = Bench::new()
            .vehicle(MIRRORS)
            .fixture("bench", "Box(at: (6700, 9000), size: (400, 400))", "")
            .job(&accepted(r#""vehicle", "bench""#))
            .check();
        let f = found.one("stale", RULE, &["vehicle", "bench"]);
        assert_eq!(f.outcome, Confirm);
        assert_eq!(found.judgement.verdict, Verdict::Fits, "what is accepted in vain is no condition");
        let gone = Bench::new().vehicle(MIRRORS).job(&accepted(r#""vehicle", "crane""#)).check();
        assert_eq!(gone.one("no such pair", RULE, &["vehicle", "crane"]).outcome, Confirm);
    }
}
