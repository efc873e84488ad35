//! The files of a workshop beside a job, for picking from lists.

use std::collections::BTreeSet;
use std::path::{Component, Path, PathBuf};

use crate::model::{Bay, Equipment, Job, Procedure, Vehicle, Workshop};

use super::fault::FileFault;
use super::kind::{FileKind, Kind, kind_of};
use super::limits::{Limits, Unread};
use super::open::named_path;
use super::read::Read;
use super::source::Source;

/// How far up from the job's folder the folders of the workshop are looked for.
const LEVELS: usize = 3;

/// What was found, each list in the order of its names.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Listing {
    pub bays: Vec<Entry>,
    pub vehicles: Vec<Entry>,
    pub equipment: Vec<Entry>,
    pub procedures: Vec<Entry>,
    pub jobs: Vec<Entry>,
    pub workshops: Vec<Entry>,
    /// What was not looked at, and why.
    pub unread: Option<Unread>,
}

/// One file to pick.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// The name inside the file; the file's own name when it gives none.
    pub name: String,
    pub path: PathBuf,
    /// The first fault of a file that cannot be used.
    pub fault: Option<FileFault>,
}

impl Listing {
    pub fn of(&self, kind: Kind) -> &[Entry] {
        match kind {
            Kind::Bay => &self.bays,
            Kind::Vehicle => &self.vehicles,
            Kind::Equipment => &self.equipment,
            Kind::Procedure => &self.procedures,
            Kind::Job => &self.jobs,
            Kind::Workshop => &self.workshops,
        }
    }

    fn of_mut(&mut self, kind: Kind) -> &mut Vec<Entry> {
        match kind {
            Kind::Bay => &mut self.bays,
            Kind::Vehicle => &mut self.vehicles,
            Kind::Equipment => &mut self.equipment,
            Kind::Procedure => &mut self.procedures,
            Kind::Job => &mut self.jobs,
            Kind::Workshop => &mut self.workshops,
        }
    }
}

/// Lists the files beside the job at `path` (which need not exist yet): those in its folder, in the folders of the files
/// it names, and in the folders called bays, vehicles, equipment, procedures and jobs there and up to three levels up.
/// A folder that cannot be read is as good as empty. Large files, and more than can be read in a few seconds, are left
/// out, which is said; `stop` ends it early.
pub fn folder(path: &Path, stop: &dyn Fn() -> bool) -> Listing {
    let mut listing = Listing::default();
    let mut limits = Limits::new(stop);
    for file in candidates(path, &limits) {
        let Some(source) = limits.load(&file) else {
            continue;
        };
        let Some(kind) = kind_of(&source.text) else {
            continue;
        };
        let (name, fault) = match kind {
            Kind::Bay => look::<Bay>(&source, |b| b.name.to_string()),
            Kind::Vehicle => look::<Vehicle>(&source, |v| v.name.to_string()),
            Kind::Equipment => look::<Equipment>(&source, |e| e.name.to_string()),
            Kind::Procedure => look::<Procedure>(&source, |p| p.name.to_string()),
            Kind::Job => look::<Job>(&source, |j| j.name.to_string()),
            Kind::Workshop => look::<Workshop>(&source, |w| w.name.to_string()),
        };
        let name = name.filter(|n| !n.trim().is_empty()).unwrap_or_else(|| file_name(&file));
        listing.of_mut(kind).push(Entry { name, path: file, fault });
    }
    listing.unread = limits.unread();
    for kind in Kind::ALL {
        let entries = listing.of_mut(kind);
        entries.sort_by(|a, b| (a.name.to_lowercase(), &a.path).cmp(&(b.name.to_lowercase(), &b.path)));
    }
    listing
}

/// The path of `to` as a file in the folder `from` names it, with forward slashes. Where the two share no root, the
/// whole path of `to`.
pub fn relative_path(from: &Path, to: &Path) -> String {
    let (from, to) = (plain_path(from), plain_path(to));
    let (a, b): (Vec<_>, Vec<_>) = (from.components().collect(), to.components().collect());
    let same = a.iter().zip(&b).take_while(|(a, b)| a == b).count();
    let other_root = same == 0 && (from.is_absolute() || to.is_absolute());
    let climbs = a[same..].contains(&Component::ParentDir);
    if other_root || climbs {
        return slashes(to.components());
    }
    let up = a[same..].iter().map(|_| Component::ParentDir);
    slashes(up.chain(b[same..].iter().copied()))
}

/// The path made absolute, without `.` and with every `name/..` taken out.
pub fn plain_path(path: &Path) -> PathBuf {
    let path = if path.as_os_str().is_empty() { Path::new(".") } else { path };
    let path = std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf());
    let mut out = PathBuf::new();
    for part in path.components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir if matches!(out.components().next_back(), Some(Component::Normal(_))) => {
                out.pop();
            }
            Component::ParentDir if out.has_root() => {}
            part => out.push(part),
        }
    }
    out
}

fn slashes<'a>(parts: impl Iterator<Item = Component<'a>>) -> String {
    let mut text = String::new();
    for part in parts {
        match part {
            Component::RootDir => text.push('/'),
            part => {
                if !text.is_empty() && !text.ends_with('/') {
                    text.push('/');
                }
                text += &part.as_os_str().to_string_lossy();
            }
        }
    }
    text
}

fn look<T: FileKind>(source: &Source, name: impl Fn(&T) -> String) -> (Option<String>, Option<FileFault>) {
    let read = Read::<T>::new(source);
    (read.value.as_ref().map(name), read.faults.into_iter().next())
}

fn file_name(path: &Path) -> String {
    path.file_stem().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default()
}

fn candidates(job: &Path, limits: &Limits) -> BTreeSet<PathBuf> {
    let job = plain_path(job);
    let mut folders: BTreeSet<PathBuf> = BTreeSet::new();
    let mut above = job.parent();
    for level in 0..LEVELS {
        let Some(folder) = above else { break };
        if level == 0 {
            folders.insert(folder.to_path_buf());
        }
        folders.extend(Kind::ALL.iter().filter_map(|k| Some(folder.join(k.folder()?))));
        above = folder.parent();
    }
    if let Ok(source) = Source::load(&job)
        && let Some(named) = Read::<Job>::new(&source).value
    {
        let files = [&named.bay, &named.vehicle, &named.equipment];
        for name in files.into_iter().chain(named.procedures.iter().map(|c| &c.file)) {
            let path = plain_path(&named_path(&job, name.as_str()));
            folders.extend(path.parent().map(Path::to_path_buf));
        }
    }
    let mut files = BTreeSet::new();
    for folder in folders {
        let Ok(entries) = std::fs::read_dir(&folder) else {
            continue;
        };
        let paths = entries.flatten().map(|e| e.path()).take_while(|_| !limits.is_over());
        let mut ron: Vec<PathBuf> = paths.filter(|p| p.extension().is_some_and(|e| e == "ron")).collect();
        ron.sort();
        files.extend(ron);
    }
    files
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paths_are_written_from_the_folder_of_the_job() {
        for (from, to, said) in [
            ("/shop/jobs", "/shop/bays/b.ron", "../bays/b.ron"),
            ("/shop", "/shop/bays/b.ron", "bays/b.ron"),
            ("/shop/jobs/2026", "/shop/x.ron", "../../x.ron"),
            ("/shop/jobs", "/shop/jobs/./../bays/b c.ron", "../bays/b c.ron"),
            ("/a", "/b/c.ron", "../b/c.ron"),
            ("/", "/b/c.ron", "b/c.ron"),
            ("jobs", "bays/b.ron", "../bays/b.ron"),
            ("", "bays/b.ron", "bays/b.ron"),
        ] {
            if cfg!(unix) {
                assert_eq!(relative_path(Path::new(from), Path::new(to)), said, "{from} {to}");
            }
        }
    }

    #[test]
    fn files_beside_a_job_are_listed_by_what_they_are() {
        let dir = tempfile::tempdir().expect("folder");
        let put = |name: &str, text: &str| {
            let path = dir.path().join(name);
            std::fs::create_dir_all(path.parent().expect("folder")).expect("folder");
            std::fs::write(&path, text).expect("write");
        };
        put("shop/bays/two.ron", "(name: \"Bay 2\", floor: [(0, 0), (5, 0), (0, 5)])");
        put("shop/bays/one.ron", "(name: \"bay 1\", floor: [(0, 0), (5, 0), (0, 5)])");
        put("shop/bays/bad.ron", "(name: \"Bay 3\", flor: [(0, 0), (5, 0), (0, 5)])");
        put("shop/bays/notes.txt", "(name: \"Bay 4\", floor: [])");
        put("shop/kit.ron", "(name: \"not beside the job\", targets: {})");
        put("elsewhere/kit.ron", "(name: \"Kit\", targets: {})");
        put("elsewhere/other.ron", "(name: \"Other kit\", targets: {})");
        put("shop/jobs/empty.ron", "");
        put(
            "shop/jobs/job.ron",
            "(name: \"J\", bay: \"../bays/one.ron\", vehicle: \"none.ron\", equipment: \"../../elsewhere/kit.ron\",
              procedures: [], pose: Anywhere)",
        );
        let listing = folder(&dir.path().join("shop/jobs/job.ron"), &|| false);
        let names = |kind| listing.of(kind).iter().map(|e| e.name.as_str()).collect::<Vec<_>>();
        assert_eq!(names(Kind::Bay), ["bay 1", "Bay 2", "Bay 3"]);
        assert_eq!(names(Kind::Equipment), ["Kit", "Other kit"]);
        assert_eq!(names(Kind::Job), ["J"]);
        assert!(listing.vehicles.is_empty());
        let faults: Vec<bool> = listing.bays.iter().map(|e| e.fault.is_some()).collect();
        assert_eq!(faults, [false, false, true]);
        assert_eq!(folder(Path::new("/no/such/place/job.ron"), &|| false), Listing::default());
    }
}
