//! The files beside the job, read beside the window: whatever lies there, the window opens and answers at once.

use std::path::{Path, PathBuf};

use egui::Context;

use super::worker::Task;
use crate::files::{Listing, folder};

/// The files to pick from, as they were last read.
#[derive(Default)]
pub struct Beside {
    listing: Listing,
    /// The job whose folders are to be read.
    wanted: Option<PathBuf>,
    running: Option<Task<(), Listing>>,
}

impl Beside {
    /// What there is to pick from; nothing until it was read for the first time.
    pub fn listing(&self) -> &Listing {
        &self.listing
    }

    /// Reads the folders round the job at `home` again, beginning with the next frame.
    pub fn look(&mut self, home: &Path) {
        self.wanted = Some(home.to_owned());
    }

    pub fn is_busy(&self) -> bool {
        self.wanted.is_some() || self.running.is_some()
    }

    /// Starts and collects; tells whether there is something new to show.
    pub fn update(&mut self, ctx: &Context) -> bool {
        if let Some(home) = self.wanted.take() {
            // one that reads for an earlier wish is told to stop
            self.running = Task::start("folders", ctx, (), move |stop| folder(&home, stop));
            return false;
        }
        match Task::ended(&mut self.running) {
            Some(((), Some(listing))) => {
                self.listing = listing;
                true
            }
            _ => false,
        }
    }
}
