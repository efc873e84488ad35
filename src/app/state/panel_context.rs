//! What a panel may read.

use crate::advice::Advice;
use crate::app::state::derived::DerivedState;
use crate::app::state::shop_view::ShopView;
use crate::app::state::survey_draft::SurveyDraft;
use crate::app::state::view_state::ViewState;
use crate::checks::Finding;
use crate::edit::Document;
use crate::files::{Listing, named_path};
use crate::layout::Layout;
use crate::paint::Theme;
use crate::report;
use crate::siting::{Curve, Even, Siting};

/// Everything a panel reads; what it wants changed it sends as commands.
#[derive(Clone, Copy)]
pub(crate) struct PanelContext<'a> {
    pub document: &'a Document,
    pub derived: &'a DerivedState,
    pub view_state: &'a ViewState,
    pub theme: &'a Theme,
    /// The files beside the job.
    pub folders: &'a Listing,
    /// Heights of the floor that are not in the bay's file yet.
    pub survey: Option<&'a SurveyDraft>,
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
    /// The workshop and what was opened lately.
    pub shop: ShopView<'a>,
}

impl<'a> PanelContext<'a> {
    pub(crate) fn layout(&self) -> &'a Layout {
        &self.derived.layout
    }

    pub(crate) fn findings(&self) -> &'a [Finding] {
        &self.derived.judgement.findings
    }

    /// How lengths are shown.
    pub(crate) fn show(&self) -> report::Say<'static> {
        report::Say::english(report::Show::of(self.view_state.feet))
    }

    /// Whether the bay's file is yet to be written.
    pub(crate) fn is_bay_unwritten(&self) -> bool {
        let bay = named_path(self.document.home(), self.document.job().bay.as_str());
        self.document.is_file_changed(&bay)
    }
}
