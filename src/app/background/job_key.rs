//! What an answer about a job hangs on: the job and its files, without what does not change the answer.

use std::sync::Arc;

use crate::model::Bundle;

/// A job an answer is about. Clones are compared at a glance.
#[derive(Clone, Debug)]
pub(crate) struct JobKey(Arc<Bundle>);

impl JobKey {
    /// `bundle`: already without what does not matter.
    pub(crate) fn new(bundle: Bundle) -> JobKey {
        JobKey(Arc::new(bundle))
    }

    pub(crate) fn bundle(&self) -> &Arc<Bundle> {
        &self.0
    }
}

impl PartialEq for JobKey {
    fn eq(&self, other: &JobKey) -> bool {
        let (a, b) = (&*self.0, &*other.0);
        Arc::ptr_eq(&self.0, &other.0)
            || a.job == b.job
                && Arc::ptr_eq(&a.bay, &b.bay)
                && Arc::ptr_eq(&a.vehicle, &b.vehicle)
                && Arc::ptr_eq(&a.equipment, &b.equipment)
                && a.procedures.len() == b.procedures.len()
                && a.procedures.iter().zip(&b.procedures).all(|(p, q)| Arc::ptr_eq(p, q))
    }
}

/// The key of what was looked at last, so that an idle window makes none.
#[derive(Debug)]
pub(crate) struct LastKey<S> {
    last: Option<(S, JobKey)>,
}

impl<S> Default for LastKey<S> {
    fn default() -> Self {
        LastKey { last: None }
    }
}

impl<S: Copy + PartialEq> LastKey<S> {
    /// The key of `state`, made by `make` where it is not the last one.
    pub(crate) fn get(&self, state: S, make: impl FnOnce() -> JobKey) -> JobKey {
        match &self.last {
            Some((last, key)) if *last == state => key.clone(),
            _ => make(),
        }
    }

    /// The same, and it is the last one from then on.
    pub(crate) fn keep(&mut self, state: S, make: impl FnOnce() -> JobKey) -> JobKey {
        let key = self.get(state, make);
        self.last = Some((state, key.clone()));
        key
    }

    /// The state that was looked at last.
    pub(crate) fn state(&self) -> Option<S> {
        self.last.as_ref().map(|(state, _)| *state)
    }
}
