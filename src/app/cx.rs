//! What a panel may read.

use crate::advice::Advice;
use crate::checks::Finding;
use crate::edit::Document;
use crate::files::Listing;
use crate::layout::Layout;
use crate::paint::Theme;
use crate::report;
use crate::siting::{Curve, Even, Siting};

use super::seen::Seen;
use super::session::Session;
use super::survey::Draft;

/// Everything a panel reads; what it wants changed it sends as commands.
#[derive(Clone, Copy)]
pub struct Cx<'a> {
    pub document: &'a Document,
    pub seen: &'a Seen,
    pub session: &'a Session,
    pub theme: &'a Theme,
    /// The files beside the job.
    pub beside: &'a Listing,
    /// Heights of the floor that are not in the bay's file yet.
    pub survey: Option<&'a Draft>,
    /// What was just done, or could not be.
    pub note: Option<&'a str>,
    /// Where the vehicle can stand, once it was searched for the job as it is.
    pub found: Option<&'a Siting>,
    /// What helps, once it was tried on the job as it is shown.
    pub advice: Option<&'a Advice>,
    /// How far a running search has come.
    pub searching: Option<f32>,
    /// A way in is being looked for.
    pub seeking_way: bool,
    /// Where the floor lets the vehicle stand, where a procedure asks for a level floor.
    pub even: Option<&'a Even>,
    pub curve: Option<&'a Curve>,
}

impl<'a> Cx<'a> {
    pub fn layout(&self) -> &'a Layout {
        &self.seen.layout
    }

    pub fn findings(&self) -> &'a [Finding] {
        &self.seen.judgement.findings
    }

    /// How lengths are shown.
    pub fn show(&self) -> report::Say<'static> {
        report::Say::english(report::Show::of(self.session.feet))
    }
}
