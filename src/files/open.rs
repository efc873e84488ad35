//! A whole job: the job file and every file it names, read and held against each other.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::model::faults::{self, Defect, Parts};
use crate::model::spot::Name;
use crate::model::writing::spell_whole;
use crate::model::{Bay, Bundle, Equipment, Fault, FileOf, Job, Procedure, Vehicle, words};

use super::fault::{FileFault, at_most};
use super::folder::plain_path;
use super::kind::{FileKind, Kind};
use super::read::{MOST, Read};
use super::source::Source;

/// A job with everything it names, and the texts all of it was read from.
#[derive(Clone, Debug, PartialEq)]
pub struct Opened {
    /// The job's own file.
    pub path: PathBuf,
    pub bundle: Bundle,
    pub sources: Sources,
}

impl Opened {
    /// A fault found later, such as a construction without a solution, with its path, line and column.
    pub fn fault(&self, fault: &Fault) -> FileFault {
        self.sources.fault(fault)
    }
}

/// The text and path of each file of a job.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sources(BTreeMap<FileOf, Arc<Source>>);

impl Sources {
    pub fn get(&self, file: FileOf) -> Option<&Source> {
        self.0.get(&file).map(|s| &**s)
    }

    /// The files of a job, each with the text it has among these.
    pub fn among(texts: &Texts, home: &Path, job: &Job) -> Sources {
        let found = |path: &Path| texts.get(&plain_path(path)).cloned();
        let procedures = job.procedures.iter().enumerate().map(|(i, p)| (FileOf::Procedure(i), &p.file));
        let named =
            [(FileOf::Bay, &job.bay), (FileOf::Vehicle, &job.vehicle), (FileOf::Equipment, &job.equipment)];
        let named = named.into_iter().chain(procedures);
        let named = named.filter_map(|(file, name)| Some((file, found(&named_path(home, name.as_str()))?)));
        Sources(found(home).map(|job| (FileOf::Job, job)).into_iter().chain(named).collect())
    }

    /// Every file's text by its plain path.
    pub fn texts(&self) -> Texts {
        self.0.values().map(|s| (plain_path(&s.path), s.clone())).collect()
    }

    /// The path of one file of the job, as the job names it.
    pub fn path(&self, file: FileOf) -> Option<&Path> {
        self.get(file).map(|s| s.path.as_path())
    }

    /// Every file once, the job first.
    pub fn paths(&self) -> Vec<&Path> {
        let mut paths: Vec<&Path> = Vec::new();
        for source in self.0.values() {
            if !paths.contains(&source.path.as_path()) {
                paths.push(&source.path);
            }
        }
        paths
    }

    /// A fault of the bundle with its path, line and column.
    pub fn fault(&self, fault: &Fault) -> FileFault {
        match self.get(fault.file) {
            Some(source) => source.fault(fault.spot.0, fault.text.clone(), fault.hint.clone()),
            None => FileFault { hint: fault.hint.clone(), ..FileFault::whole("", fault.text.clone()) },
        }
    }
}

/// Opens a job file with every file it names. The faults of all of them are collected; with none, the job is whole.
pub fn open_job(path: &Path) -> Result<Opened, Vec<FileFault>> {
    let source = Source::load(path).map_err(|fault| vec![fault])?;
    Examined::new(source).opened()
}

/// Texts of files by their plain paths ([`plain_path`]).
pub type Texts = BTreeMap<PathBuf, Arc<Source>>;

/// The same where some files are taken to hold other texts than they do on the disk, or are on no disk at all.
pub fn open_over(path: &Path, texts: &Texts) -> Result<Opened, Vec<FileFault>> {
    let source = load_over(path, texts).map_err(|fault| vec![fault])?;
    Examined::over(source, texts).opened()
}

/// Opens a job that is held in memory, as if it stood in a file at `path`: what it names is read relative to there.
pub fn open_held(job: &Job, path: &Path) -> Result<Opened, Vec<FileFault>> {
    let text = spell_whole(job)
        .map_err(|why| vec![FileFault::whole(path, format!("this job cannot be used: {why}"))])?;
    open_over(path, &BTreeMap::from([(plain_path(path), Arc::new(Source::new(path, &text)))]))
}

fn load_over(path: &Path, texts: &Texts) -> Result<Source, FileFault> {
    match texts.get(&plain_path(path)) {
        Some(source) => Ok(source.at(path)),
        None => Source::load(path),
    }
}

/// The path of a file that the job at `job` names `name`.
pub fn named_path(job: &Path, name: &str) -> PathBuf {
    match job.parent() {
        Some(folder) => folder.join(name),
        None => PathBuf::from(name),
    }
}

/// A job and its files as far as they could be read.
pub(super) struct Examined {
    pub sources: Sources,
    pub job: Read<Job>,
    pub bay: Option<Arc<Read<Bay>>>,
    pub vehicle: Option<Arc<Read<Vehicle>>>,
    pub equipment: Option<Arc<Read<Equipment>>>,
    pub procedures: Vec<Option<Arc<Read<Procedure>>>>,
    /// All faults: the job's, then file by file, then those of the whole.
    pub faults: Vec<FileFault>,
    texts: Texts,
}

impl Examined {
    pub(super) fn new(source: Source) -> Self {
        Examined::over(source, &Texts::new())
    }

    fn over(source: Source, texts: &Texts) -> Self {
        let job = Read::<Job>::new(&source);
        let source = Arc::new(source);
        let mut all = Examined {
            sources: Sources(BTreeMap::from([(FileOf::Job, source)])),
            faults: job.faults.clone(),
            job,
            bay: None,
            vehicle: None,
            equipment: None,
            procedures: Vec::new(),
            texts: texts.clone(),
        };
        if let Some(named) = all.job.value.take() {
            all.bay = all.follow(FileOf::Bay, &named.bay);
            all.vehicle = all.follow(FileOf::Vehicle, &named.vehicle);
            all.equipment = all.follow(FileOf::Equipment, &named.equipment);
            let mut seen: BTreeMap<&str, usize> = BTreeMap::new();
            for (i, chosen) in named.procedures.iter().enumerate() {
                let read = match seen.get(chosen.file.as_str()) {
                    Some(&first) => {
                        if let Some(source) = all.sources.0.get(&FileOf::Procedure(first)).cloned() {
                            all.sources.0.insert(FileOf::Procedure(i), source);
                        }
                        all.procedures[first].clone()
                    }
                    None => all.follow(FileOf::Procedure(i), &chosen.file),
                };
                seen.entry(chosen.file.as_str()).or_insert(i);
                all.procedures.push(read);
            }
            all.job.value = Some(named);
        }
        all.cross_check();
        all
    }

    /// Reads a file the job names.
    fn follow<T: FileKind>(&mut self, file: FileOf, name: &Name) -> Option<Arc<Read<T>>> {
        let job = self.sources.0.get(&FileOf::Job)?.clone();
        if name.as_str().trim().is_empty() {
            let at = self.job.place_of(name.spot)?;
            let text = format!("the job names no {} file", T::KIND.word());
            let hint = "give its path, relative to this job".to_owned();
            let fault = job.fault(at, text, Some(hint));
            let told = |f: &FileFault| (f.line, f.column) == (fault.line, fault.column);
            if !self.job.faults.iter().any(told) {
                self.faults.push(fault);
            }
            return None;
        }
        let path = named_path(&job.path, name.as_str());
        match load_over(&path, &self.texts) {
            Ok(source) => {
                let read = Read::<T>::new(&source);
                self.faults.extend(read.faults.iter().cloned());
                self.sources.0.insert(file, Arc::new(source));
                Some(Arc::new(read))
            }
            Err(fault) if fault.line > 0 => {
                self.faults.push(fault);
                None
            }
            Err(fault) => {
                let at = self.job.place_of(name.spot)?;
                let text = format!("{name:?} cannot be read as {}: {}", T::KIND.article(), fault.text);
                self.faults.push(job.fault(at, text, near_file(&path, name.as_str(), T::KIND)));
                None
            }
        }
    }

    /// The job and its files, each as far as nothing was left out of it.
    pub(super) fn parts(&self) -> Option<Parts<'_>> {
        Some(Parts {
            job: self.job.value.as_ref()?,
            bay: whole(&self.bay),
            vehicle: whole(&self.vehicle),
            equipment: whole(&self.equipment),
            procedures: self.procedures.iter().map(whole).collect(),
        })
    }

    /// A defect of the whole as a fault of one of its files.
    pub(super) fn place(&self, file: FileOf, defect: &Defect) -> Option<FileFault> {
        let source = self.sources.get(file)?;
        match file {
            FileOf::Job => self.job.place(source, defect),
            FileOf::Bay => self.bay.as_ref()?.place(source, defect),
            FileOf::Vehicle => self.vehicle.as_ref()?.place(source, defect),
            FileOf::Equipment => self.equipment.as_ref()?.place(source, defect),
            FileOf::Procedure(i) => self.procedures.get(i)?.as_ref()?.place(source, defect),
        }
    }

    fn cross_check(&mut self) {
        let found = self.parts().map(|p| faults::bundle(&p)).unwrap_or_default();
        let more: Vec<FileFault> =
            found.iter().filter_map(|(file, defect)| self.place(*file, defect)).collect();
        self.faults.extend(more);
        let mut seen = BTreeSet::new();
        self.faults.retain(|f| seen.insert(f.clone()));
        at_most(&mut self.faults, MOST, false);
    }

    fn opened(self) -> Result<Opened, Vec<FileFault>> {
        if !self.faults.is_empty() {
            return Err(self.faults);
        }
        let path = self.sources.path(FileOf::Job).map(Path::to_path_buf).unwrap_or_default();
        let incomplete = || vec![FileFault::whole(&path, "this job could not be read whole")];
        let bundle = Bundle {
            job: Arc::new(self.job.value.ok_or_else(incomplete)?),
            bay: take(self.bay).ok_or_else(incomplete)?,
            vehicle: take(self.vehicle).ok_or_else(incomplete)?,
            equipment: take(self.equipment).ok_or_else(incomplete)?,
            procedures: self
                .procedures
                .into_iter()
                .map(take)
                .collect::<Option<_>>()
                .ok_or_else(incomplete)?,
        };
        Ok(Opened { path, bundle, sources: self.sources })
    }
}

fn take<T>(read: Option<Arc<Read<T>>>) -> Option<Arc<T>>
where
    T: Clone,
{
    let read = read?;
    let value = match Arc::try_unwrap(read) {
        Ok(read) => read.value?,
        Err(shared) => shared.value.clone()?,
    };
    Some(Arc::new(value))
}

fn whole<T>(read: &Option<Arc<Read<T>>>) -> Option<&T> {
    read.as_ref().filter(|r| r.whole)?.value.as_ref()
}

/// What may have been meant by a file that cannot be read.
fn near_file(path: &Path, written: &str, kind: Kind) -> Option<String> {
    if written.contains('\\') && !cfg!(windows) {
        return Some("write / between folders".into());
    }
    if path.is_dir() {
        return Some("name a file in it".into());
    }
    let folder = path.parent()?;
    let Ok(entries) = std::fs::read_dir(folder) else {
        return Some(format!("there is no folder {:?} either", folder.display().to_string()));
    };
    let mut names: Vec<String> = entries
        .flatten()
        .filter_map(|e| e.file_name().into_string().ok())
        .filter(|n| n.ends_with(".ron"))
        .collect();
    names.sort();
    let name = path.file_name()?.to_str()?;
    match words::nearest(name, names.iter().map(String::as_str)) {
        Some(near) => Some(format!("did you mean {near:?}?")),
        None => Some(format!("give the path of {} file, relative to this job", kind.article())),
    }
}
