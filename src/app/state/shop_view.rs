//! What a panel may read of the workshop.

use std::collections::BTreeMap;
use std::path::PathBuf;

use crate::app::background::workshop_query::JobFate;
use crate::files::ShopContents;

/// The workshop as far as it was read, and what was opened lately.
#[derive(Clone, Copy)]
pub(crate) struct ShopView<'a> {
    /// The open workshop; none where there is none, or where it was not read yet.
    pub contents: Option<&'a ShopContents>,
    pub fates: Option<&'a BTreeMap<PathBuf, JobFate>>,
    /// The jobs are being judged.
    pub judging: bool,
    pub recent_shops: &'a [PathBuf],
    pub recent_jobs: &'a [PathBuf],
    /// The open job was chosen by a person: there is a plan to go back to.
    pub job_shown: bool,
}
