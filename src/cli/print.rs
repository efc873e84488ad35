//! Answers printed, complaints told, and the exit codes that go with them.

use std::io::{ErrorKind, Write};
use std::path::Path;
use std::process::ExitCode;

use crate::checks::{Judgement, Verdict};
use crate::files::{FileFault, Opened};
use crate::layout::Layout;
use crate::report;
use crate::units::{printable, printable_lines};

/// Could not be run.
pub(super) const CANNOT: u8 = 2;

/// A job read and laid out, or every fault that stands in the way.
pub(super) fn open(job: &Path) -> Result<(Opened, Layout), Vec<FileFault>> {
    let opened = crate::files::open_job(job)?;
    let layout = Layout::new(&opened.bundle)
        .map_err(|faults| faults.iter().map(|f| opened.fault(f)).collect::<Vec<_>>())?;
    Ok((opened, layout))
}

/// Tells every fault; the exit that goes with them.
pub(super) fn refuse(faults: &[FileFault]) -> ExitCode {
    for fault in faults {
        complain(&fault.to_string());
    }
    ExitCode::from(CANNOT)
}

/// What a judgement is told by.
pub(super) fn exit_of(judgement: &Judgement) -> ExitCode {
    ExitCode::from(u8::from(judgement.verdict != Verdict::Fits))
}

/// A page for a person: broken at the width of what it is read on, and whole where nobody reads it there.
pub(super) fn page(text: &str, done: ExitCode) -> ExitCode {
    match width() {
        Some(width) => say(&report::wrap(text, width), done),
        None => say(text, done),
    }
}

/// Characters a line has room for: `COLUMNS` where it is set, else the terminal's; none where the output goes elsewhere.
fn width() -> Option<usize> {
    let set = std::env::var("COLUMNS").ok().and_then(|c| c.trim().parse().ok()).filter(|c| *c > 0);
    set.or_else(|| {
        let (width, _) = terminal_size::terminal_size_of(std::io::stdout())?;
        Some(usize::from(width.0))
    })
}

/// Writes an answer to standard output and gives `done` as the exit; that it could not be run where the answer does not
/// get through.
pub(super) fn say(text: &str, done: ExitCode) -> ExitCode {
    let mut out = std::io::stdout().lock();
    let written = out.write_all(printable_lines(text).as_bytes()).and_then(|()| out.flush());
    told(written, done)
}

/// A reader that went away is no error of ours; any other is told.
pub(super) fn told(written: std::io::Result<()>, done: ExitCode) -> ExitCode {
    match written {
        Err(e) if e.kind() != ErrorKind::BrokenPipe => {
            complain(&format!("the answer cannot be written: {e}"));
            ExitCode::from(CANNOT)
        }
        _ => done,
    }
}

/// A line on standard error.
pub(super) fn complain(text: &str) {
    let _ = writeln!(std::io::stderr().lock(), "baywright: {}", printable(text));
}
