//! The files on the disk, written and looked at beside the window: a slow disk never stops it, and what others have written
//! meanwhile is never written over without a question.

use std::collections::VecDeque;
use std::path::PathBuf;
use std::sync::Arc;

use egui::Context;

use crate::app::background::question::Question;
use crate::edit::Document;
use crate::files::{FileFault, Source, Texts, save};
use crate::siting::Progress;

/// A text to be written.
#[derive(Clone, Debug)]
pub(crate) struct Wanted {
    pub source: Arc<Source>,
    /// What the file is known to hold; what else it holds was written by somebody else. `None`: whatever it holds goes.
    pub known: Option<Arc<Source>>,
}

/// What has become of a text.
pub(crate) enum Saved {
    Written(Arc<Source>),
    /// The file holds something else by now, and was left alone.
    Theirs(Arc<Source>),
    Failed(FileFault),
}

/// Writing and looking.
pub(crate) struct Disk {
    pub writing: Question<Writing, Vec<Saved>>,
    /// What is written once what is being written is.
    pub next: VecDeque<(Writing, Vec<Arc<Source>>)>,
    looking: Question<Look, Vec<Arc<Source>>>,
    /// The look whose outcome was not taken up yet.
    look: Option<Look>,
    /// How many looks there were.
    looks: u64,
}

impl Default for Disk {
    fn default() -> Self {
        let (writing, looking) = (Question::new("saving"), Question::new("looking"));
        Disk { writing, next: VecDeque::new(), looking, look: None, looks: 0 }
    }
}

/// What is being written.
#[derive(Clone, PartialEq)]
pub(crate) struct Writing {
    /// The job goes into this file from then on.
    pub job: PathBuf,
    /// Whatever stands there goes.
    pub over: bool,
    /// What is said once it is done.
    pub done: String,
}

/// A look at the files.
#[derive(Clone, Copy, PartialEq)]
pub(crate) struct Look {
    nth: u64,
    /// A person wants to know the outcome.
    asked: bool,
}

impl Disk {
    pub(crate) fn is_busy(&self) -> bool {
        self.is_writing() || self.look.is_some()
    }

    pub(crate) fn is_writing(&self) -> bool {
        self.writing.is_busy()
    }

    #[cfg(test)]
    pub(crate) fn tokens(&self) -> [Option<Arc<Progress>>; 2] {
        [self.writing.token(), self.looking.token()]
    }

    /// Reads the files again, beginning with the next frame. `asked`: a person wants to know the outcome.
    pub(crate) fn look(&mut self, asked: bool) {
        let asked = asked || self.look.is_some_and(|l| l.asked);
        self.looks += 1;
        self.look = Some(Look { nth: self.looks, asked });
    }

    /// What others have written into the files, once the look has ended; and whether a person wants to know it.
    pub(crate) fn looked(&mut self, document: &Document, ctx: &Context) -> Option<(Vec<Arc<Source>>, bool)> {
        let look = self.look?;
        self.looking.ask(&look, ctx, || {
            let files: Texts = document.files().clone();
            move |progress: &Progress| {
                let load =
                    |known: &Arc<Source>| Source::load(&known.path).ok().filter(|now| now.text != known.text);
                let go_on = |_: &&Arc<Source>| !progress.is_stopped();
                files.values().take_while(go_on).filter_map(load).map(Arc::new).collect()
            }
        });
        let (_, theirs) = self.looking.taken()?;
        self.look = None;
        Some((theirs.unwrap_or_default(), look.asked))
    }

    pub(crate) fn write(&mut self, wanted: Vec<Wanted>, writing: &Writing, ctx: &Context) {
        // a file is written to its end, whoever waits for it
        self.writing.ask(writing, ctx, || move |_: &Progress| wanted.into_iter().map(write).collect());
    }
}

fn write(Wanted { source, known }: Wanted) -> Saved {
    if let Some(known) = known
        && let Ok(now) = Source::load(&source.path)
        && now.text != known.text
        && now.text != source.text
    {
        return Saved::Theirs(Arc::new(now));
    }
    match save(&source) {
        Ok(()) => Saved::Written(source),
        Err(fault) => Saved::Failed(fault),
    }
}
