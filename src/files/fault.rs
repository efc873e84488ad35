//! What is wrong in a file, and where: one line a person can act on.

use std::fmt;
use std::path::PathBuf;

use crate::units::printable;

/// One fault of one file. Line and column count from 1, the column in characters; both are 0 when the fault is about
/// the file as a whole.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct FileFault {
    pub path: PathBuf,
    pub line: usize,
    pub column: usize,
    pub text: String,
    pub hint: Option<String>,
}

impl FileFault {
    /// A fault of the file as a whole.
    pub fn whole(path: impl Into<PathBuf>, text: impl Into<String>) -> Self {
        FileFault { path: path.into(), line: 0, column: 0, text: text.into(), hint: None }
    }

    pub fn with_hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }
}

impl fmt::Display for FileFault {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        write!(f, "{}:", printable(&self.path.to_string_lossy()))?;
        if self.line > 0 {
            write!(f, "{}:{}:", self.line, self.column)?;
        }
        write!(f, " {}", printable(&self.text))?;
        match &self.hint {
            Some(hint) => write!(f, "; {}", printable(hint)),
            None => Ok(()),
        }
    }
}

impl std::error::Error for FileFault {}

/// Keeps the first faults of a list; that there are more is told in their place.
pub(super) fn at_most(faults: &mut Vec<FileFault>, most: usize, cut: bool) {
    if faults.len() > most || cut {
        faults.truncate(most);
        if let Some(path) = faults.first().map(|f| f.path.clone()) {
            let text = format!("{} faults are told, there may be more", faults.len());
            faults.push(FileFault::whole(path, text).with_hint("mend these and look again"));
        }
    }
}

/// How much a notice weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// The file cannot be used.
    Error,
    /// The file can be used, but probably does not say what was meant.
    Warning,
}

impl Severity {
    pub fn word(self) -> &'static str {
        match self {
            Severity::Error => "error",
            Severity::Warning => "warning",
        }
    }
}

/// A fault or a doubt about a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Notice {
    pub severity: Severity,
    pub fault: FileFault,
}

impl fmt::Display for Notice {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        write!(f, "{}: {}", self.severity.word(), self.fault)
    }
}
