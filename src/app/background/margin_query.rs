//! The curve of the least margin if the front axle stood elsewhere on a line through it, worked out beside the window.

use std::sync::Arc;

use crate::app::background::question::Question;
use crate::app::state::derived::DerivedState;
use crate::layout::Stance;
use crate::siting::{Curve, Direction, Progress, Site, curve};

/// Works the curves out beside the window.
pub(crate) struct MarginQuery {
    /// With each curve the job made ready for searching.
    question: Question<Wish, (Arc<Site>, Curve)>,
}

impl Default for MarginQuery {
    fn default() -> Self {
        MarginQuery { question: Question::new("margins") }
    }
}

#[derive(Clone, Copy, Debug, PartialEq)]
struct Wish {
    revision: u64,
    stance: Stance,
    direction: Direction,
}

impl MarginQuery {
    /// Asks for the curve through the pose that is shown, and collects what is ready; tells whether there is something
    /// new. A curve under way is waited for: it takes milliseconds, and the strip follows a drag.
    pub(crate) fn update(
        &mut self,
        derived: &DerivedState,
        direction: Direction,
        ctx: &egui::Context,
    ) -> bool {
        let new = self.question.collect();
        if self.question.is_busy() {
            return new;
        }
        let wish = Wish { revision: derived.revision(), stance: derived.layout.stance, direction };
        let ready = self.question.last().filter(|(last, _)| last.revision == wish.revision);
        let ready = ready.map(|(_, (site, _))| site.clone());
        let asked = self.question.ask(&wish, ctx, || {
            let layout = derived.base().clone();
            move |_: &Progress| {
                let site = ready.unwrap_or_else(|| Arc::new(Site::of(layout, 0)));
                let curve = curve(&site, wish.stance, wish.direction);
                (site, curve)
            }
        });
        new || asked
    }

    /// The last curve of that direction; one of an earlier pose until the new one is ready.
    pub(crate) fn curve(&self, direction: Direction) -> Option<&Curve> {
        self.question.last().map(|(_, (_, curve))| curve).filter(|c| c.direction == direction)
    }

    #[cfg(test)]
    pub(crate) fn token(&self) -> Option<Arc<Progress>> {
        self.question.token()
    }

    /// Whether a curve is being worked out.
    pub(crate) fn is_busy(&self) -> bool {
        self.question.is_busy()
    }
}
