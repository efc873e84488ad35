//! Advice, tried beside the window once the vehicle is at rest: every try is a judgement of the whole job. It is stamped with
//! the judgement and the search it belongs to; what is about an earlier one is never shown.

use std::sync::Arc;

use super::background::question::Question;
use super::command::{Command, Pick};
use super::cx::Cx;
use super::seen::Seen;
use crate::advice::{Advice, Tried, advise};
use crate::edit::{Edit, Step};
use crate::files::named_path;
use crate::siting::{Progress, Siting};

/// The trying and its last answer.
pub struct Advising {
    question: Question<Stamp, Advice>,
    /// What is told where the trying broke off: nothing helps that is known.
    none: Advice,
}

impl Default for Advising {
    fn default() -> Self {
        Advising { question: Question::new("advice"), none: Advice::default() }
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

impl Advising {
    /// Starts, stops and collects; tells whether there is something new to show. `held`: the vehicle is being dragged, or it is
    /// not known yet where it stands or how it comes in.
    pub fn update(
        &mut self,
        seen: &Seen,
        siting: Option<&Arc<Siting>>,
        held: bool,
        ctx: &egui::Context,
    ) -> bool {
        if held {
            return self.question.withdraw();
        }
        let stamp = Stamp { judged: seen.checks, siting: siting.cloned() };
        self.question.ask(&stamp, ctx, || {
            let (layout, judgement, siting) = (seen.layout.clone(), seen.judgement.clone(), siting.cloned());
            move |progress: &Progress| {
                let openings = siting.map(|s| s.openings());
                let stop = || progress.is_stopped();
                advise(&layout, &judgement, openings.as_ref(), &stop).unwrap_or_default()
            }
        })
    }

    /// The advice on the job as it is shown now; none while the vehicle is held.
    pub fn current(&self) -> Option<&Advice> {
        self.question.current().or_else(|| self.question.is_given_up().then_some(&self.none))
    }

    #[cfg(test)]
    pub fn token(&self) -> Option<Arc<Progress>> {
        self.question.token()
    }

    /// Whether moves are being tried.
    pub fn is_busy(&self) -> bool {
        self.question.is_busy()
    }
}

/// What a button that does it says; `short`: beside words that tell what is moved.
pub fn button(tried: &Tried, there: &str) -> String {
    let of = |e: &Edit| match e {
        Edit::Clear { .. } => "clear it".to_owned(),
        Edit::Door { .. } => "open it".to_owned(),
        Edit::ChooseBay { .. } => "use that bay".to_owned(),
        _ if tried.turns() => format!("turn it round and {there}"),
        _ => there.to_owned(),
    };
    let mut words: Vec<String> = tried.edits.iter().map(of).collect();
    words.dedup();
    words.join(" and ")
}

/// The commands that do what was tried.
pub fn commands(cx: Cx, tried: &Tried) -> Option<Vec<Command>> {
    let command = |edit: &Edit| match edit {
        Edit::ChooseBay { file, .. } => {
            Some(Command::Pick(Pick::Bay(named_path(cx.document.path()?, file.as_str()))))
        }
        other => Some(Command::Edit(other.clone(), Step::New)),
    };
    tried.edits.iter().map(command).collect()
}
