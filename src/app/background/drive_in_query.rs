//! The way in, looked for beside the window. It is looked for where the job asks for it, anew with every change of the
//! job; a new change stops it. While the vehicle is dragged nothing is started: where it will stand is not known before
//! it is let go.

use std::sync::Arc;

use crate::app::background::job_key::{JobKey, LastKey};
use crate::app::background::question::Question;
use crate::driving::{DriveIn, drive_in};
use crate::edit::Document;
use crate::layout::{Layout, Stance};
use crate::model::{Bundle, List, Pose};
use crate::siting::Progress;

/// The search for a way in and its last answer.
pub(crate) struct DriveInQuery {
    /// Of the document's revision, and where a job without a pose is judged.
    key: LastKey<(u64, Option<Stance>)>,
    question: Question<JobKey, Option<Arc<DriveIn>>>,
}

impl Default for DriveInQuery {
    fn default() -> Self {
        DriveInQuery { key: LastKey::default(), question: Question::new("way in") }
    }
}

impl DriveInQuery {
    /// Starts, stops and collects as the job asks; tells whether there is something new to show. `held`: the vehicle is
    /// being dragged. `place`: where a job without a pose is judged; until that is known nothing is started.
    pub(crate) fn update(
        &mut self,
        document: &Document,
        place: Option<Stance>,
        held: bool,
        ctx: &egui::Context,
    ) -> bool {
        if held || document.job().pose == Pose::Anywhere && place.is_none() {
            return self.question.collect();
        }
        if !document.job().drive_in {
            return self.question.withdraw();
        }
        let key = self.key.keep((document.revision(), place), || wanted(document.bundle(), place));
        self.question.ask(&key, ctx, || {
            let bundle = key.bundle().clone();
            move |progress: &Progress| {
                drive_in(&Layout::new(&bundle).ok()?, &|| progress.is_stopped()).map(Arc::new)
            }
        })
    }

    /// What was found for the job as it is, where it asks; never an answer about an earlier job.
    pub(crate) fn found(&self, document: &Document) -> Option<&Arc<DriveIn>> {
        let fresh = self.key.state().is_some_and(|(r, _)| r == document.revision());
        self.question.current().filter(|_| fresh)?.as_ref()
    }

    #[cfg(test)]
    pub(crate) fn token(&self) -> Option<Arc<Progress>> {
        self.question.token()
    }

    /// Whether a way is being looked for.
    pub(crate) fn is_busy(&self) -> bool {
        self.question.is_busy()
    }
}

/// The job without what has nothing to do with the way: what it is called, and what a person accepted. One without a pose
/// has the place it is judged at.
fn wanted(bundle: &Bundle, place: Option<Stance>) -> JobKey {
    let mut job = (*bundle.job).clone();
    if let (Pose::Anywhere, Some(Stance { x, y, heading })) = (&job.pose, place) {
        job.pose = Pose::At { x, y, heading };
    }
    job.name = "".into();
    job.accepted = List::default();
    JobKey::new(Bundle { job: Arc::new(job), ..bundle.clone() })
}
