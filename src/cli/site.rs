//! `baywright site JOB`

use std::path::Path;
use std::process::ExitCode;

use super::print::{CANNOT, complain, exit_of, open, page, refuse, say};
use crate::files::BaysBeside;
use crate::report::{self, Say, Show};
use crate::siting::{Ask, Halted, Note, OtherBay, Progress, find_among};

/// How `site` was asked.
pub(super) struct Asked<'a> {
    pub job: &'a Path,
    pub json: bool,
    pub feet: bool,
    pub headings: Option<&'a [f64]>,
    pub sweep: Option<f64>,
}

pub(super) fn run(asked: &Asked) -> ExitCode {
    let opened = match open(asked.job) {
        Ok((opened, _)) => opened,
        Err(faults) => return refuse(&faults),
    };
    let ask = match headings(asked) {
        Ok(ask) => ask,
        Err(why) => {
            complain(&why);
            return ExitCode::from(CANNOT);
        }
    };
    let mut beside = BaysBeside::new(&opened.bundle.job, &opened.path, &|| false);
    let mut bays = beside.by_ref().map(|(path, bay)| OtherBay { path, bay });
    let found = match find_among(&opened.bundle, &ask, &mut bays, &Progress::new()) {
        Ok(mut found) => {
            found.notes.extend(beside.unread().map(Note::Unread));
            found
        }
        Err(Halted::Faults(faults)) => {
            return refuse(&faults.iter().map(|f| opened.fault(f)).collect::<Vec<_>>());
        }
        Err(Halted::Stopped) => return ExitCode::from(CANNOT),
    };
    let say_so = Say::english(Show::of(asked.feet));
    // nothing is judged where there is no floor to stand on
    let done = found.judgement.as_ref().map_or(ExitCode::from(1), exit_of);
    match asked.json {
        true => say(&report::siting::json(&found), done),
        false => page(&report::siting::page(&found, say_so), done),
    }
}

fn headings(asked: &Asked) -> Result<Ask, String> {
    match (asked.headings, asked.sweep) {
        (_, Some(step)) if !(0.1..=180.0).contains(&step) => {
            Err(format!("--sweep takes steps from 0.1 to 180 degrees, not {step}"))
        }
        (_, Some(step)) => Ok(Ask::sweep(step)),
        (Some(headings), None) => match headings.iter().find(|h| !h.is_finite()) {
            Some(h) => Err(format!("{h} is not a heading")),
            None => Ok(Ask { headings: headings.to_vec(), bays: Vec::new() }),
        },
        (None, None) => Ok(Ask::usual()),
    }
}
