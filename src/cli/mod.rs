//! The command line: reads files, prints answers, tells by its exit code how it went. Needs no window.
//!
//! Exit: 0 fits (or did what was asked), 1 does not fit, or only on a condition, or is not known, 2 cannot be run.

mod check;
mod corners;
mod points;
mod print;
mod site;
mod units;
mod validate;

use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::{Parser, Subcommand};
use print::{CANNOT, complain, page, told};

use crate::checks::RULES;
use crate::report;

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
    /// Write what is set out as points (name, x, y, z, tolerance in mm) for instruments that find them
    ///
    /// Bay axes; z above the floor survey's datum, empty where it is not known. Exit: 0 all have a place, 1 some have none.
    Points {
        job: PathBuf,
        /// A new .csv file; left out, the table is printed
        #[arg(long, value_name = "FILE")]
        out: Option<PathBuf>,
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
        Some(Command::Points { job, out }) => points::run(&job, out.as_deref()),
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
