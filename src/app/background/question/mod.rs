//! Questions answered beside the window, each by a thread of its own. One mechanism for all of them: the latest wish wins and
//! the one before is told to stop; one thread runs at most; the last answer stays with what it answers, so that a panel
//! knows whether it is stale; what broke off is told once and not asked again.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::thread::{Builder, JoinHandle};

use egui::Context;

use crate::siting::Progress;

/// A question that is put anew whenever its key changes. `K`: everything its answer hangs on. `T`: the answer.
pub(crate) struct Question<K, T> {
    /// What the work is called where it is told to have broken off; also the thread's name.
    name: &'static str,
    /// What was asked for last.
    wish: Option<K>,
    running: Option<Running<K, T>>,
    last: Option<(K, T)>,
    /// What is not asked again: its work broke off, or a person stopped it.
    given_up: Option<K>,
}

/// Work under way. It is told to stop when it is let go.
struct Running<K, T> {
    of: K,
    progress: Arc<Progress>,
    answer: Receiver<T>,
    thread: Option<JoinHandle<()>>,
}

impl<K, T> Drop for Running<K, T> {
    fn drop(&mut self) {
        self.progress.stop();
    }
}

impl<K: Clone + PartialEq, T: Send + 'static> Question<K, T> {
    pub(crate) fn new(name: &'static str) -> Question<K, T> {
        Question { name, wish: None, running: None, last: None, given_up: None }
    }

    /// Asks for the answer to `key`, which is cheap to do each frame: nothing happens while it is known, being worked out or
    /// given up. Work on another key is told to stop, and the new work begins once it has ended. `work` makes what the
    /// thread does; it is told to stop, and tells how far it has come, through the [`Progress`]. What it returns after
    /// it was told to stop is thrown away. Tells whether there is something new to show.
    pub(crate) fn ask<W>(&mut self, key: &K, ctx: &Context, work: impl FnOnce() -> W) -> bool
    where
        W: FnOnce(&Progress) -> T + Send + 'static,
    {
        let mut new = self.collect();
        if self.wish.as_ref() != Some(key) {
            self.wish = Some(key.clone());
            new = true;
        }
        if let Some(running) = self.running.as_ref().filter(|r| r.of != *key) {
            running.progress.stop();
        }
        if self.running.is_none() && self.is_open() {
            self.start(key.clone(), ctx, Builder::new(), work());
            new = true;
        }
        new
    }

    /// Takes up what is ready and asks for nothing new; tells whether there was something.
    pub(crate) fn collect(&mut self) -> bool {
        let Some(running) = &self.running else { return false };
        let answer = match running.answer.try_recv() {
            Err(TryRecvError::Empty) => return false,
            Ok(answer) => Some(answer),
            Err(TryRecvError::Disconnected) => None,
        };
        let (key, was_stopped) = (running.of.clone(), running.progress.is_stopped());
        // the thread has only to wake the window, and is not to do so later, when nothing is new any more
        if let Some(thread) = self.running.take().and_then(|mut ended| ended.thread.take()) {
            let _ = thread.join();
        }
        match answer {
            None => self.given_up = Some(key),
            Some(answer) if !was_stopped => self.last = Some((key, answer)),
            Some(_) => {}
        }
        true
    }

    /// Nothing is asked for any more: work under way is told to stop. The last answer stays, and is an earlier one. Tells
    /// whether there is something new to show.
    pub(crate) fn withdraw(&mut self) -> bool {
        let new = self.collect();
        self.tell_to_stop();
        self.wish.take().is_some() || new
    }

    /// A person gives the question up: it is not asked again before its key changes, or [`Self::again`].
    pub(crate) fn give_up(&mut self) {
        self.tell_to_stop();
        self.given_up = self.wish.clone();
    }

    /// Forgets the answer and what was given up: the question is asked anew.
    pub(crate) fn again(&mut self) {
        self.tell_to_stop();
        (self.last, self.given_up) = (None, None);
    }

    /// Lets go of what runs without waiting for its end: it may hang on a disk that never answers.
    pub(crate) fn let_go(&mut self) {
        self.running = None;
    }

    /// The answer to what is asked for now.
    pub(crate) fn current(&self) -> Option<&T> {
        self.wish.as_ref().and_then(|wish| self.answer_to(wish))
    }

    /// The answer to a key, if the last one is about it.
    pub(crate) fn answer_to(&self, key: &K) -> Option<&T> {
        self.last.as_ref().filter(|(k, _)| k == key).map(|(_, answer)| answer)
    }

    /// The last answer with what it answers, which may be an earlier wish.
    pub(crate) fn last(&self) -> Option<(&K, &T)> {
        self.last.as_ref().map(|(key, answer)| (key, answer))
    }

    /// What was asked once and has ended, with its answer; `None` in its place where the work broke off. The answer goes
    /// with it.
    pub(crate) fn taken(&mut self) -> Option<(K, Option<T>)> {
        self.collect();
        let wish = self.wish.as_ref()?;
        let broken = self.given_up.take_if(|k| k == wish).map(|key| (key, None));
        let last = self.last.take_if(|(k, _)| k == wish);
        let ended = broken.or(last.map(|(key, answer)| (key, Some(answer))))?;
        self.wish = None;
        Some(ended)
    }

    /// Whether what is asked for now has no answer: its work broke off, or a person stopped it.
    pub(crate) fn is_given_up(&self) -> bool {
        self.wish.is_some() && self.wish == self.given_up
    }

    /// How far the work has come that is waited for, from 0 to 1; `None` where nothing is.
    pub(crate) fn progress(&self) -> Option<f32> {
        let running = self.running.as_ref()?;
        match running.progress.is_stopped() {
            false => Some(running.progress.fraction()),
            true => self.is_open().then_some(0.0),
        }
    }

    /// Whether something is waited for.
    pub(crate) fn is_busy(&self) -> bool {
        self.progress().is_some()
    }

    /// What is asked for is neither known nor given up.
    fn is_open(&self) -> bool {
        self.wish.is_some() && self.current().is_none() && !self.is_given_up()
    }

    /// Whether work under way was told to stop, seen from outside.
    #[cfg(test)]
    pub(crate) fn token(&self) -> Option<Arc<Progress>> {
        self.running.as_ref().map(|r| r.progress.clone())
    }

    fn tell_to_stop(&self) {
        if let Some(running) = &self.running {
            running.progress.stop();
        }
    }

    fn start(
        &mut self,
        of: K,
        ctx: &Context,
        thread: Builder,
        work: impl FnOnce(&Progress) -> T + Send + 'static,
    ) {
        let (send, answer) = channel();
        let progress = Arc::new(Progress::new());
        let (watched, window, name) = (progress.clone(), ctx.clone(), self.name);
        let whole = move || {
            match catch_unwind(AssertUnwindSafe(|| work(&watched))) {
                // nobody may wait for it any more
                Ok(answer) => drop(send.send(answer)),
                Err(_) => {
                    let why = "A fault of the program ended this work, its answer is missing";
                    tell(&window, format!("{why}: {name}"));
                    drop(send);
                }
            }
            window.request_repaint();
        };
        match thread.name(name.into()).spawn(whole) {
            Ok(thread) => self.running = Some(Running { of, progress, answer, thread: Some(thread) }),
            Err(_) => {
                tell(ctx, format!("The system gives no thread for this work, its answer is missing: {name}"));
                self.given_up = Some(of);
            }
        }
    }
}

fn told() -> egui::Id {
    egui::Id::unique("work without an answer")
}

fn tell(ctx: &Context, words: String) {
    ctx.data_mut(|d| d.get_temp_mut_or_default::<Vec<String>>(told()).push(words));
}

/// What broke off since this was last asked, a sentence each.
pub(crate) fn take_broken(ctx: &Context) -> Vec<String> {
    ctx.data_mut(|d| d.remove_temp(told())).unwrap_or_default()
}

#[cfg(test)]
mod tests;
