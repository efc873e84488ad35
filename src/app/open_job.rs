//! One open job: what is under change, all that is derived from it or worked out about it, and what of it is being typed.

use crate::app::background::advice_query::AdviceQuery;
use crate::app::background::disk::Disk;
use crate::app::background::drive_in_query::DriveInQuery;
use crate::app::background::floor_query::FloorQuery;
use crate::app::background::margin_query::MarginQuery;
use crate::app::background::siting_query::SitingQuery;
use crate::app::state::derived::DerivedState;
use crate::app::state::survey_draft::SurveyDraft;
use crate::edit::Document;
use crate::files::KeptHeights;
use crate::layout::Stance;

/// A job under change. Another one takes its place whole: nothing that was worked out about the one before is left.
pub(super) struct OpenJob {
    pub document: Document,
    pub derived: DerivedState,
    pub siting: SitingQuery,
    pub advice: AdviceQuery,
    pub margins: MarginQuery,
    pub drive_in: DriveInQuery,
    pub floor: FloorQuery,
    pub disk: Disk,
    /// Where the vehicle is held while it is dragged.
    pub drag: Option<Stance>,
    /// A table of heights with lines that cannot be read yet.
    pub survey: Option<SurveyDraft>,
    /// What of it is kept for the case of a crash.
    pub kept_heights: Option<KeptHeights>,
}

impl OpenJob {
    pub(super) fn new(document: Document, derived: DerivedState) -> OpenJob {
        OpenJob {
            document,
            derived,
            siting: SitingQuery::default(),
            advice: AdviceQuery::default(),
            margins: MarginQuery::default(),
            drive_in: DriveInQuery::default(),
            floor: FloorQuery::default(),
            disk: Disk::default(),
            drag: None,
            survey: None,
            kept_heights: None,
        }
    }
}

#[cfg(test)]
mod tests {
    use std::path::Path;
    use std::sync::Arc;

    use super::*;
    use crate::app::background::floor_query::FloorWish;
    use crate::app::window::Window;
    use crate::siting::{Direction, Progress};

    fn window() -> Window {
        let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo/jobs/fennel-van-radar.ron");
        Window::new(&demo, None).unwrap()
    }

    /// What runs about the job, by its tokens.
    fn running(job: &OpenJob) -> Vec<Arc<Progress>> {
        let [writing, looking] = job.disk.tokens();
        let questions = [
            job.siting.token(),
            job.drive_in.token(),
            job.floor.token(),
            job.margins.token(),
            job.advice.token(),
            writing,
            looking,
        ];
        questions.into_iter().flatten().collect()
    }

    #[test]
    fn another_job_in_its_place_stops_all_that_runs_and_leaves_no_answer() {
        let ctx = egui::Context::default();
        let mut window = window();
        let job = &mut window.job;
        job.siting.update(&job.document, &ctx);
        job.margins.update(&job.derived, Direction::Along, &ctx);
        job.advice.update(&job.derived, None, false, &ctx);
        let place = Some(job.derived.layout.stance);
        job.drive_in.update(&job.document, place, false, &ctx);
        job.floor.update(
            &FloorWish { of: job.siting.key(&job.document), siting: None, heading: 0.0 },
            false,
            &ctx,
        );
        let tokens = running(job);
        assert!(tokens.len() >= 3 && tokens.iter().all(|t| !t.is_stopped()));
        while job.margins.is_busy() {
            job.margins.update(&job.derived, Direction::Along, &ctx);
        }
        assert!(job.margins.curve(Direction::Along).is_some());
        let derived = DerivedState::new(&job.document, &window.view_state).unwrap();
        *job = OpenJob::new(job.document.clone(), derived);
        assert!(tokens.iter().all(|t| t.is_stopped()), "something of the job before still runs");
        let job = &window.job;
        assert!(running(job).is_empty());
        assert!(job.siting.found(&job.document).is_none() && job.drive_in.found(&job.document).is_none());
        assert!(job.margins.curve(Direction::Along).is_none() && job.floor.found().is_none());
        assert!(job.advice.current().is_none());
    }
}
