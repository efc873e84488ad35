//! The program: the window, or the command line.

use std::io::Write;
use std::path::Path;
use std::process::ExitCode;

fn main() -> ExitCode {
    baywright::cli::main(std::env::args_os(), window)
}

/// Opens the window on a job, or on the demonstration.
fn window(job: Option<&Path>) -> ExitCode {
    match open(job) {
        Ok(()) => ExitCode::SUCCESS,
        Err(lines) => {
            for line in lines {
                let _ = writeln!(std::io::stderr().lock(), "baywright: {line}");
            }
            ExitCode::from(2)
        }
    }
}

#[cfg(feature = "gui")]
fn open(job: Option<&Path>) -> Result<(), Vec<String>> {
    baywright::app::open(job)
}

#[cfg(not(feature = "gui"))]
fn open(_: Option<&Path>) -> Result<(), Vec<String>> {
    Err(vec!["this program was built without its window; baywright --help tells what it can do".into()])
}
