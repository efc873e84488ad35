//! The program: the window, or the command line.

use std::process::ExitCode;

fn main() -> ExitCode {
    baywright::cli::main(std::env::args_os(), |_| ExitCode::from(2))
}
