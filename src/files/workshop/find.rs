//! The nearest workshop upward of a file.

use std::path::{Path, PathBuf};

use crate::files::demo::held;
use crate::files::fault::FileFault;
use crate::files::folder::plain_path;
use crate::files::read::read;
use crate::files::source::Source;
use crate::model::Workshop;
use crate::model::workshop::ShopTape;

/// What the file at the root of a workshop is called.
pub const WORKSHOP_FILE: &str = "workshop.ron";

/// The file of the workshop that a file or folder lies in: that of the nearest folder upward, the folder itself counting.
pub fn nearest_workshop(path: &Path) -> Option<PathBuf> {
    let path = plain_path(path);
    path.ancestors().map(|folder| folder.join(WORKSHOP_FILE)).find(|file| file.is_file())
}

/// The tape of the workshop a bay's file lies in; the usual one where it lies in none. Faults of the workshop's file.
pub fn shop_tape(bay: &Path) -> Result<ShopTape, Vec<FileFault>> {
    match nearest_workshop(bay) {
        Some(file) => read::<Workshop>(&file).map(|shop| shop.tape),
        None => Ok(ShopTape::default()),
    }
}

/// Whether a file belongs to the demonstration as it comes with the program: a workshop of the demonstration's own text lies
/// above it, or beside the folder of bays it stands in. A copy under a name of its own does not.
pub fn is_demonstration(path: &Path) -> bool {
    let Some((_, held)) = held().iter().find(|(name, _)| *name == "demo/workshop.ron") else { return false };
    let is_its_file = |file: PathBuf| {
        file.is_file() && Source::load(&file).is_ok_and(|s| s.text.replace("\r\n", "\n") == *held)
    };
    let path = plain_path(path);
    path.ancestors().skip(1).any(|folder| {
        let bays = folder.file_name().is_some_and(|n| n == "bays");
        let beside = || folder.parent().is_some_and(|p| is_its_file(p.join("demo").join(WORKSHOP_FILE)));
        is_its_file(folder.join(WORKSHOP_FILE)) || bays && beside()
    })
}
