//! Figures taken off the car or the bay.

use super::{Page, Rule, RuleId};
use crate::checks::finding::{Finding, Outcome, Unit};
use crate::checks::pairs::Cx;
use crate::model::language;

pub const RULE: Rule = Rule {
    id: RuleId::Measured,
    page: Page {
        title: "Measured figures",
        checks: "Every figure the procedure wants measured is there and inside the maker's band. A mark that cannot be placed is reported here, with the figure it lacks.",
        matters: "A ride height out of band or a lamp too high means the work may not be done at all, however well the bay fits.",
        measured: "The reading against the nearer end of the band. It does not compete for the job's least margin.",
        remedy: "Measure it and type it in. Outside the band: stop, and put the vehicle right first, as the maker says.",
        source: "`measured` of the procedure file.",
    },
    run,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    let layout = cx.layout;
    let job = &layout.bundle.job;
    for (p, procedure) in layout.bundle.procedures.iter().enumerate() {
        if layout.rig.without.iter().any(|(w, _)| *w == p) {
            continue;
        }
        for (name, ask) in procedure.measured.iter() {
            let base = Finding {
                procedure: Some(p),
                items: vec![name.text.clone()],
                unit: unit_of(ask.unit),
                ..Finding::new(RuleId::Measured, Outcome::Pass)
            };
            out.push(match job.measured.get(name.as_str()) {
                None => Finding {
                    outcome: Outcome::Unknown,
                    missing: vec![name.text.clone()],
                    ..base
                },
                Some(reading) => judge(reading.0, ask.between, base),
            });
        }
    }
    for left in &layout.rig.left_out {
        if let Err(missing) = &left.why {
            out.push(Finding {
                procedure: Some(left.procedure),
                items: vec![left.name.clone()],
                missing: missing.0.clone(),
                note: Some("whether it applies".into()),
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
                    items: vec![mark.name.clone()],
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
        let ask = procedure.measured.get(pick.by.as_str()).map_or(language::Unit::Mm, |a| a.unit);
        let base = Finding {
            procedure: Some(p),
            items: vec![pick.by.text.clone()],
            unit: unit_of(ask),
            ..Finding::new(RuleId::Measured, Outcome::Pass)
        };
        out.push(match layout.values(p).by_name(&pick.by) {
            Err(missing) => Finding { outcome: Outcome::Unknown, missing: missing.0, ..base },
            Ok(reading) => {
                let lo = pick.from.iter().map(|b| b.0).fold(f64::INFINITY, f64::min);
                let hi = pick.from.iter().map(|b| b.1).fold(f64::NEG_INFINITY, f64::max);
                let band = pick.from.iter().find(|b| b.0 <= reading && reading <= b.1);
                let note = match band {
                    Some(band) => format!("picks {}", band.2),
                    None => "in none of the bands".into(),
                };
                let found = Finding { note: Some(note.into()), ..judge(reading, Some((lo, hi)), base) };
                // a gap between bands is a fault of the file; should one be met, it is a failure
                if band.is_none() { Finding { outcome: Outcome::Fail, ..found } } else { found }
            }
        });
    }
}

fn unit_of(unit: language::Unit) -> Unit {
    match unit {
        language::Unit::Mm => Unit::Mm,
        language::Unit::Deg => Unit::Deg,
        other => Unit::Other(other.word()),
    }
}

fn judge(reading: f64, band: Option<(f64, f64)>, base: Finding) -> Finding {
    let Some((lo, hi)) = band else {
        return Finding {
            have: Some(reading),
            ..base
        };
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
