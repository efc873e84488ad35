//! The files beside the job, read beside the window: whatever lies there, the window opens and answers at once.

use std::path::{Path, PathBuf};

use egui::Context;

use crate::app::background::question::Question;
use crate::files::{Listing, folder};
use crate::siting::Progress;

/// The files to pick from, as they were last read.
pub(crate) struct FolderQuery {
    /// By the job whose folders are read, and how many times they were to be read.
    folders: Question<(PathBuf, u64), Listing>,
    wanted: Option<(PathBuf, u64)>,
    /// Not begun with yet.
    is_new: bool,
    none: Listing,
}

impl Default for FolderQuery {
    fn default() -> Self {
        let folders = Question::new("folders");
        FolderQuery { folders, wanted: None, is_new: false, none: Listing::default() }
    }
}

impl FolderQuery {
    /// What there is to pick from; nothing until it was read for the first time.
    pub(crate) fn listing(&self) -> &Listing {
        self.folders.last().map_or(&self.none, |(_, listing)| listing)
    }

    /// Reads the folders round the job at `home` again, beginning with the next frame.
    pub(crate) fn look(&mut self, home: &Path) {
        let before = self.wanted.take();
        if before.as_ref().is_some_and(|(of, _)| of != home) {
            // the folders of another job are not waited for: their disk may never answer
            self.folders.let_go();
        }
        self.wanted = Some((home.to_owned(), before.map_or(0, |(_, times)| times + 1)));
        self.is_new = true;
    }

    pub(crate) fn is_busy(&self) -> bool {
        self.is_new || self.folders.is_busy()
    }

    /// Starts and collects; tells whether the files were read.
    pub(crate) fn update(&mut self, ctx: &Context) -> bool {
        let Some(wanted) = &self.wanted else { return false };
        self.is_new = false;
        let had = self.folders.answer_to(wanted).is_some();
        self.folders.ask(wanted, ctx, || {
            let home = wanted.0.clone();
            move |progress: &Progress| folder(&home, &|| progress.is_stopped())
        });
        !had && self.folders.answer_to(wanted).is_some()
    }
}
