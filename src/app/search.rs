//! The search for a place to stand, run beside the window. It starts anew when the job changes in anything but where
//! the vehicle stands; a new change stops it. What it found is stamped with the job it belongs to.

use std::sync::Arc;

use super::worker::{Outcome, Worker};
use crate::edit::Document;
use crate::files::BaysBeside;
use crate::model::{Bundle, Pose};
use crate::siting::{Ask, Halted, OtherBay, Progress, Siting, find, find_among, headings_of};

/// The search and its last answer.
#[derive(Default)]
pub struct Search {
    running: Option<Running>,
    found: Option<Found>,
    /// The answer is about the job of the revision last looked at.
    is_current: bool,
    /// The revision last looked at, so that an idle window compares nothing.
    seen: Option<u64>,
}

struct Running {
    of: Bundle,
    progress: Arc<Progress>,
    worker: Worker<Result<Siting, Halted>>,
}

/// An answer, and the job it is about.
struct Found {
    of: Bundle,
    siting: Arc<Siting>,
}

impl Search {
    /// Starts, stops and collects as the job asks; tells whether there is something new to show.
    pub fn update(&mut self, document: &Document, ctx: &egui::Context) -> bool {
        let collected = self.collect();
        if self.seen == Some(document.revision()) && !collected {
            return false;
        }
        let of = wanted(document.bundle());
        let found = self.found.as_ref().is_some_and(|f| same(&f.of, &of));
        self.is_current = found;
        if self.seen == Some(document.revision()) {
            return true;
        }
        self.seen = Some(document.revision());
        let running = self.running.as_ref().is_some_and(|r| same(&r.of, &of));
        if running || (found && self.running.is_none()) {
            return true;
        }
        if let Some(old) = self.running.take() {
            old.progress.stop();
        }
        if !found {
            self.start(of, document, ctx);
        }
        true
    }

    /// What was found about the job as it is now; an answer about an earlier job is not shown.
    pub fn found(&self, document: &Document) -> Option<&Arc<Siting>> {
        let found = self.found.as_ref()?;
        let is_current = match self.seen == Some(document.revision()) {
            true => self.is_current,
            false => same(&found.of, &wanted(document.bundle())),
        };
        is_current.then_some(&found.siting)
    }

    /// How far a running search has come, from 0 to 1.
    pub fn progress(&self) -> Option<f32> {
        self.running.as_ref().map(|r| r.progress.fraction())
    }

    /// Searches anew at the next update.
    pub fn again(&mut self) {
        self.stop();
        self.found = None;
        self.seen = None;
    }

    /// Gives a running search up.
    pub fn stop(&mut self) {
        if let Some(running) = self.running.take() {
            running.progress.stop();
        }
    }

    fn start(&mut self, of: Bundle, document: &Document, ctx: &egui::Context) {
        let heading = match of.job.pose {
            Pose::At { heading, .. } => heading,
            Pose::Anywhere => 0.0,
        };
        let headings = headings_of(heading);
        let progress = Arc::new(Progress::new());
        let (bundle, watched) = (document.bundle().clone(), progress.clone());
        let home = document.path().map(std::path::Path::to_path_buf);
        let work = move || {
            let ask = Ask { headings, bays: Vec::new() };
            let Some(home) = home else { return find(&bundle, &ask, &watched) };
            let stop = || watched.is_stopped();
            let mut beside = BaysBeside::new(&bundle.job, &home, &stop);
            let mut bays = beside.by_ref().map(|(path, bay)| OtherBay { path, bay });
            let mut found = find_among(&bundle, &ask, &mut bays, &watched)?;
            found.notes.extend(beside.unread().map(crate::siting::Note::Unread));
            Ok(found)
        };
        self.running = Worker::start("siting", ctx, work).map(|worker| Running { of, progress, worker });
    }

    fn collect(&mut self) -> bool {
        let Some(Running { of, progress, worker }) = self.running.take() else { return false };
        match worker.poll() {
            Outcome::UnderWay(worker) => {
                self.running = Some(Running { of, progress, worker });
                false
            }
            Outcome::Done(Ok(siting)) => {
                self.found = Some(Found { of, siting: Arc::new(siting) });
                true
            }
            Outcome::Done(Err(_)) | Outcome::Lost => true,
        }
    }
}

impl Drop for Search {
    fn drop(&mut self) {
        self.stop();
    }
}

/// The job without what does not change the answer: where in the bay the vehicle stands, what the job is called.
/// Acceptances hold at the job's own place, so with any the place counts.
pub fn wanted(bundle: &Bundle) -> Bundle {
    let mut job = (*bundle.job).clone();
    job.name = "".into();
    if let Pose::At { x, y, .. } = &mut job.pose
        && job.accepted.is_empty()
    {
        (*x, *y) = (0.0, 0.0);
    }
    Bundle { job: Arc::new(job), ..bundle.clone() }
}

/// Whether two jobs have one answer.
pub fn same(a: &Bundle, b: &Bundle) -> bool {
    a.job == b.job
        && Arc::ptr_eq(&a.bay, &b.bay)
        && Arc::ptr_eq(&a.vehicle, &b.vehicle)
        && Arc::ptr_eq(&a.equipment, &b.equipment)
        && a.procedures.len() == b.procedures.len()
        && a.procedures.iter().zip(&b.procedures).all(|(p, q)| Arc::ptr_eq(p, q))
}
