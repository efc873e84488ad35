//! The built program, run as a person runs it.

use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

/// What a run left behind.
pub(crate) struct Ran {
    pub exit: i32,
    pub out: String,
    pub err: String,
}

/// Runs the program with these arguments in a folder.
pub(crate) fn run(folder: &Path, args: &[&str]) -> Ran {
    run_as_wide(folder, args, None)
}

/// The same on a terminal of so many columns.
pub(crate) fn run_as_wide(folder: &Path, args: &[&str], columns: Option<usize>) -> Ran {
    let mut command = Command::new(env!("CARGO_BIN_EXE_baywright"));
    match columns {
        Some(columns) => command.env("COLUMNS", columns.to_string()),
        None => command.env_remove("COLUMNS"),
    };
    let output = command
        .args(args)
        .current_dir(folder)
        .output()
        .unwrap_or_else(|e| panic!("the program does not start: {e}"));
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap_or_else(|e| panic!("no UTF-8: {e}"));
    Ran {
        exit: output.status.code().unwrap_or_else(|| panic!("{args:?} was killed: {}", output.status)),
        out: text(output.stdout),
        err: text(output.stderr),
    }
}

/// The JSON answer and the exit code.
pub(crate) fn answer(folder: &Path, args: &[&str]) -> (Value, i32) {
    let ran = run(folder, args);
    let value = serde_json::from_str(&ran.out).unwrap_or_else(|e| {
        panic!("{args:?} in {}: no JSON ({e}), exit {}\n{}", folder.display(), ran.exit, ran.err)
    });
    (value, ran.exit)
}

/// A path under `tests`.
pub(crate) fn tests(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests").join(path)
}
