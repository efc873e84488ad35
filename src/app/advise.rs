//! Advice, tried beside the window once the vehicle is at rest: every try is a judgement of the whole job. It is stamped with
//! the judgement and the search it belongs to; what is about an earlier one is never shown.

use std::sync::Arc;

use super::command::{Command, Pick};
use super::cx::Cx;
use super::seen::Seen;
use super::worker::Task;
use crate::advice::{Advice, Tried, advise};
use crate::edit::{Edit, Step};
use crate::files::named_path;
use crate::siting::Siting;

/// The trying and its last answer.
#[derive(Default)]
pub struct Advising {
    running: Option<Task<Stamp, Option<Advice>>>,
    found: Option<(Stamp, Arc<Advice>)>,
    /// What the window shows now; none while the vehicle is held.
    now: Option<Stamp>,
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
        let collected = self.collect();
        let stamp = Stamp { judged: seen.checks, siting: siting.cloned() };
        let wanted = (!held).then(|| stamp.clone());
        let changed = self.now != wanted;
        self.now = wanted;
        if self.running.as_ref().is_some_and(|r| Some(&r.about) != self.now.as_ref()) {
            self.running = None;
        }
        if self.now.is_some() && self.running.is_none() && self.current().is_none() {
            self.start(stamp, seen, ctx);
        }
        collected || changed
    }

    /// The advice on the job as it is shown now.
    pub fn current(&self) -> Option<&Advice> {
        self.found.as_ref().filter(|(stamp, _)| Some(stamp) == self.now.as_ref()).map(|(_, advice)| &**advice)
    }

    /// Whether moves are being tried.
    pub fn is_busy(&self) -> bool {
        self.running.is_some()
    }

    fn start(&mut self, stamp: Stamp, seen: &Seen, ctx: &egui::Context) {
        let (layout, judgement) = (seen.layout.clone(), seen.judgement.clone());
        let siting = stamp.siting.clone();
        let work = move |stop: &dyn Fn() -> bool| {
            let openings = siting.map(|s| s.openings());
            advise(&layout, &judgement, openings.as_ref(), stop)
        };
        self.running = Task::start("advice", ctx, stamp, work);
    }

    fn collect(&mut self) -> bool {
        let Some((stamp, answer)) = Task::ended(&mut self.running) else { return false };
        // one that broke off has no advice to give, and is not started again for the same job
        self.found = Some((stamp, Arc::new(answer.flatten().unwrap_or_default())));
        true
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
