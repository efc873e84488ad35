//! One open job: what is under change, all that is derived from it or worked out about it, and what of it is being typed.

use crate::edit::Document;
use crate::files::KeptHeights;
use crate::layout::Stance;

use super::advise::Advising;
use super::even::Ground;
use super::margins::Margins;
use super::search::Search;
use super::seen::Seen;
use super::survey::Draft;
use super::way::Way;

/// A job under change. Another one takes its place whole: nothing that was worked out about the one before is left.
pub struct OpenJob {
    pub document: Document,
    pub seen: Seen,
    pub search: Search,
    pub advising: Advising,
    pub margins: Margins,
    pub way: Way,
    pub ground: Ground,
    /// Where the vehicle is held while it is dragged.
    pub drag: Option<Stance>,
    /// A table of heights with lines that cannot be read yet.
    pub survey: Option<Draft>,
    /// What of it is kept for the case of a crash.
    pub kept_heights: Option<KeptHeights>,
}

impl OpenJob {
    pub fn new(document: Document, seen: Seen) -> OpenJob {
        OpenJob {
            document,
            seen,
            search: Search::default(),
            advising: Advising::default(),
            margins: Margins::default(),
            way: Way::default(),
            ground: Ground::default(),
            drag: None,
            survey: None,
            kept_heights: None,
        }
    }
}
