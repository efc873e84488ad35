//! The searches that run beside the window, asked and collected once a frame.

use super::Window;
use super::even::Wish;
use crate::geometry::P2;
use crate::report::words::capital;
use crate::report::{self, Say};
use crate::scene::place::Found;
use crate::siting::Siting;

impl Window {
    /// The searches that run beside the window: started, stopped, collected.
    pub(super) fn beside_the_window(&mut self, ctx: &egui::Context) {
        let mut new = self.disk_beside(ctx);
        let broken = super::background::question::take_broken(ctx);
        if !broken.is_empty() {
            self.note = Some(broken.join("; "));
            new = true;
        }
        new |= self.job.search.update(&self.job.document, ctx);
        if self.beside.update(ctx) {
            new = true;
            let unread = self.beside.listing().unread;
            let left_out = unread.map(|u| capital(&report::siting::unread(&u, Say::PLAIN)));
            self.note = self.note.take().or(left_out);
        }
        let place = self.settled().map(|(place, _)| place);
        new |= self.job.way.update(&self.job.document, place, self.job.drag.is_some(), ctx);
        let held = self.job.drag.is_some()
            || self.job.way.is_busy()
            || !self.job.seen.is_of(&self.job.document, place);
        new |= self.job.advising.update(&self.job.seen, self.job.search.found(&self.job.document), held, ctx);
        let heading = self.job.seen.layout.stance.heading;
        let siting = self.job.search.found(&self.job.document).cloned();
        let found = siting.as_deref().map(|s| place_of(s, heading)).unwrap_or_default();
        let waiting = self.job.search.progress().is_some() || self.job.drag.is_some();
        let wish = Wish { of: self.job.search.key(&self.job.document), siting, heading };
        new |= self.job.ground.update(&wish, waiting, ctx);
        new |= self.job.seen.set_found(found, self.job.ground.found());
        if new {
            ctx.request_repaint();
        }
        if self.job.search.progress().is_some() {
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

/// Where everything fits at a heading in degrees, outlines with holes clockwise; nothing where it was not looked at.
pub fn region_at(found: &Siting, heading: f64) -> Vec<Vec<P2>> {
    let is_at = |at: f64| ((at - heading + 180.0).rem_euclid(360.0) - 180.0).abs() < 1e-6;
    let of_heading = found.headings.iter().find(|h| is_at(h.heading));
    of_heading.map(|h| h.allowed.rings.clone()).unwrap_or_default()
}
