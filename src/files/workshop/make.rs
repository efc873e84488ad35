//! A workshop made anew: an empty one, or the demonstration as one's own.

use std::path::{Path, PathBuf};

use super::find::WORKSHOP_FILE;
use crate::files::demo::held;
use crate::files::folder::plain_path;
use crate::files::write_whole::{reason, write_whole};
use crate::model::Workshop;
use crate::model::writing::spell_whole;

/// What is to be made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewShop {
    pub name: String,
    pub folder: PathBuf,
    /// Which parts of the demonstration come along.
    pub along: Along,
}

/// What of the demonstration a new workshop begins with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Along {
    /// Nothing but its folders.
    Nothing,
    /// Vehicles, equipment and procedures.
    Figures,
    /// Bays and jobs too.
    Everything,
}

/// Makes a workshop: its folder where there is none, its file, its folders. Nothing that is there already is written over:
/// a folder with a workshop, or with a file of the same name as one that would come, is refused with a sentence.
pub fn make_shop(new: &NewShop) -> Result<PathBuf, String> {
    let root = plain_path(&new.folder);
    if new.name.trim().is_empty() {
        return Err("a workshop needs a name".into());
    }
    if root.join(WORKSHOP_FILE).exists() {
        return Err(format!("there is a workshop in {} already: open it", root.display()));
    }
    if root.exists() && !root.is_dir() {
        return Err(format!("{} is a file, not a folder", root.display()));
    }
    let shop = spell_whole(&named(new.name.trim()))?;
    let files = files(new.along);
    if let Some((taken, _)) = files.iter().find(|(name, _)| root.join(name).exists()) {
        return Err(format!("{} is there already: choose an empty folder", root.join(taken).display()));
    }
    let folders = ["bays", "vehicles", "equipment", "procedures", "jobs"];
    for folder in folders.map(|f| root.join(f)) {
        std::fs::create_dir_all(&folder)
            .map_err(|e| format!("the folder {} cannot be made: {}", folder.display(), reason(&e)))?;
    }
    for (name, text) in &files {
        write(&root.join(name), text)?;
    }
    // last of all: a folder without it is no workshop yet, and can be tried again
    write(&root.join(WORKSHOP_FILE), &shop)?;
    Ok(root)
}

fn write(path: &Path, text: &str) -> Result<(), String> {
    write_whole(path, text.as_bytes())
        .map_err(|e| format!("{} cannot be written: {}", path.display(), reason(&e)))
}

fn named(name: &str) -> Workshop {
    Workshop {
        format: 1,
        name: name.into(),
        folders: Default::default(),
        units: Default::default(),
        tape: Default::default(),
        people: Default::default(),
        identify: Default::default(),
        touches: Default::default(),
        coming_in: Default::default(),
        money: None,
        gear: Default::default(),
        legal: Default::default(),
    }
}

/// The files of the demonstration that come along, by their names in the new workshop.
fn files(along: Along) -> Vec<(String, String)> {
    let wanted = |name: &str| match along {
        Along::Nothing => false,
        Along::Figures => !name.starts_with("bays/") && !name.starts_with("jobs/"),
        Along::Everything => true,
    };
    let own = held().iter().map(|(name, text)| (name.strip_prefix("demo/").unwrap_or(name), *text));
    let kept = own.filter(|(name, _)| *name != WORKSHOP_FILE && wanted(name));
    // the demonstration's bays lie beside its folder, those of a workshop in it
    kept.map(|(name, text)| (name.to_owned(), text.replace("\"../../bays/", "\"../bays/"))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::{open_job, shop_contents};

    #[test]
    fn the_demonstration_copied_is_whole_and_never_written_over() {
        let dir = tempfile::tempdir().expect("folder");
        let folder = dir.path().join("a yard");
        let new = NewShop { name: "My yard".into(), folder: folder.clone(), along: Along::Everything };
        make_shop(&new).expect("made");
        let shop = shop_contents(&folder, &|| false).expect("read");
        assert_eq!((shop.name.as_str(), shop.faults.len()), ("My yard", 0));
        assert!(shop.jobs.len() > 10 && shop.bays.len() == 5 && shop.vehicles.len() == 6);
        for job in &shop.jobs {
            open_job(&job.path).unwrap_or_else(|faults| panic!("{faults:?}"));
        }
        assert!(!super::super::is_demonstration(&shop.jobs[0].path));
        let before = std::fs::read_to_string(folder.join("workshop.ron")).expect("read");
        assert!(make_shop(&new).expect_err("taken").contains("there is a workshop in"));
        std::fs::remove_file(folder.join("workshop.ron")).expect("removed");
        assert!(make_shop(&new).expect_err("taken").contains("is there already: choose an empty folder"));
        assert!(before.contains("My yard"));
    }

    #[test]
    fn an_empty_one_has_its_folders_and_no_file_but_its_own() {
        let dir = tempfile::tempdir().expect("folder");
        let new = |along| NewShop { name: "Yard".into(), folder: dir.path().join("yard"), along };
        assert!(make_shop(&NewShop { name: " ".into(), ..new(Along::Nothing) }).is_err());
        make_shop(&new(Along::Nothing)).expect("made");
        let shop = shop_contents(&dir.path().join("yard"), &|| false).expect("read");
        assert!(shop.jobs.is_empty() && shop.bays.is_empty() && dir.path().join("yard/bays").is_dir());
        let gone = shop_contents(&dir.path().join("nowhere"), &|| false).expect_err("gone");
        assert!(gone.ends_with("nowhere is not there"), "{gone}");
    }
}
