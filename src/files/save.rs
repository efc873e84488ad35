//! Saving: a file is either the old one or the new one, never half of each.

use std::path::Path;

use super::fault::FileFault;
use super::source::Source;
use super::write_whole::{reason, write_whole};

/// Writes a file that is not there yet, and its folder where that is missing; one that is there stays, and that is the
/// fault.
pub fn write_new(path: &Path, bytes: &[u8]) -> Result<(), FileFault> {
    if path.exists() {
        return Err(FileFault::whole(path, "this file is there already: name another, or move it away"));
    }
    let folder = path.parent().filter(|f| !f.as_os_str().is_empty());
    let made = folder.map_or(Ok(()), std::fs::create_dir_all);
    made.and_then(|()| write_whole(path, bytes))
        .map_err(|e| FileFault::whole(path, format!("this file cannot be written: {}", reason(&e))))
}

/// Writes a text into its file. It is written beside the file, flushed to the disk and then put in its place, so that a
/// crash leaves the old file or the new one. Permissions are kept; where the path is a link, the file it leads to is
/// replaced and the link stays.
pub fn save(source: &Source) -> Result<(), FileFault> {
    write_whole(&source.path, &source.bytes())
        .map_err(|e| FileFault::whole(&source.path, format!("this file cannot be saved: {}", reason(&e))))
}
