//! The searches that run beside the window, asked and collected once a frame.

use crate::app::background::floor_query::FloorWish;
use crate::app::background::siting_query::region_at;
use crate::app::window::Window;
use crate::report::words::capital;
use crate::report::{self, Say};
use crate::scene::place::Found;
use crate::siting::Siting;

impl Window {
    /// The searches that run beside the window: started, stopped, collected.
    pub(in crate::app) fn beside_the_window(&mut self, ctx: &egui::Context) {
        let mut new = self.disk_beside(ctx) | self.shop_beside(ctx);
        let broken = crate::app::background::question::take_broken(ctx);
        if !broken.is_empty() {
            self.note = Some(broken.join("; "));
            new = true;
        }
        new |= self.job.siting.update(&self.job.document, ctx);
        if self.folders.update(ctx) {
            new = true;
            let unread = self.folders.listing().unread;
            let left_out = unread.map(|u| capital(&report::siting::unread(&u, Say::PLAIN)));
            self.note = self.note.take().or(left_out);
        }
        let place = self.settled().map(|(place, _)| place);
        new |= self.job.drive_in.update(&self.job.document, place, self.job.drag.is_some(), ctx);
        let held = self.job.drag.is_some()
            || self.job.drive_in.is_busy()
            || !self.job.derived.is_of(&self.job.document, place);
        new |=
            self.job.advice.update(&self.job.derived, self.job.siting.found(&self.job.document), held, ctx);
        let heading = self.job.derived.layout.stance.heading;
        let siting = self.job.siting.found(&self.job.document).cloned();
        let found = siting.as_deref().map(|s| place_of(s, heading)).unwrap_or_default();
        let waiting = self.job.siting.progress().is_some() || self.job.drag.is_some();
        let wish = FloorWish { of: self.job.siting.key(&self.job.document), siting, heading };
        new |= self.job.floor.update(&wish, waiting, ctx);
        new |= self.job.derived.set_found(found, self.job.floor.found());
        if new {
            ctx.request_repaint();
        }
        if self.job.siting.progress().is_some() {
            ctx.request_repaint_after(std::time::Duration::from_millis(200));
        }
    }
}

/// What the plan shows of an answer: the region at the heading the vehicle has, and the best place of all.
fn place_of(found: &Siting, heading: f64) -> Found {
    Found {
        rings: region_at(found, heading),
        best: found.best.as_ref().map(|b| (b.place.stance, b.place.slack)),
    }
}
