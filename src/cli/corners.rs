//! `baywright corners BAY`

use std::path::Path;
use std::process::ExitCode;

use super::{CANNOT, complain, page, refuse, say};
use crate::files::{Source, read_text};
use crate::geometry::adjust::Doubt;
use crate::layout::taped::{self, TapeError};
use crate::model::Bay;
use crate::report;

pub(super) fn run(file: &Path, json: bool, tape: TapeError) -> ExitCode {
    let usable = |mm: f64| (0.0..=1000.0).contains(&mm);
    if !usable(tape.error) || !usable(tape.per_metre) || tape.error + tape.per_metre <= 0.0 {
        complain("a tape's error is from 0 to 1000 mm, and not 0 altogether");
        return ExitCode::from(CANNOT);
    }
    let source = match Source::load(file) {
        Ok(source) => source,
        Err(fault) => return refuse(&[fault]),
    };
    let bay: Bay = match read_text(&source.text, &source.path) {
        Ok(bay) => bay,
        Err(faults) => return refuse(&faults),
    };
    let found = taped::corners(&bay, tape);
    let done = match &found {
        Ok(corners) if corners.doubt == Doubt::None => ExitCode::SUCCESS,
        Ok(_) => ExitCode::from(1),
        Err(_) => ExitCode::from(CANNOT),
    };
    match json {
        true => say(&report::corners::json(&bay, &found), done),
        false => page(&report::corners::page(&bay, &found, report::Say::PLAIN), done),
    }
}
