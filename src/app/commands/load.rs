//! Reading jobs and files for the window.

use std::path::Path;
use std::sync::Arc;

use crate::app::commands::command::PickedFile;
use crate::app::open_job::OpenJob;
use crate::app::state::derived::DerivedState;
use crate::app::state::view_state::ViewState;
use crate::edit::{After, Document, Edit};
use crate::files::{
    FileFault, FileKind, Recovered, Source, Texts, open_job, open_over, plain_path, read_text, relative_path,
};
use crate::layout::Layout;
use crate::model::Name;

/// A job with what is derived from it, or everything that is wrong with it.
pub(crate) fn job(path: &Path, view_state: &ViewState) -> Result<OpenJob, Vec<FileFault>> {
    laid(Document::opened(open_job(path)?), view_state)
}

/// Unsaved work taken up again.
pub(crate) fn recovered(lost: &Recovered, view_state: &ViewState) -> Result<OpenJob, Vec<FileFault>> {
    let opened = open_over(Path::new(&lost.kept.job), &lost.texts())?;
    let paths = opened.sources.paths();
    let load = |path: &&Path| Some((plain_path(path), Arc::new(Source::load(path).ok()?)));
    let on_disk: Texts = paths.iter().filter_map(load).collect();
    laid(Document::recovered(opened, lost.path().is_some(), on_disk), view_state)
}

/// A document as the window's job, or why it has no solution.
pub(crate) fn laid(document: Document, view_state: &ViewState) -> Result<OpenJob, Vec<FileFault>> {
    let sources = document.sources();
    match DerivedState::new(&document, view_state) {
        Ok(seen) => Ok(OpenJob::new(document, seen)),
        Err(faults) => Err(faults.iter().map(|f| sources.fault(f)).collect()),
    }
}

/// The change that puts a file of the lists into the job, as it is open here or else stands on the disk.
pub(crate) fn picked(document: &Document, pick: &PickedFile) -> Result<Edit, Vec<FileFault>> {
    fn read<T: FileKind>(document: &Document, path: &Path) -> Result<Arc<T>, Vec<FileFault>> {
        match document.texts().get(&plain_path(path)) {
            Some(source) => read_text(&source.text, path),
            None => crate::files::read(path),
        }
        .map(Arc::new)
    }
    let folder = document.home().parent().unwrap_or(Path::new(""));
    let named = |path: &Path| Name::from(relative_path(folder, path));
    Ok(match pick {
        PickedFile::Bay(path) => Edit::ChooseBay { file: named(path), bay: read(document, path)? },
        PickedFile::Vehicle(path) => {
            Edit::ChooseVehicle { file: named(path), vehicle: read(document, path)? }
        }
        PickedFile::Equipment(path) => {
            Edit::ChooseEquipment { file: named(path), equipment: read(document, path)? }
        }
        PickedFile::Procedure(path) => {
            Edit::AddProcedure { file: named(path), procedure: read(document, path)? }
        }
    })
}

/// Everything that is wrong with a job as it would be after a change of its files.
pub(crate) fn doubts(document: &Document, after: &After) -> Vec<String> {
    match open_over(document.home(), after.texts()) {
        Err(faults) => faults.iter().map(ToString::to_string).collect(),
        Ok(opened) => match Layout::new(&after.bundle) {
            Ok(_) => Vec::new(),
            Err(faults) => faults.iter().map(|f| opened.fault(f).to_string()).collect(),
        },
    }
}
