//! The other bays in the folder of a job's bay.

use std::path::Path;
use std::sync::Arc;

use super::{Kind, Source, kind_of, named_path, read_bay};
use crate::model::{Bay, Job};

/// The bays beside the job's own, by file name, each with its file as the job would name it. Files that are no bay, or
/// are faulty, are passed over.
pub fn bays_beside(job: &Job, path: &Path) -> Vec<(String, Arc<Bay>)> {
    let own = named_path(path, &job.bay.text);
    let Some(Ok(entries)) = own.parent().map(std::fs::read_dir) else { return Vec::new() };
    let mut files: Vec<_> =
        entries.flatten().map(|e| e.path()).filter(|p| p.extension().is_some_and(|e| e == "ron")).collect();
    files.sort();
    let named = Path::new(&*job.bay.text).parent().unwrap_or(Path::new(""));
    files
        .into_iter()
        .filter(|p| p.file_name() != own.file_name())
        .filter(|p| Source::load(p).is_ok_and(|s| kind_of(&s.text) == Some(Kind::Bay)))
        .filter_map(|p| {
            let bay = Arc::new(read_bay(&p).ok()?);
            let name = named.join(p.file_name()?).to_string_lossy().replace('\\', "/");
            Some((name, bay))
        })
        .collect()
}
