//! Figures taken off the car or the bay.

use super::{Competes, InCurve, Page, Policy, Rule, RuleId, Wording};
use crate::checks::figures::{Asks, Figures};
use crate::checks::finding::{Finding, Outcome, Unit};
use crate::checks::note::{Note, PicksOther};
use crate::checks::pairs::Cx;
use crate::checks::wording::{item, notes, pair_name};
use crate::layout::Layout;
use crate::model::further::Pick;
use crate::model::language;
use crate::model::{Item, ItemKind};
use crate::phrases::{Say, phrases, say};

phrases! { in "measured";
    TOLD = "measured {have}, nearer end of the band {need}";
    OUTSIDE = "{figure} of {have} is outside the maker's band by {short}: the work may not be done";
    NOTED = "{figure} of {have} {note}";
    INSIDE = "{figure} of {have} is inside the maker's band";
    IS = "{figure} is {have}";
    NOT_MEASURED = "{figure} is not measured";
}

pub(super) const RULE: Rule = Rule {
    id: RuleId::Measured,
    page: Page {
        title: "Measured figures",
        checks: "Every figure the procedure wants measured is there and inside the maker's band. A mark that cannot be placed is reported here, with the figure it lacks.",
        matters: "A ride height out of band or a lamp too high means the work may not be done at all, however well the bay fits.",
        measured: "The reading against the nearer end of the band. It does not compete for the job's least margin.",
        remedy: "Measure it and type it in. Outside the band: stop, and put the vehicle right first, as the maker says.",
        source: "`measured` of the procedure file.",
    },
    policy: Policy { competes: Competes::Never, curve: InCurve::NoRoom, ..Policy::PLAIN },
    wording: Wording { unknown, asks: |_| Asks::Told, told: Some(TOLD), ..Wording::titled(title) },
    phrases: PHRASES,
    about: &[&[ItemKind::Figure, ItemKind::Mark, ItemKind::Words]],
    run,
    pairs: None,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    let layout = cx.layout;
    let job = &layout.bundle.job;
    for (p, procedure) in layout.bundle.procedures.iter().enumerate() {
        if layout.rig.without.iter().any(|(w, _)| *w == p) {
            continue;
        }
        let picks = procedure.pick.as_ref().map(|p| &p.by);
        for (name, ask) in procedure.measured.iter().filter(|(n, _)| Some(*n) != picks) {
            let base = Finding {
                procedure: Some(p),
                items: vec![Item::new(ItemKind::Figure, name.text.clone())],
                unit: unit_of(ask.unit),
                ..Finding::new(RuleId::Measured, Outcome::Pass)
            };
            out.push(match job.measured.get(name.as_str()) {
                None => {
                    Finding { outcome: Outcome::Unknown, missing: vec![name.text.clone().into()], ..base }
                }
                Some(reading) => judge(reading.0, ask.between, base),
            });
        }
    }
    for left in &layout.rig.left_out {
        if let Err(missing) = &left.why {
            out.push(Finding {
                procedure: Some(left.procedure),
                items: vec![Item::new(ItemKind::Words, left.name.clone())],
                missing: missing.0.clone(),
                note: Some(Note::WhetherItApplies),
                ..Finding::new(RuleId::Measured, Outcome::Unknown)
            });
        }
    }
    picks(cx, out);
    for (s, setup) in layout.setups.iter().enumerate() {
        for mark in &setup.marks {
            if let Err(missing) = &mark.at {
                out.push(Finding {
                    procedure: Some(setup.procedure),
                    setup: Some(s),
                    items: vec![mark.item().item()],
                    missing: missing.0.clone(),
                    ..Finding::new(RuleId::Measured, Outcome::Unknown)
                });
            }
        }
    }
}

/// A figure that picks a variant falls in one of the bands.
fn picks(cx: &Cx, out: &mut Vec<Finding>) {
    let layout = cx.layout;
    for (p, procedure) in layout.bundle.procedures.iter().enumerate() {
        let Some(pick) = &procedure.pick else { continue };
        if layout.rig.without.iter().any(|(w, _)| *w == p) {
            continue;
        }
        let ask = procedure.measured.get(pick.by.as_str());
        let base = Finding {
            procedure: Some(p),
            items: vec![Item::new(ItemKind::Figure, pick.by.text.clone())],
            unit: unit_of(procedure.unit(pick.by.as_str())),
            ..Finding::new(RuleId::Measured, Outcome::Pass)
        };
        out.push(match layout.values(p).by_name(&pick.by) {
            Err(missing) => Finding { outcome: Outcome::Unknown, missing: missing.0, ..base },
            Ok(reading) => picked(layout, p, pick, ask.and_then(|a| a.between), reading, base),
        });
    }
}

/// One reading against the bands and its own band, and against what the job chose by hand.
fn picked(
    layout: &Layout,
    procedure: usize,
    pick: &Pick,
    own: Option<(f64, f64)>,
    reading: f64,
    base: Finding,
) -> Finding {
    let ends = own.unwrap_or((f64::NEG_INFINITY, f64::INFINITY));
    let lo = pick.from.iter().map(|b| b.0).fold(f64::INFINITY, f64::min).max(ends.0);
    let hi = pick.from.iter().map(|b| b.1).fold(f64::NEG_INFINITY, f64::max).min(ends.1);
    let found = judge(reading, Some((lo, hi)), base.clone());
    let Some(band) = pick.band(reading) else {
        // a gap between bands is a fault of the file; should one be met, it is a failure
        return Finding { outcome: Outcome::Fail, ..found };
    };
    let chosen = layout.bundle.job.procedures.get(procedure);
    let mut by_hand = chosen.into_iter().flat_map(|c| c.all_variants());
    match by_hand.find(|v| **v != band.2 && pick.from.iter().any(|b| b.2 == **v)) {
        Some(other) => {
            let note = Note::PicksOther(Box::new(PicksOther {
                picked: band.2.text.clone(),
                chosen: other.text.clone(),
            }));
            Finding { outcome: Outcome::Fail, have: Some(reading), note: Some(note), ..base }
        }
        None => Finding { note: Some(Note::Picks(band.2.text.clone())), ..found },
    }
}

fn unit_of(unit: language::Unit) -> Unit {
    match unit {
        language::Unit::Mm => Unit::Mm,
        language::Unit::Deg => Unit::Deg,
        other @ (language::Unit::Lux
        | language::Unit::Celsius
        | language::Unit::Volt
        | language::Unit::Percent
        | language::Unit::Bar
        | language::Unit::Kg) => Unit::Other(other.word()),
    }
}

fn judge(reading: f64, band: Option<(f64, f64)>, base: Finding) -> Finding {
    let Some((lo, hi)) = band else {
        return Finding { have: Some(reading), ..base };
    };
    let margin = (reading - lo).min(hi - reading);
    let nearer = if reading - lo <= hi - reading { lo } else { hi };
    Finding {
        outcome: if margin < 0.0 { Outcome::Fail } else { Outcome::Pass },
        have: Some(reading),
        need: Some(nearer),
        margin: Some(margin),
        ..base
    }
}

fn title(finding: &Finding, _: &Layout, say: Say) -> String {
    let figures = Figures::of(finding, say.show);
    let phrase = match (finding.outcome, finding.margin, &finding.note) {
        (Outcome::Fail, Some(_), _) => OUTSIDE,
        (_, _, Some(_)) => NOTED,
        (_, Some(_), _) => INSIDE,
        _ => IS,
    };
    let note = finding.note.as_ref().map_or_else(String::new, |n| notes::note(n, say));
    let (figure, have) = (pair_name(finding, say), figures.have());
    say!(say, phrase, figure, have, short = figures.short(), note)
}

/// What is missing is the figure itself.
fn unknown(finding: &Finding, say: Say) -> Option<String> {
    match (finding.missing.as_slice(), finding.items.as_slice()) {
        ([missing], [figure]) if missing.is_named(figure.name()) => {
            Some(say!(say, NOT_MEASURED, figure = item(finding, 0, say)))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::RuleId::Measured as RULE;
    use super::Unit;
    use crate::checks::Outcome::{Fail, Pass, Unknown};
    use crate::checks::Verdict;
    use crate::checks::rules::workbench::{BOARD, Bench, Found};

    const LAMP: [&str; 1] = ["lamp height"];

    fn asked(ask: &str, job: &str) -> Found {
        Bench::new()
            .procedure(&format!(r#"measured: {{"lamp height": ({ask})}}"#))
            .setup(BOARD)
            .job(job)
            .check()
    }

    fn read(mm: f64) -> Found {
        asked(
            "ask: \"lamp centre\", unit: Mm, between: (559, 1372)",
            &format!(r#"measured: {{"lamp height": {mm:?}}}"#),
        )
    }

    #[test]
    fn inside_the_band_and_outside() {
        for (case, mm, outcome, margin) in [
            ("lower end, inside by 1", 560.0, Pass, 1.0),
            ("lower end, exactly equal", 559.0, Pass, 0.0),
            ("lower end, outside by 1", 558.0, Fail, -1.0),
            ("upper end, inside by 1", 1371.0, Pass, 1.0),
            ("upper end, exactly equal", 1372.0, Pass, 0.0),
            ("upper end, outside by 1", 1373.0, Fail, -1.0),
            // 702 - 559 = 143, 1372 - 702 = 670
            ("the nearer end counts", 702.0, Pass, 143.0),
        ] {
            let found = read(mm);
            let f = found.one(case, RULE, &LAMP);
            assert_eq!((f.outcome, f.margin, f.have), (outcome, Some(margin), Some(mm)), "{case}");
        }
        assert_eq!(read(560.0).one("low", RULE, &LAMP).need, Some(559.0));
        assert_eq!(read(1371.0).one("high", RULE, &LAMP).need, Some(1372.0));
    }

    #[test]
    fn it_decides_the_verdict_but_not_the_margin() {
        let found = read(558.0);
        assert_eq!(found.judgement.verdict, Verdict::DoesNotFit);
        assert!(
            found.judgement.margin.is_some_and(|m| m > 0.0),
            "the bay has room: {:?}",
            found.judgement.margin
        );
        assert_eq!(read(560.0).judgement.verdict, Verdict::Fits);
    }

    #[test]
    fn missing_readings_and_readings_without_a_band() {
        let found = asked("unit: Mm, between: (559, 1372)", "");
        found.lacks("not measured", RULE, &LAMP, &["lamp height"]);
        assert_eq!(found.judgement.verdict, Verdict::NotKnown);
        let free = asked("unit: Lux", r#"measured: {"lamp height": 500}"#);
        let f = free.one("no band", RULE, &LAMP);
        assert_eq!((f.outcome, f.have, f.margin, f.unit), (Pass, Some(500.0), None, Unit::Other("lx")));
        Bench::new().setup(BOARD).check().idle("nothing to measure", RULE);
    }

    #[test]
    fn a_mark_without_a_place_is_told_here() {
        let setup = r#"name: "S", marks: [("X", Along(line: Thrust, from: "RA", by: 100)), ("Y", Along(line: Centre, from: "X", by: 100))]"#;
        let found = Bench::new().setup(setup).check();
        found.lacks("the mark", RULE, &["X"], &["rear_toe"]);
        found.lacks("what rests on it", RULE, &["Y"], &["rear_toe"]);
        let toe = Bench::new().setup(setup).job("rear_toe: (left: 0.1, right: 0.1)").check();
        toe.idle("with the toe", RULE);
        let nowhere =
            Bench::new().setup(r#"name: "S", marks: [("X", Under(Sensor("front radar")))]"#).check();
        assert_eq!(nowhere.one("a sensor not listed", RULE, &["X"]).outcome, Unknown);
    }

    #[test]
    fn readings_are_figures_of_the_procedure() {
        let board = BOARD.replace("Floor(300)", r#"Floor("lamp height - 40")"#);
        let found = Bench::new()
            .procedure(r#"measured: {"lamp height": (unit: Mm)}"#)
            .setup(&board)
            .job(r#"measured: {"lamp height": 702}"#)
            .check();
        let stand = found.layout.setups[0].stations[0].place.as_ref().expect("placed");
        assert_eq!(stand.lower, 662.0);
    }
}
