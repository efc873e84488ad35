//! `baywright corners BAY`

use std::path::Path;
use std::process::ExitCode;

use super::print::{CANNOT, complain, page, refuse, say};
use crate::files::{FileFault, Source, read_text, shop_tape};
use crate::geometry::adjust::Doubt;
use crate::layout::taped::{self, TapeError};
use crate::model::Bay;
use crate::model::workshop::ShopTape;
use crate::report;

pub(super) fn run(file: &Path, json: bool, error: Option<f64>, per_metre: Option<f64>) -> ExitCode {
    let tape = match tape(file, error, per_metre) {
        Ok(tape) => tape,
        Err(faults) => return refuse(&faults),
    };
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

/// The tape's error as it was asked for; what was left out is that of the workshop the bay lies in. With an error given the
/// workshop's is not looked for, and then nothing is added to it that was not given too.
fn tape(bay: &Path, error: Option<f64>, per_metre: Option<f64>) -> Result<TapeError, Vec<FileFault>> {
    let shop = match error {
        Some(error) => ShopTape { error, per_metre: 0.0 },
        None => shop_tape(bay)?,
    };
    Ok(TapeError { error: shop.error, per_metre: per_metre.unwrap_or(shop.per_metre) })
}
