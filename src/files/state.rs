//! What the program remembers between two runs, in the user's own folder.
//!
//! Nothing here is ever in the way: what cannot be read or written is passed over, with a note for the user.

use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::source::Source;
use super::write_whole::{reason, write_whole};

/// The user's folder for such things, or `None` where the system has none. `XDG_STATE_HOME` is followed on Linux.
pub fn state_folder() -> Option<PathBuf> {
    let dirs = directories::ProjectDirs::from("", "", "baywright")?;
    Some(dirs.state_dir().unwrap_or(dirs.data_local_dir()).to_path_buf())
}

/// The note about a file of the state that makes no sense.
pub(super) fn unreadable(file: &Path) -> String {
    format!("{} cannot be read and is passed over", file.display())
}

/// What a file of the state holds; `None` when there is no such file, a note when it cannot be read.
pub(super) fn read_state<T: for<'de> Deserialize<'de>>(file: &Path) -> Result<Option<T>, String> {
    if !file.exists() {
        return Ok(None);
    }
    let source = Source::load(file).map_err(|_| unreadable(file))?;
    serde_json::from_str(&source.text).map(Some).map_err(|_| unreadable(file))
}

/// Writes a file of the state, and its folder where there is none; a note when it cannot be written.
pub(super) fn write_state<T: Serialize>(file: &Path, value: &T) -> Result<(), String> {
    let failed = |why: &str| format!("{} cannot be written: {why}", file.display());
    if let Some(folder) = file.parent() {
        std::fs::create_dir_all(folder).map_err(|e| failed(&reason(&e)))?;
    }
    let text = serde_json::to_string_pretty(value).map_err(|e| failed(&e.to_string()))?;
    write_whole(file, text.as_bytes()).map_err(|e| failed(&reason(&e)))
}
