//! Reading jobs and files for the window.

use std::path::Path;

use crate::edit::{Document, Edit};
use crate::files::{
    FileFault, Recovered, Sources, open_held, open_job, read_bay, read_equipment, read_procedure,
    read_vehicle, relative_path,
};
use crate::layout::Layout;
use crate::model::{Bundle, Name};

use super::command::Pick;
use super::seen::Seen;
use super::session::Session;

/// A job with what is derived from it, or everything that is wrong with it.
pub fn job(path: &Path, session: &Session) -> Result<(Document, Sources, Seen), Vec<FileFault>> {
    let opened = open_job(path)?;
    let document = Document::opened(opened.path.clone(), opened.bundle);
    let seen = laid(&document, &opened.sources, session)?;
    Ok((document, opened.sources, seen))
}

/// Unsaved work taken up again. Without a file of its own it counts from `home`.
pub fn recovered(
    lost: &Recovered,
    home: &Path,
    session: &Session,
) -> Result<(Document, Sources, Seen), Vec<FileFault>> {
    let path = lost.path.as_deref();
    let opened = open_held(&lost.job, path.unwrap_or(home))?;
    let document = Document::recovered(opened.path.clone(), path.is_some(), opened.bundle);
    let seen = laid(&document, &opened.sources, session)?;
    Ok((document, opened.sources, seen))
}

fn laid(document: &Document, sources: &Sources, session: &Session) -> Result<Seen, Vec<FileFault>> {
    Seen::new(document, session).map_err(|faults| faults.iter().map(|f| sources.fault(f)).collect())
}

/// The change that puts a file of the lists into the job.
pub fn picked(document: &Document, pick: &Pick) -> Result<Edit, Vec<FileFault>> {
    let folder = document.home().parent().unwrap_or(Path::new(""));
    let named = |path: &Path| Name::from(relative_path(folder, path));
    Ok(match pick {
        Pick::Bay(path) => Edit::ChooseBay { file: named(path), bay: read_bay(path)?.into() },
        Pick::Vehicle(path) => Edit::ChooseVehicle { file: named(path), vehicle: read_vehicle(path)?.into() },
        Pick::Equipment(path) => {
            Edit::ChooseEquipment { file: named(path), equipment: read_equipment(path)?.into() }
        }
        Pick::Procedure(path) => {
            Edit::AddProcedure { file: named(path), procedure: read_procedure(path)?.into() }
        }
    })
}

/// Everything that is wrong with a job as it would be after a change of its files.
pub fn doubts(document: &Document, after: &Bundle) -> Vec<String> {
    match open_held(&after.job, document.home()) {
        Err(faults) => faults.iter().map(ToString::to_string).collect(),
        Ok(opened) => match Layout::new(after) {
            Ok(_) => Vec::new(),
            Err(faults) => faults.iter().map(|f| opened.fault(f).to_string()).collect(),
        },
    }
}
