//! One open job: what is under change, all that is derived from it or worked out about it, and what of it is being typed.

use crate::edit::Document;
use crate::files::KeptHeights;
use crate::layout::Stance;

use super::advise::Advising;
use super::disk::Disk;
use super::even::Ground;
use super::margins::Margins;
use super::search::Search;
use super::seen::Seen;
use super::survey::Draft;
use super::way::Way;

/// A job under change. Another one takes its place whole: nothing that was worked out about the one before is left.
pub struct OpenJob {
    pub document: Document,
    pub seen: Seen,
    pub search: Search,
    pub advising: Advising,
    pub margins: Margins,
    pub way: Way,
    pub ground: Ground,
    pub disk: Disk,
    /// Where the vehicle is held while it is dragged.
    pub drag: Option<Stance>,
    /// A table of heights with lines that cannot be read yet.
    pub survey: Option<Draft>,
    /// What of it is kept for the case of a crash.
    pub kept_heights: Option<KeptHeights>,
}

impl OpenJob {
    pub fn new(document: Document, seen: Seen) -> OpenJob {
        OpenJob {
            document,
            seen,
            search: Search::default(),
            advising: Advising::default(),
            margins: Margins::default(),
            way: Way::default(),
            ground: Ground::default(),
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
    use crate::app::Window;
    use crate::app::even::Wish;
    use crate::siting::{Direction, Progress};

    fn window() -> Window {
        let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo/jobs/fennel-van-radar.ron");
        Window::new(&demo, None).unwrap()
    }

    /// What runs about the job, by its tokens.
    fn running(job: &OpenJob) -> Vec<Arc<Progress>> {
        let [writing, looking] = job.disk.tokens();
        let questions = [
            job.search.token(),
            job.way.token(),
            job.ground.token(),
            job.margins.token(),
            job.advising.token(),
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
        job.search.update(&job.document, &ctx);
        job.margins.update(&job.seen, Direction::Along, &ctx);
        job.advising.update(&job.seen, None, false, &ctx);
        let place = Some(job.seen.layout.stance);
        job.way.update(&job.document, place, false, &ctx);
        job.ground.update(
            &Wish { of: job.search.key(&job.document), siting: None, heading: 0.0 },
            false,
            &ctx,
        );
        let tokens = running(job);
        assert!(tokens.len() >= 3 && tokens.iter().all(|t| !t.is_stopped()));
        while job.margins.is_busy() {
            job.margins.update(&job.seen, Direction::Along, &ctx);
        }
        assert!(job.margins.curve(Direction::Along).is_some());
        let seen = Seen::new(&job.document, &window.session).unwrap();
        *job = OpenJob::new(job.document.clone(), seen);
        assert!(tokens.iter().all(|t| t.is_stopped()), "something of the job before still runs");
        let job = &window.job;
        assert!(running(job).is_empty());
        assert!(job.search.found(&job.document).is_none() && job.way.found(&job.document).is_none());
        assert!(job.margins.curve(Direction::Along).is_none() && job.ground.found().is_none());
        assert!(job.advising.current().is_none());
    }
}
