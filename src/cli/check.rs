//! `baywright check JOB`

use std::path::Path;
use std::process::ExitCode;

use super::{exit_of, open, refuse, say};
use crate::checks::check_driven;
use crate::driving::drive_in;
use crate::report::{self, Show};

pub fn run(job: &Path, json: bool, feet: bool) -> ExitCode {
    let layout = match open(job) {
        Ok((_, layout)) => layout,
        Err(faults) => return refuse(&faults),
    };
    let driven = layout.bundle.job.drive_in.then(|| drive_in(&layout, &|| false)).flatten();
    let judgement = check_driven(&layout, driven.as_ref());
    let show = if feet { Show::FeetInches } else { Show::Mm };
    say(&if json {
        report::json::check(&layout, &judgement, true)
    } else {
        report::text::check(&layout, &judgement, show)
    });
    exit_of(&judgement)
}
