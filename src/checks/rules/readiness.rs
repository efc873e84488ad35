//! What a person must see to on the day.

use std::sync::Arc;

use super::{InCurve, Judged, Page, Policy, Rule, RuleId, Title, Wording};
use crate::checks::finding::{Finding, Outcome};
use crate::checks::note::{Drive, Note, Ready, Remedy};
use crate::checks::pairs::Cx;
use crate::layout::Layout;
use crate::model::further::FixedTo;
use crate::model::language::FreeOf;
use crate::model::{Item, ItemKind, Name};
use crate::phrases::phrases;

phrases! { in "readiness";
    NOTHING = "nothing to confirm";
}

pub(super) const RULE: Rule = Rule {
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
    wording: Wording { title: Title::Note(NOTHING), remedy, ..Wording::USUAL },
    phrases: PHRASES,
    about: &[ItemKind::ALL],
    run,
    pairs: None,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    let layout = cx.layout;
    let mut confirm = |procedure: Option<usize>, setup: Option<usize>, item: Item, line: Ready| {
        out.push(Finding {
            procedure,
            setup,
            items: vec![item],
            note: Some(Note::Ready(Box::new(line))),
            ..Finding::new(RuleId::Readiness, Outcome::Confirm)
        });
    };
    let own = |line: &str| Ready::Line(line.into());
    let write_down = |line: &str| Ready::WriteDown(line.into());
    if layout.bundle.vehicle.mirrors.is_none() {
        confirm(None, None, Item::only(ItemKind::Mirrors), Ready::NoMirrors);
    }
    for (p, procedure) in layout.bundle.procedures.iter().enumerate() {
        if layout.rig.without.iter().any(|(w, _)| *w == p) {
            continue;
        }
        for line in &procedure.vehicle_state {
            confirm(Some(p), None, words(line), own(line));
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
                    confirm(Some(p), None, words(line), own(line));
                }
            } else if markets.is_empty() {
                let lines = lines.iter().map(|l| l.as_str().into()).collect();
                let line = Ready::IfMadeFor(market.text.clone(), lines);
                confirm(Some(p), None, words(market.as_str()), line);
            }
        }
        if let Some(valid) = &procedure.valid {
            let date = |d: &Option<String>| d.as_deref().map(Arc::from);
            let line = Ready::Valid { from: date(&valid.from), until: date(&valid.until) };
            confirm(Some(p), None, words("validity"), line);
        }
        for line in &procedure.readings {
            confirm(Some(p), None, words(line), write_down(line));
        }
        for (figure, printed) in procedure.printed.iter() {
            let line = Ready::Printed { figure: figure.text.clone(), as_is: printed.as_str().into() };
            confirm(Some(p), None, words(figure.as_str()), line);
        }
        type Told = fn(Arc<str>) -> Ready;
        let notes: [(&str, Told, &Option<String>); 3] = [
            ("light", Ready::Light, &procedure.light_note),
            ("floor", Ready::Floor, &procedure.floor_note),
            ("surroundings", Ready::Surroundings, &procedure.ambient_note),
        ];
        for (word, of, note) in notes {
            if let Some(note) = note {
                confirm(Some(p), None, words(word), of(note.as_str().into()));
            }
        }
    }
    for (s, setup) in layout.setups.iter().enumerate().filter(|(s, _)| !cx.is_idle(*s)) {
        let def = &*setup.def;
        for line in &def.vehicle_state {
            confirm(Some(setup.procedure), Some(s), words(line), own(line));
        }
        for line in &def.readings {
            confirm(Some(setup.procedure), Some(s), words(line), write_down(line));
        }
        for zone in setup.zones.iter().filter(|z| z.free_of.contains(&FreeOf::People)) {
            confirm(Some(setup.procedure), Some(s), zone.item().item(), Ready::Nobody(zone.name.clone()));
        }
    }
    drives(cx, &mut |s, leg| {
        let after = words(leg.after.as_deref().unwrap_or("before the first"));
        confirm(Some(layout.setups[s].procedure), Some(s), after, Ready::Drive(leg));
    });
    super::sunlight::notes(cx, out);
    super::nothing_placed::unknowns(cx, out);
    let aside = |procedure: usize, item: Item, why: Ready| Finding {
        procedure: Some(procedure),
        items: vec![item],
        note: Some(Note::Ready(Box::new(why))),
        ..Finding::new(RuleId::Readiness, Outcome::NotApplicable)
    };
    for left in &layout.rig.left_out {
        if let Ok(why) = &left.why {
            let item = Item::new(ItemKind::Words, left.name.clone());
            out.push(aside(left.procedure, item, Ready::LeftOut(left.name.clone(), why.clone())));
        }
    }
    for (p, sensor) in &layout.rig.without {
        let item = Item::new(ItemKind::Sensor, sensor.text.clone());
        out.push(aside(*p, item, Ready::NoSensor(sensor.text.clone())));
    }
}

/// A line of a list, known by its own words.
fn words(line: &str) -> Item {
    Item::new(ItemKind::Words, line)
}

/// Where the vehicle is driven between one setup and the next of the same procedure, and which targets stay.
fn drives(cx: &Cx, each: &mut dyn FnMut(usize, Drive)) {
    let layout = cx.layout;
    let mut before: Option<usize> = None;
    for (s, setup) in layout.setups.iter().enumerate().filter(|(s, _)| !cx.is_idle(*s)) {
        let last = before.replace(s).filter(|b| layout.setups[*b].procedure == setup.procedure);
        let stays = setup.stations.iter().filter(|x| matches!(x.def.fixed_to, Some(FixedTo::Earlier(_))));
        let leave: Vec<Arc<str>> = stays.map(|x| x.name.clone()).collect();
        let frame_of = |s: usize| layout.setups[s].moved.as_ref().map_or(layout.frame(), |m| m.frame);
        let (from, to) = (last.map_or(layout.frame(), frame_of), frame_of(s));
        let shift = from.to_local(to.origin);
        let turn = from.x.perp(&to.x).atan2(from.x.dot(&to.x)).to_degrees();
        let counts = |v: f64, least: f64| if v.abs() >= least { v } else { 0.0 };
        let leg = Drive {
            after: last.map(|b| layout.setups[b].name.clone()),
            setup: setup.name.clone(),
            leave,
            ahead: counts(shift.x, 0.5),
            left: counts(shift.y, 0.5),
            turn: counts(turn, 0.05),
        };
        if !leg.leave.is_empty() || !leg.stays() {
            each(s, leg);
        }
    }
}

fn remedy(finding: &Finding, _: &Layout) -> Option<Remedy> {
    if finding.outcome != Outcome::Unknown {
        return None;
    }
    Some(if finding.procedure.is_none() { Remedy::ChooseProcedure } else { Remedy::ChooseOther })
}

#[cfg(test)]
mod tests {
    use super::RuleId::Readiness as RULE;
    use crate::checks::Outcome::{Confirm, NotApplicable};
    use crate::checks::Verdict;
    use crate::checks::rules::RuleId;
    use crate::checks::rules::workbench::{BOARD, Bench, noted};

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
            assert!(!noted(f).is_empty(), "{item}");
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
