//! The command line: reads files, prints answers, tells by its exit code how it went. Needs no window.
//!
//! Exit: 0 fits (or did what was asked), 1 does not fit, or only on a condition, or is not known, 2 cannot be run.

mod check;
mod corners;
mod site;
mod units;
mod validate;

use std::ffi::OsString;
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::{Parser, Subcommand};

use crate::checks::{Judgement, RULES, Verdict};
use crate::files::{FileFault, Opened};
use crate::layout::Layout;
use crate::report;
use crate::units::{printable, printable_lines};

/// Does this bay, this vehicle and this procedure go together?
#[derive(Parser)]
#[command(name = "baywright", version, about, args_conflicts_with_subcommands = true)]
struct Line {
    /// The job or the workshop's folder to open in the window; none opens the workshop of the last time
    job: Option<PathBuf>,
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Subcommand)]
enum Command {
    /// Judge a job by every rule and print the verdict
    Check {
        job: PathBuf,
        /// Print JSON instead of a page
        #[arg(long)]
        json: bool,
        /// Show lengths in feet and inches beside the millimetres
        #[arg(long)]
        feet: bool,
    },
    /// Find where the vehicle can stand, or by how much it cannot
    Site {
        job: PathBuf,
        /// Print JSON instead of a page
        #[arg(long)]
        json: bool,
        /// Show lengths in feet and inches beside the millimetres
        #[arg(long)]
        feet: bool,
        /// Headings to try, degrees; 0 is nose in, 180 backed in
        #[arg(long, value_delimiter = ',', allow_hyphen_values = true, conflicts_with = "sweep")]
        headings: Option<Vec<f64>>,
        /// Try every so many degrees all round
        #[arg(long, value_name = "DEG")]
        sweep: Option<f64>,
    },
    /// Adjust a bay's corners to its tape readings (`taped`), and tell which reading does not fit
    ///
    /// Exit: 0 the readings fit, 1 a reading is in doubt, 2 the corners cannot be told.
    Corners {
        bay: PathBuf,
        /// Print JSON instead of a page
        #[arg(long)]
        json: bool,
        /// Standard error of one tape reading, mm; left out it is the workshop's, or 2
        #[arg(long, value_name = "MM")]
        tape_error: Option<f64>,
        /// What the tape's length adds to it, mm a metre; left out it is the workshop's, or 0
        #[arg(long, value_name = "MM")]
        per_metre: Option<f64>,
    },
    /// Print the page of a rule; without a name, list them
    Explain { rule: Option<String> },
    /// Report every fault and doubt of files of any kind
    Validate {
        #[arg(required = true)]
        files: Vec<PathBuf>,
    },
    /// Print typed lengths in exact millimetres and in feet and inches
    Units {
        #[arg(required = true, allow_negative_numbers = true)]
        lengths: Vec<String>,
        #[arg(long)]
        json: bool,
    },
}

/// Could not be run.
const CANNOT: u8 = 2;

/// Runs the program; `window` opens the window on a job, or on the demonstration.
pub fn main(
    args: impl IntoIterator<Item = OsString>,
    window: impl FnOnce(Option<&Path>) -> ExitCode,
) -> ExitCode {
    let line = match Line::try_parse_from(args) {
        Ok(line) => line,
        Err(usage) => {
            let done = ExitCode::from(if usage.use_stderr() { CANNOT } else { 0 });
            return told(usage.print(), done);
        }
    };
    match line.command {
        None => window(line.job.as_deref()),
        Some(Command::Check { job, json, feet }) => check::run(&job, json, feet),
        Some(Command::Site { job, json, feet, headings, sweep }) => {
            site::run(&site::Asked { job: &job, json, feet, headings: headings.as_deref(), sweep })
        }
        Some(Command::Corners { bay, json, tape_error, per_metre }) => {
            corners::run(&bay, json, tape_error, per_metre)
        }
        Some(Command::Explain { rule }) => explain(rule.as_deref()),
        Some(Command::Validate { files }) => validate::run(&files),
        Some(Command::Units { lengths, json }) => units::run(&lengths, json),
    }
}

fn explain(name: Option<&str>) -> ExitCode {
    let Some(name) = name else {
        let lines: Vec<String> =
            RULES.iter().map(|r| format!("{:<14} {}", r.id.word(), r.page.title)).collect();
        return page(&(lines.join("\n") + "\n"), ExitCode::SUCCESS);
    };
    match RULES.iter().find(|r| r.id.word() == name) {
        Some(rule) => page(&report::text::rule_page(rule, report::Say::PLAIN), ExitCode::SUCCESS),
        None => {
            let known: Vec<&str> = RULES.iter().map(|r| r.id.word()).collect();
            complain(&format!("there is no rule {name:?}; the rules are: {}", known.join(", ")));
            ExitCode::from(CANNOT)
        }
    }
}

/// A job read and laid out, or every fault that stands in the way.
fn open(job: &Path) -> Result<(Opened, Layout), Vec<FileFault>> {
    let opened = crate::files::open_job(job)?;
    let layout = Layout::new(&opened.bundle)
        .map_err(|faults| faults.iter().map(|f| opened.fault(f)).collect::<Vec<_>>())?;
    Ok((opened, layout))
}

fn refuse(faults: &[FileFault]) -> ExitCode {
    for fault in faults {
        complain(&fault.to_string());
    }
    ExitCode::from(CANNOT)
}

fn exit_of(judgement: &Judgement) -> ExitCode {
    ExitCode::from(u8::from(judgement.verdict != Verdict::Fits))
}

/// A page for a person: broken at the width of what it is read on, and whole where nobody reads it there.
fn page(text: &str, done: ExitCode) -> ExitCode {
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
fn say(text: &str, done: ExitCode) -> ExitCode {
    let mut out = std::io::stdout().lock();
    let written = out.write_all(printable_lines(text).as_bytes()).and_then(|()| out.flush());
    told(written, done)
}

/// A reader that went away is no error of ours; any other is told.
fn told(written: std::io::Result<()>, done: ExitCode) -> ExitCode {
    match written {
        Err(e) if e.kind() != ErrorKind::BrokenPipe => {
            complain(&format!("the answer cannot be written: {e}"));
            ExitCode::from(CANNOT)
        }
        _ => done,
    }
}

fn complain(text: &str) {
    let _ = writeln!(std::io::stderr().lock(), "baywright: {}", printable(text));
}
