//! `baywright validate FILE...`

use std::path::PathBuf;
use std::process::ExitCode;

use super::{CANNOT, page};
use crate::files::{Severity, validate};

pub fn run(files: &[PathBuf]) -> ExitCode {
    let mut errors = 0;
    let mut text = String::new();
    for file in files {
        let notices = validate(file);
        if notices.is_empty() {
            text += &format!("{}: nothing wrong\n", file.display());
        }
        for notice in notices {
            errors += usize::from(notice.severity == Severity::Error);
            text += &format!("{notice}\n");
        }
    }
    page(&text);
    if errors == 0 { ExitCode::SUCCESS } else { ExitCode::from(CANNOT) }
}
