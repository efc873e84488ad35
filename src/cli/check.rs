//! `baywright check JOB`

use std::path::Path;
use std::process::ExitCode;

use super::print::{CANNOT, exit_of, open, page, refuse, say};
use crate::advice::{Advice, advise};
use crate::checks::{Judgement, Verdict, check_driven};
use crate::driving::drive_in;
use crate::files::BaysBeside;
use crate::layout::Layout;
use crate::model::Pose;
use crate::report::{self, Say, Show};
use crate::siting::{OtherBay, Progress, headings_of, judged_pose, openings};

pub(super) fn run(job: &Path, json: bool, feet: bool) -> ExitCode {
    let (opened, layout) = match open(job) {
        Ok(opened) => opened,
        Err(faults) => return refuse(&faults),
    };
    let (layout, fits) = match posed(layout) {
        Ok(posed) => posed,
        Err(code) => return code,
    };
    let driven = layout.bundle.job.drive_in.then(|| drive_in(&layout, &|| false)).flatten();
    let mut judgement = check_driven(&layout, driven.as_ref());
    if !fits {
        judgement.verdict = Verdict::DoesNotFit;
    }
    let advice = advice(&layout, &judgement, &opened.path);
    let words = Say::english(Show::of(feet));
    let done = exit_of(&judgement);
    if json {
        return say(&report::json::check(&layout, &judgement, &advice, driven.as_ref(), fits), done);
    }
    let nowhere = if fits { String::new() } else { report::text::nowhere(words) };
    page(&format!("{nowhere}{}", report::text::check(&layout, &judgement, &advice, words)), done)
}

/// What helps; places are looked for only where the job does not fit.
fn advice(layout: &Layout, judgement: &Judgement, home: &Path) -> Advice {
    let look = || {
        let mut beside = BaysBeside::new(&layout.bundle.job, home, &|| false);
        let mut bays = beside.by_ref().map(|(path, bay)| OtherBay { path, bay });
        openings(&layout.bundle, &headings_of(layout.stance.heading), &mut bays, &Progress::new()).ok()
    };
    let openings = (judgement.verdict == Verdict::DoesNotFit).then(look).flatten();
    advise(layout, judgement, openings.as_ref(), &|| false).unwrap_or_default()
}

/// A job without a pose stands where it stands deepest inside what fits; else where it misses by least, and false.
pub(super) fn posed(layout: Layout) -> Result<(Layout, bool), ExitCode> {
    if layout.bundle.job.pose != Pose::Anywhere {
        return Ok((layout, true));
    }
    match judged_pose(&layout.bundle, &Progress::new()) {
        Ok((Some(place), fits)) => Ok((layout.at(place.stance), fits)),
        Ok((None, _)) => Ok((layout, false)),
        Err(_) => Err(ExitCode::from(CANNOT)),
    }
}
