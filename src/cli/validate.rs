//! `baywright validate FILE...`

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use super::print::{CANNOT, page};
use crate::files::{FileFault, Kind, Notice, Severity, Source, kind_of, open_job, read_text, validate};
use crate::layout::{Layout, said_side, trial};
use crate::model::{Fault, FileOf, Procedure};
use crate::units::printable;

pub(super) fn run(files: &[PathBuf]) -> ExitCode {
    let mut errors = 0;
    let mut text = String::new();
    for file in files {
        let notices = every_notice(file);
        if notices.is_empty() {
            text += &format!("{}: nothing wrong\n", printable(&file.to_string_lossy()));
        }
        for notice in notices {
            errors += usize::from(notice.severity == Severity::Error);
            text += &format!("{notice}\n");
        }
    }
    page(&text, if errors == 0 { ExitCode::SUCCESS } else { ExitCode::from(CANNOT) })
}

/// What the files themselves show; where they can be used, also what shows only once it is laid out: a job with its own
/// vehicle, a procedure by itself with vehicles made up for it.
fn every_notice(file: &Path) -> Vec<Notice> {
    let mut notices = validate(file);
    if notices.iter().all(|n| n.severity != Severity::Error) {
        let laid_out = match Source::load(file).map(|s| (kind_of(&s.text), s)) {
            Ok((Some(Kind::Job), _)) => job(file),
            Ok((Some(Kind::Procedure), source)) => procedure(&source),
            _ => Vec::new(),
        };
        notices.extend(laid_out);
        notices.sort_by_key(|n| n.severity);
    }
    notices
}

fn job(file: &Path) -> Vec<Notice> {
    let Ok(opened) = open_job(file) else { return Vec::new() };
    let (severity, found) = match Layout::new(&opened.bundle) {
        Err(faults) => (Severity::Error, faults),
        Ok(layout) => {
            let doubt = |(p, spot, text)| Fault { file: FileOf::Procedure(p), spot, text, hint: None };
            let found = said_side::mistaken(&layout.rig, &opened.bundle.procedures);
            (Severity::Warning, found.into_iter().map(doubt).collect())
        }
    };
    let mut notices: Vec<Notice> =
        found.iter().map(|f| Notice { severity, fault: opened.fault(f) }).collect();
    notices.dedup();
    notices
}

fn procedure(source: &Source) -> Vec<Notice> {
    let Ok(procedure) = read_text::<Procedure>(&source.text, &source.path) else { return Vec::new() };
    let tried = trial::trial(&procedure);
    let notices = |severity, told: Vec<_>| {
        let fault =
            |(spot, text): (crate::model::Spot, String)| -> FileFault { source.fault(spot.0, text, None) };
        told.into_iter().map(move |t| Notice { severity, fault: fault(t) }).collect::<Vec<_>>()
    };
    let mut all = notices(Severity::Error, tried.faults);
    all.extend(notices(Severity::Warning, tried.doubts));
    all
}
