//! Advice, tried beside the window once the vehicle is at rest: every try is a judgement of the whole job. It is stamped with
//! the judgement and the search it belongs to; what is about an earlier one is never shown.

use std::sync::Arc;

use crate::advice::{Advice, advise};
use crate::app::background::question::Question;
use crate::app::state::derived::DerivedState;
use crate::siting::{Progress, Siting};

/// The trying and its last answer.
pub(crate) struct AdviceQuery {
    question: Question<Stamp, Advice>,
    /// What is told where the trying broke off: nothing helps that is known.
    none: Advice,
}

impl Default for AdviceQuery {
    fn default() -> Self {
        AdviceQuery { question: Question::new("advice"), none: Advice::default() }
    }
}

/// What an answer is about: which judgement, and which search was known.
#[derive(Clone)]
struct Stamp {
    judged: u64,
    siting: Option<Arc<Siting>>,
}

impl PartialEq for Stamp {
    fn eq(&self, other: &Stamp) -> bool {
        let at = |s: &Stamp| s.siting.as_ref().map(Arc::as_ptr);
        self.judged == other.judged && at(self) == at(other)
    }
}

impl AdviceQuery {
    /// Starts, stops and collects; tells whether there is something new to show. `held`: the vehicle is being dragged, or it is
    /// not known yet where it stands or how it comes in.
    pub(crate) fn update(
        &mut self,
        derived: &DerivedState,
        siting: Option<&Arc<Siting>>,
        held: bool,
        ctx: &egui::Context,
    ) -> bool {
        if held {
            return self.question.withdraw();
        }
        let stamp = Stamp { judged: derived.checks, siting: siting.cloned() };
        self.question.ask(&stamp, ctx, || {
            let (layout, judgement, siting) =
                (derived.layout.clone(), derived.judgement.clone(), siting.cloned());
            move |progress: &Progress| {
                let openings = siting.map(|s| s.openings());
                let stop = || progress.is_stopped();
                advise(&layout, &judgement, openings.as_ref(), &stop).unwrap_or_default()
            }
        })
    }

    /// The advice on the job as it is shown now; none while the vehicle is held.
    pub(crate) fn current(&self) -> Option<&Advice> {
        self.question.current().or_else(|| self.question.is_given_up().then_some(&self.none))
    }

    #[cfg(test)]
    pub(crate) fn token(&self) -> Option<Arc<Progress>> {
        self.question.token()
    }

    /// Whether moves are being tried.
    pub(crate) fn is_busy(&self) -> bool {
        self.question.is_busy()
    }
}
