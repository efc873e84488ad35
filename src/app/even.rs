//! Where the floor lets the vehicle stand, looked over beside the window: anew with every change of the job but where the
//! vehicle stands, and with every new answer of the search for a place.

use std::sync::Arc;

use super::job_key::JobKey;
use super::worker::Task;
use crate::edit::Document;
use crate::geometry::P2;
use crate::layout::Layout;
use crate::siting::{Even, even};

/// The look over the floor and its last answer.
#[derive(Default)]
pub struct Ground {
    running: Option<Task<Wish, Option<Even>>>,
    found: Option<(Wish, Option<Arc<Even>>)>,
    /// What the last update asked for.
    wish: Option<Wish>,
    /// The revision last looked at, so that an idle window compares little.
    seen: Option<u64>,
}

#[derive(Clone)]
struct Wish {
    of: JobKey,
    region: Vec<Vec<P2>>,
}

impl Wish {
    fn is(&self, other: &Wish) -> bool {
        self.region == other.region && self.of == other.of
    }
}

impl Ground {
    /// Starts, stops and collects; tells whether there is something new. `region`: where everything else fits at the
    /// heading the vehicle has. While the search for it is `waiting`, nothing is started.
    pub fn update(
        &mut self,
        (document, of): (&Document, JobKey),
        region: &[Vec<P2>],
        waiting: bool,
        ctx: &egui::Context,
    ) -> bool {
        let collected = self.collect();
        let asks = document.bundle().procedures.iter().any(|p| p.setups.iter().any(|s| s.level.is_some()));
        if !asks {
            self.running = None;
            (self.wish, self.seen) = (None, None);
            return self.found.take().is_some() || collected;
        }
        let seen = self.seen == Some(document.revision());
        if waiting || (seen && self.wish.as_ref().is_some_and(|w| w.region == region)) {
            return collected;
        }
        self.seen = Some(document.revision());
        let wish = Wish { of, region: region.to_vec() };
        self.wish = Some(wish.clone());
        if self.running.as_ref().is_some_and(|r| r.about.is(&wish)) {
            return collected;
        }
        self.running = None;
        if self.found.as_ref().is_some_and(|(w, _)| w.is(&wish)) {
            return collected;
        }
        self.start(wish, ctx);
        true
    }

    /// What was found; of an earlier job until the new answer is there.
    pub fn found(&self) -> Option<&Arc<Even>> {
        self.found.as_ref().and_then(|(_, even)| even.as_ref())
    }

    /// Whether the floor is being looked over.
    pub fn is_busy(&self) -> bool {
        self.running.is_some()
    }

    fn start(&mut self, wish: Wish, ctx: &egui::Context) {
        let of = wish.clone();
        let work = move |stop: &dyn Fn() -> bool| {
            let layout = Layout::new(of.of.bundle()).ok()?;
            even(&layout, &of.region, stop)
        };
        self.running = Task::start("floor", ctx, wish, work);
    }

    fn collect(&mut self) -> bool {
        let Some((wish, answer)) = Task::ended(&mut self.running) else { return false };
        if let Some(even) = answer {
            self.found = Some((wish, even.map(Arc::new)));
        }
        true
    }
}
