//! Undo and redo: what was, and what it was called.

/// How many changes can be undone.
const MOST_STEPS: usize = 500;

/// The states before and after the one at hand.
#[derive(Clone, Debug)]
pub(super) struct History<S> {
    past: Vec<(S, String)>,
    future: Vec<(S, String)>,
}

impl<S> Default for History<S> {
    fn default() -> Self {
        History { past: Vec::new(), future: Vec::new() }
    }
}

impl<S> History<S> {
    /// A change called `title` was made of the state `before`. `joins`: it is one step with the last one, where that has the
    /// same title.
    pub(super) fn push(&mut self, before: S, title: String, joins: bool) {
        let same = self.past.last().is_some_and(|(_, last)| *last == title);
        let joins = joins && same && self.future.is_empty();
        self.future.clear();
        if !joins {
            self.past.push((before, title));
            if self.past.len() > MOST_STEPS {
                self.past.remove(0);
            }
        }
    }

    pub(super) fn undo_title(&self) -> Option<&str> {
        self.past.last().map(|(_, title)| title.as_str())
    }

    pub(super) fn redo_title(&self) -> Option<&str> {
        self.future.last().map(|(_, title)| title.as_str())
    }

    /// Goes back a step; its title.
    pub(super) fn back(&mut self, now: &mut S) -> Option<String> {
        step(&mut self.past, &mut self.future, now)
    }

    /// Goes on a step; its title.
    pub(super) fn forward(&mut self, now: &mut S) -> Option<String> {
        step(&mut self.future, &mut self.past, now)
    }

    /// Every state but the one at hand.
    pub(super) fn states(&mut self) -> impl Iterator<Item = &mut S> {
        self.past.iter_mut().chain(&mut self.future).map(|(state, _)| state)
    }
}

fn step<S>(from: &mut Vec<(S, String)>, to: &mut Vec<(S, String)>, now: &mut S) -> Option<String> {
    let (next, title) = from.pop()?;
    to.push((std::mem::replace(now, next), title.clone()));
    Some(title)
}
