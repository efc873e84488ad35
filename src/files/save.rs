//! Saving: a file is either the old one or the new one, never half of each.

use super::fault::FileFault;
use super::source::Source;
use super::write_whole::{reason, write_whole};

/// Writes a text into its file. It is written beside the file, flushed to the disk and then put in its place, so that a
/// crash leaves the old file or the new one. Permissions are kept; where the path is a link, the file it leads to is
/// replaced and the link stays.
pub fn save(source: &Source) -> Result<(), FileFault> {
    write_whole(&source.path, &source.bytes())
        .map_err(|e| FileFault::whole(&source.path, format!("this file cannot be saved: {}", reason(&e))))
}
