//! The search for a place to stand, run beside the window. It starts anew when the job changes in anything but where
//! the vehicle stands; a new change stops it.

use std::path::PathBuf;
use std::sync::Arc;

use crate::app::background::job_key::{JobKey, LastKey};
use crate::app::background::question::Question;
use crate::edit::Document;
use crate::files::BaysBeside;
use crate::geometry::P2;
use crate::model::{Bundle, Pose};
use crate::siting::{Ask, Halted, Note, OtherBay, Progress, Siting, find, find_among, headings_of};

/// The search and its last answer.
pub(crate) struct SitingQuery {
    /// Of the document's revision.
    key: LastKey<u64>,
    question: Question<JobKey, Option<Arc<Siting>>>,
}

impl Default for SitingQuery {
    fn default() -> Self {
        SitingQuery { key: LastKey::default(), question: Question::new("siting") }
    }
}

impl SitingQuery {
    /// Starts, stops and collects as the job asks; tells whether there is something new to show.
    pub(crate) fn update(&mut self, document: &Document, ctx: &egui::Context) -> bool {
        let key = self.key.keep(document.revision(), || wanted(document.bundle()));
        self.question.ask(&key, ctx, || {
            let bundle = document.bundle().clone();
            let home = document.path().map(std::path::Path::to_path_buf);
            move |progress: &Progress| search(&bundle, home, progress).ok().map(Arc::new)
        })
    }

    /// What the answer about the job as it is hangs on.
    pub(crate) fn key(&self, document: &Document) -> JobKey {
        self.key.get(document.revision(), || wanted(document.bundle()))
    }

    /// What was found about the job as it is now; an answer about an earlier job is not shown.
    pub(crate) fn found(&self, document: &Document) -> Option<&Arc<Siting>> {
        self.question.answer_to(&self.key(document))?.as_ref()
    }

    /// How far a running search has come, from 0 to 1.
    pub(crate) fn progress(&self) -> Option<f32> {
        self.question.progress()
    }

    /// Searches anew at the next update.
    pub(crate) fn again(&mut self) {
        self.question.again();
    }

    #[cfg(test)]
    pub(crate) fn token(&self) -> Option<Arc<Progress>> {
        self.question.token()
    }

    /// Gives a running search up.
    pub(crate) fn stop(&mut self) {
        self.question.give_up();
    }
}

/// `home`: the job's file, whose neighbours are looked at too where it has one.
fn search(bundle: &Bundle, home: Option<PathBuf>, progress: &Progress) -> Result<Siting, Halted> {
    let heading = match bundle.job.pose {
        Pose::At { heading, .. } => heading,
        Pose::Anywhere => 0.0,
    };
    let ask = Ask { headings: headings_of(heading), bays: Vec::new() };
    let Some(home) = home else { return find(bundle, &ask, progress) };
    let stop = || progress.is_stopped();
    let mut beside = BaysBeside::new(&bundle.job, &home, &stop);
    let mut bays = beside.by_ref().map(|(path, bay)| OtherBay { path, bay });
    let mut found = find_among(bundle, &ask, &mut bays, progress)?;
    found.notes.extend(beside.unread().map(Note::Unread));
    Ok(found)
}

/// The job without what does not change the answer: where in the bay the vehicle stands, what the job is called.
/// Acceptances hold at the job's own place, so with any the place counts.
fn wanted(bundle: &Bundle) -> JobKey {
    let mut job = (*bundle.job).clone();
    job.name = "".into();
    if let Pose::At { x, y, .. } = &mut job.pose
        && job.accepted.is_empty()
    {
        (*x, *y) = (0.0, 0.0);
    }
    JobKey::new(Bundle { job: Arc::new(job), ..bundle.clone() })
}

/// Where everything fits at a heading in degrees, outlines with holes clockwise; nothing where it was not looked at.
pub(crate) fn region_at(found: &Siting, heading: f64) -> Vec<Vec<P2>> {
    let is_at = |at: f64| ((at - heading + 180.0).rem_euclid(360.0) - 180.0).abs() < 1e-6;
    let of_heading = found.headings.iter().find(|h| is_at(h.heading));
    of_heading.map(|h| h.allowed.rings.clone()).unwrap_or_default()
}
