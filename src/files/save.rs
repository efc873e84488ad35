//! Saving a job: the file is either the old one or the new one, never half of each.

use std::path::Path;

use ron::extensions::Extensions;
use ron::ser::PrettyConfig;

use crate::model::Job;
use crate::syntax::{Tree, merge};

use super::fault::FileFault;
use super::read::read_text;
use super::source::Source;
use super::write_whole::{reason, write_whole};

/// Saves a job. The text is written beside the file, flushed to the disk and then put in its place, so that a crash
/// leaves the old file or the new one. Permissions are kept; where the path is a link, the file it leads to is
/// replaced and the link stays.
///
/// Of a file that is overwritten all stays as it was written, to the byte, but what the job says otherwise than the file:
/// notes, order, spacing, the way numbers are spelt. Of one that cannot be read the notes at its head stay.
pub fn save_job(job: &Job, path: &Path) -> Result<(), FileFault> {
    let refused = |text: String| FileFault::whole(path, text);
    let plain = to_text(job).map_err(refused)?;
    let text = match Source::load(path) {
        Ok(old) => over(&old.text, job, &plain).unwrap_or(plain),
        Err(_) => plain,
    };
    write_whole(path, text.as_bytes())
        .map_err(|e| refused(format!("this file cannot be saved: {}", reason(&e))))
}

/// The text of a file with the job put into it; `plain`: the job's own text. `None` where it would not read back equal.
fn over(old: &str, job: &Job, plain: &str) -> Option<String> {
    let reads_back = |text: &String| read_text::<Job>(text, Path::new("job")).is_ok_and(|back| back == *job);
    let merged = || {
        let was = to_text(&read_text::<Job>(old, Path::new("job")).ok()?).ok()?;
        merge(old, &Tree::new(was), &Tree::new(plain)).filter(reads_back)
    };
    let headed = || {
        let tree = Tree::new(old);
        let head = old[..tree.range(tree.root()?).start].trim_end();
        let text = if head.is_empty() { plain.to_owned() } else { format!("{head}\n{plain}") };
        let text = if old.contains("\r\n") { text.replace("\r\n", "\n").replace('\n', "\r\n") } else { text };
        Some(text).filter(reads_back)
    };
    merged().or_else(headed)
}

/// A job as the text of a file. Optional fields that say nothing are left out; each number is the shortest that reads
/// back equal. Fails when the job could not be read back equal, as with a number that is not finite.
pub fn to_text(job: &Job) -> Result<String, String> {
    let style =
        PrettyConfig::new().depth_limit(2).new_line("\n").struct_names(false).extensions(Extensions::empty());
    let body = ron::Options::default()
        .with_default_extension(Extensions::IMPLICIT_SOME)
        .with_default_extension(Extensions::UNWRAP_NEWTYPES)
        .to_string_pretty(job, style)
        .map_err(|e| format!("this job cannot be written: {e}"))?;
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
