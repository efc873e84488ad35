//! What the window shows and how: never part of a job file.

use std::collections::BTreeSet;
use std::path::PathBuf;

use crate::app::state::shop_place::ShopPlace;
use crate::checks::{Finding, Outcome, RuleId};
use crate::edit::bay::BayThing;
use crate::geometry::P2;
use crate::model::FindingKey;

/// How the list of findings is divided.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Grouping {
    #[default]
    Outcome,
    Setup,
    Rule,
}

impl Grouping {
    pub(crate) const ALL: [Grouping; 3] = [Grouping::Outcome, Grouping::Setup, Grouping::Rule];

    pub(crate) fn words(self) -> &'static str {
        match self {
            Grouping::Outcome => "by outcome",
            Grouping::Setup => "by setup",
            Grouping::Rule => "by rule",
        }
    }
}

/// What lies under the plan.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) enum BottomPanel {
    /// The margins along one direction.
    #[default]
    Margins,
    /// A profile of the floor; its line is to be drawn on the plan.
    Draw,
    /// A profile of the floor along a line of the bay.
    Profile(P2, P2),
    /// Heights of the floor are entered by pressing on the plan.
    Survey,
}

impl BottomPanel {
    pub(crate) fn is_profile(self) -> bool {
        matches!(self, BottomPanel::Draw | BottomPanel::Profile(..))
    }
}

/// The place of the finding that is meant among these, if it still is one.
pub(crate) fn found_again(which: &FindingKey, findings: &[Finding]) -> Option<usize> {
    let same = |f: &Finding| f.rule == which.rule && f.setup == which.setup && f.key() == *which;
    // what is nearest on the way in is told only once the way is found
    let way = |f: &Finding| f.rule == RuleId::DriveIn && which.rule == RuleId::DriveIn;
    findings.iter().position(same).or_else(|| findings.iter().rposition(way))
}

/// What a person has chosen to see.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct ViewState {
    /// Index into the layout's setups; `None`: all together.
    pub setup: Option<usize>,
    pub chosen: Option<FindingKey>,
    pub filter: String,
    /// Outcomes left out of the list.
    pub hidden: BTreeSet<Outcome>,
    pub grouping: Grouping,
    /// What passed is listed too.
    pub passed: bool,
    pub tapes: bool,
    pub names: bool,
    /// The way in is drawn.
    pub way: bool,
    /// What a sensor sees is shown in a corner of the plan.
    pub picture: bool,
    /// The floor's heights are drawn.
    pub heights: bool,
    pub bottom: BottomPanel,
    /// The bay is being changed, and which thing of it is chosen.
    pub bay: Option<Option<BayThing>>,
    /// Which place of the window is shown.
    pub place: ShopPlace,
    /// The file of a list whose figures are unfolded.
    pub shop_open: Option<PathBuf>,
    /// Lines of the readiness list that were ticked.
    pub ticked: BTreeSet<String>,
    /// Lengths are shown in feet and inches.
    pub feet: bool,
    pub night: bool,
    /// The strip under the plan shows the direction across the page.
    pub other_way: bool,
    /// The list is to bring the chosen card into sight once.
    pub reveal_card: bool,
    /// The plan is to bring the chosen finding into sight once.
    pub reveal_spot: bool,
}

impl ViewState {
    /// Another job is looked at: what was chosen, searched for and ticked in the one before is forgotten, how things are shown
    /// stays.
    pub(crate) fn forget_job(&mut self) {
        self.bottom = BottomPanel::default();
        self.bay = None;
        self.place = ShopPlace::Plan;
        self.setup = None;
        self.chosen = None;
        self.filter.clear();
        self.ticked.clear();
    }
}

impl Default for ViewState {
    fn default() -> Self {
        ViewState {
            setup: None,
            chosen: None,
            filter: String::new(),
            hidden: BTreeSet::new(),
            grouping: Grouping::default(),
            passed: false,
            tapes: true,
            names: true,
            way: true,
            picture: true,
            heights: false,
            bottom: BottomPanel::default(),
            bay: None,
            place: ShopPlace::default(),
            shop_open: None,
            ticked: BTreeSet::new(),
            feet: false,
            night: false,
            other_way: false,
            reveal_card: false,
            reveal_spot: false,
        }
    }
}
