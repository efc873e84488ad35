//! What the window shows and how: never part of a job file.

use std::collections::BTreeSet;
use std::path::PathBuf;

use crate::app::state::shop_place::ShopPlace;
use crate::checks::{Finding, Outcome, RuleId};
use crate::edit::bay::BayThing;
use crate::files::Settings;
use crate::geometry::P2;
use crate::model::{Bay, FindingKey, Item};

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

/// An end of a tape held on the plan.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct TapeEnd {
    /// Where it was pressed, bay axes.
    pub at: P2,
    pub name: String,
    /// The tape is held to the outline of this, wherever it is shortest.
    pub outline: Option<Item>,
}

/// Which panels stand beside the plan, and how wide. Kept across starts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Panels {
    /// The panel of the job, at the left, is wanted.
    pub job: bool,
    /// The panel of findings, at the right, is wanted.
    pub findings: bool,
    /// What lies under the plan is wanted.
    pub strip: bool,
    /// Their widths, points; 0: as suits the window.
    pub widths: (f32, f32),
    /// The window has no room for both beside a plan that can be read.
    pub narrow: bool,
    /// Of both only the job's is shown where there is no room for both.
    pub job_first: bool,
}

impl Panels {
    /// Whether the job's and the findings' panel are shown.
    pub(crate) fn shown(self) -> (bool, bool) {
        match (self.job && self.findings && self.narrow, self.job_first) {
            (true, first) => (first, !first),
            (false, _) => (self.job, self.findings),
        }
    }

    /// Shows the job's panel, or the other one, where it is not shown; hides it where it is.
    pub(crate) fn switch(&mut self, job: bool) {
        let (left, right) = self.shown();
        let shown = if job { left } else { right };
        *(if job { &mut self.job } else { &mut self.findings }) = !shown;
        self.job_first = job != shown;
    }
}

impl Default for Panels {
    fn default() -> Self {
        Panels { job: true, findings: true, strip: true, widths: (0.0, 0.0), narrow: false, job_first: false }
    }
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
    /// The legend of the plan is unfolded.
    pub legend: bool,
    /// The floor's heights are drawn.
    pub heights: bool,
    pub bottom: BottomPanel,
    /// The bay is being changed, and what of it is chosen, in the order it was chosen in.
    pub bay: Option<Vec<BayThing>>,
    /// A tape is held on the plan: none, one or both of its ends.
    pub tape: Option<Vec<TapeEnd>>,
    /// Names of things of the bay that hand and keys do not move.
    pub locked: BTreeSet<String>,
    /// Which place of the window is shown.
    pub place: ShopPlace,
    /// The file of a list whose figures are unfolded.
    pub shop_open: Option<PathBuf>,
    /// Lines of the readiness list that were ticked.
    pub ticked: BTreeSet<String>,
    pub panels: Panels,
    /// What is pressed is large enough for fingers.
    pub touch: bool,
    /// The field that was typed into is gone: what is still typed is meant for it, and goes nowhere.
    pub adrift: bool,
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
    /// The first of these that hand and keys do not move.
    pub(crate) fn locked(&self, bay: &Bay, things: &[BayThing]) -> Option<String> {
        things.iter().filter(|t| t.is_in(bay)).map(|t| t.name(bay)).find(|name| self.locked.contains(name))
    }

    /// Another job is looked at: what was chosen, searched for and ticked in the one before is forgotten, how things are shown
    /// stays.
    pub(crate) fn forget_job(&mut self) {
        self.bottom = BottomPanel::default();
        self.bay = None;
        self.locked.clear();
        self.tape = None;
        self.place = ShopPlace::Plan;
        self.setup = None;
        self.chosen = None;
        self.filter.clear();
        self.ticked.clear();
    }
}

/// What is seen as it was left the last time.
pub(crate) fn seen_as(settings: &Settings) -> ViewState {
    let panels = Panels {
        job: settings.job_panel,
        findings: settings.findings_panel,
        strip: settings.strip,
        widths: (settings.widths[0], settings.widths[1]),
        ..Panels::default()
    };
    ViewState {
        night: settings.night,
        feet: settings.feet,
        touch: settings.touch,
        legend: settings.legend,
        panels,
        ..ViewState::default()
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
            legend: false,
            heights: false,
            bottom: BottomPanel::default(),
            bay: None,
            locked: BTreeSet::new(),
            tape: None,
            place: ShopPlace::default(),
            shop_open: None,
            ticked: BTreeSet::new(),
            panels: Panels::default(),
            touch: false,
            adrift: false,
            feet: false,
            night: false,
            other_way: false,
            reveal_card: false,
            reveal_spot: false,
        }
    }
}
