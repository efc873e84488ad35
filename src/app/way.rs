//! The way in, looked for beside the window. It is looked for where the job asks for it, anew with every change of the
//! job, and stamped with the job it belongs to; a new change stops it. While the vehicle is dragged nothing is started:
//! where it will stand is not known before it is let go.

use std::sync::Arc;

use super::job_key::same;
use super::worker::Task;
use crate::driving::{DriveIn, drive_in};
use crate::edit::Document;
use crate::layout::{Layout, Stance};
use crate::model::{Bundle, List, Pose};

/// The search for a way in and its last answer.
#[derive(Default)]
pub struct Way {
    running: Option<Task<Bundle, Option<DriveIn>>>,
    found: Option<(Bundle, Arc<DriveIn>)>,
    /// The answer is about the job as it is.
    is_current: bool,
    /// The revision and the place last looked at, so that an idle window compares nothing.
    seen: Option<(u64, Option<Stance>)>,
}

impl Way {
    /// Starts, stops and collects as the job asks; tells whether there is something new to show. `held`: the vehicle is
    /// being dragged. `place`: where a job without a pose is judged; until that is known nothing is started.
    pub fn update(
        &mut self,
        document: &Document,
        place: Option<Stance>,
        held: bool,
        ctx: &egui::Context,
    ) -> bool {
        let collected = self.collect(document, place);
        let seen = (document.revision(), place);
        if held || self.seen == Some(seen) || document.job().pose == Pose::Anywhere && place.is_none() {
            return collected;
        }
        self.seen = Some(seen);
        let of = wanted(document.bundle(), place);
        self.is_current = self.found.as_ref().is_some_and(|(f, _)| same(f, &of));
        let asked = of.job.drive_in;
        if asked && !self.is_current && self.running.as_ref().is_some_and(|r| same(&r.about, &of)) {
            return true;
        }
        self.running = None;
        if asked && !self.is_current {
            self.start(of, ctx);
        }
        true
    }

    /// What was found for the job as it is, where it asks; never an answer about an earlier job.
    pub fn found(&self, document: &Document) -> Option<&Arc<DriveIn>> {
        let fresh = self.is_current
            && self.seen.is_some_and(|(r, _)| r == document.revision())
            && document.job().drive_in;
        self.found.as_ref().filter(|_| fresh).map(|(_, found)| found)
    }

    /// Whether a way is being looked for.
    pub fn is_busy(&self) -> bool {
        self.running.is_some()
    }

    fn start(&mut self, of: Bundle, ctx: &egui::Context) {
        let bundle = of.clone();
        let work = move |stop: &dyn Fn() -> bool| drive_in(&Layout::new(&bundle).ok()?, stop);
        self.running = Task::start("way in", ctx, of, work);
    }

    fn collect(&mut self, document: &Document, place: Option<Stance>) -> bool {
        let Some((of, answer)) = Task::ended(&mut self.running) else { return false };
        if let Some(found) = answer.flatten() {
            self.is_current = same(&of, &wanted(document.bundle(), place));
            self.found = Some((of, Arc::new(found)));
        }
        true
    }
}

/// The job without what has nothing to do with the way: what it is called, and what a person accepted. One without a pose
/// has the place it is judged at.
fn wanted(bundle: &Bundle, place: Option<Stance>) -> Bundle {
    let mut job = (*bundle.job).clone();
    if let (Pose::Anywhere, Some(Stance { x, y, heading })) = (&job.pose, place) {
        job.pose = Pose::At { x, y, heading };
    }
    job.name = "".into();
    job.accepted = List::default();
    Bundle { job: Arc::new(job), ..bundle.clone() }
}
