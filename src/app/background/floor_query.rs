//! Where the floor lets the vehicle stand, looked over beside the window: anew with every change of the job but where the
//! vehicle stands, and with every new answer of the search for a place.

use std::sync::Arc;

use crate::app::background::job_key::JobKey;
use crate::app::background::question::Question;
use crate::app::background::siting_query::region_at;
use crate::layout::Layout;
use crate::siting::{Even, Progress, Siting, even};

/// The look over the floor and its last answer.
pub(crate) struct FloorQuery {
    question: Question<FloorWish, Option<Arc<Even>>>,
}

impl Default for FloorQuery {
    fn default() -> Self {
        FloorQuery { question: Question::new("floor") }
    }
}

/// What is looked over.
#[derive(Clone)]
pub(crate) struct FloorWish {
    pub of: JobKey,
    /// Where everything else fits, once it was searched for.
    pub siting: Option<Arc<Siting>>,
    /// The heading of the vehicle, degrees.
    pub heading: f64,
}

impl PartialEq for FloorWish {
    fn eq(&self, other: &FloorWish) -> bool {
        let at = |wish: &FloorWish| wish.siting.as_ref().map(Arc::as_ptr);
        self.of == other.of && self.heading == other.heading && at(self) == at(other)
    }
}

impl FloorQuery {
    /// Starts, stops and collects; tells whether there is something new. While the search for where everything else fits
    /// is `waiting`, nothing is started.
    pub(crate) fn update(&mut self, wish: &FloorWish, waiting: bool, ctx: &egui::Context) -> bool {
        let asks = wish.of.bundle().procedures.iter().any(|p| p.setups.iter().any(|s| s.level.is_some()));
        if !asks {
            let had = self.question.last().is_some();
            self.question.again();
            return self.question.withdraw() || had;
        }
        if waiting {
            return self.question.collect();
        }
        self.question.ask(wish, ctx, || {
            let FloorWish { of, siting, heading } = wish.clone();
            move |progress: &Progress| {
                let region = siting.map(|s| region_at(&s, heading)).unwrap_or_default();
                let layout = Layout::new(of.bundle()).ok()?;
                even(&layout, &region, &|| progress.is_stopped()).map(Arc::new)
            }
        })
    }

    /// What was found; of an earlier job until the new answer is there.
    pub(crate) fn found(&self) -> Option<&Arc<Even>> {
        self.question.last().and_then(|(_, even)| even.as_ref())
    }

    #[cfg(test)]
    pub(crate) fn token(&self) -> Option<Arc<Progress>> {
        self.question.token()
    }

    /// Whether the floor is being looked over.
    pub(crate) fn is_busy(&self) -> bool {
        self.question.is_busy()
    }
}
