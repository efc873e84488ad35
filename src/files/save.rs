//! Saving a job: the file is either the old one or the new one, never half of each.

use std::io::Write;
use std::path::{Path, PathBuf};

use ron::extensions::Extensions;
use ron::ser::PrettyConfig;

use crate::model::Job;

use super::fault::FileFault;
use super::read::read_text;
use super::source::Source;

/// Saves a job. The text is written beside the file, flushed to the disk and then put in its place, so that a crash
/// leaves the old file or the new one. Permissions are kept; where the path is a link, the file it leads to is
/// replaced and the link stays.
///
/// Comments before the first bracket of a file that is overwritten are kept at its top; comments between its fields,
/// its spacing and the order of its fields are not.
pub fn save_job(job: &Job, path: &Path) -> Result<(), FileFault> {
    let refused = |text: String| FileFault::whole(path, text);
    let text = to_text(job).map_err(refused)?;
    let text = match Source::load(path) {
        Ok(old) => leading_comments(&old.text) + &text,
        Err(_) => text,
    };
    write_whole(path, text.as_bytes()).map_err(|e| refused(format!("this file cannot be saved: {e}")))
}

/// A job as the text of a file. Optional fields that say nothing are left out; each number is the shortest that reads
/// back equal. Fails when the job could not be read back equal, as with a number that is not finite.
pub fn to_text(job: &Job) -> Result<String, String> {
    let style =
        PrettyConfig::new().depth_limit(2).new_line("\n").struct_names(false).extensions(Extensions::empty());
    let body =
        ron::ser::to_string_pretty(job, style).map_err(|e| format!("this job cannot be written: {e}"))?;
    let text = body + "\n";
    match read_text::<Job>(&text, Path::new("job")) {
        Ok(back) if back == *job => Ok(text),
        Ok(_) => Err("this job cannot be saved: it would not read back the same".into()),
        Err(faults) => {
            let why = faults.first().map(|f| f.text.clone()).unwrap_or_default();
            Err(format!("this job cannot be saved: {why}"))
        }
    }
}

/// The comments that stand before the first bracket, each on its own line.
fn leading_comments(text: &str) -> String {
    let mut at = 0;
    let mut end = 0;
    loop {
        let rest = &text[at..];
        let blank = rest.len() - rest.trim_start().len();
        let rest = &rest[blank..];
        let len = if rest.starts_with("//") {
            rest.find('\n').map_or(rest.len(), |i| i + 1)
        } else if rest.starts_with("/*") {
            match rest.find("*/") {
                Some(i) => i + 2,
                None => break,
            }
        } else {
            break;
        };
        at += blank + len;
        end = at;
    }
    let comments = text[..end].trim();
    if comments.is_empty() {
        return String::new();
    }
    format!("{}\n", comments.replace("\r\n", "\n"))
}

/// Writes a file by way of a temporary one in the same folder.
pub(super) fn write_whole(path: &Path, bytes: &[u8]) -> std::io::Result<()> {
    let target = std::fs::canonicalize(path).unwrap_or_else(|_| PathBuf::from(path));
    let folder = match target.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let mut builder = tempfile::Builder::new();
    builder.prefix(".baywright-").suffix(".tmp");
    #[cfg(unix)]
    let mode = {
        use std::os::unix::fs::PermissionsExt;
        std::fs::Permissions::from_mode(0o666)
    };
    #[cfg(unix)]
    builder.permissions(mode);
    let mut file = builder.tempfile_in(folder)?;
    file.write_all(bytes)?;
    if let Ok(old) = std::fs::metadata(&target) {
        if old.permissions().readonly() {
            return Err(std::io::Error::new(std::io::ErrorKind::PermissionDenied, "it is write-protected"));
        }
        file.as_file().set_permissions(old.permissions())?;
    }
    file.as_file().sync_all()?;
    file.persist(&target).map_err(|e| e.error)?;
    #[cfg(unix)]
    if let Ok(folder) = std::fs::File::open(folder) {
        let _ = folder.sync_all(); // some file systems refuse; the file itself is safe already
    }
    Ok(())
}
