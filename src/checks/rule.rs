//! What a rule is: how it judges, how it takes part in the verdict, in siting and in advice, and how it is worded. All of
//! it stands in the rule's own file; whoever asks, asks the rule.

use super::figures::{Asks, by_sums};
use super::finding::Finding;
use super::note::Remedy;
use super::pairs::{Cx, Pair};
use crate::layout::Layout;
use crate::model::{Item, ItemKind, RuleId};
use crate::phrases::{Phrase, Say, phrases};

pub struct Rule {
    pub id: RuleId,
    pub page: Page,
    pub policy: Policy,
    pub wording: Wording,
    /// Everything it says of its own, but for its page.
    pub phrases: &'static [Phrase],
    /// What its findings are about, place by place; the last stands for all that follow.
    pub about: &'static [&'static [ItemKind]],
    pub run: fn(&Cx, &mut Vec<Finding>),
    /// The pairs it holds against each other in plan, where siting can turn them into places to keep off.
    pub pairs: Option<Pairs>,
}

pub(super) type Pairs = for<'a> fn(&'a Cx<'a>, &mut dyn FnMut(Pair<'a>));

/// The parts of the vehicle.
pub(super) const PARTS: &[ItemKind] = &[ItemKind::Vehicle, ItemKind::Mirrors, ItemKind::Tyres];
/// What stands or hangs in the bay, and the floor's edge.
pub(super) const OBSTACLES: &[ItemKind] =
    &[ItemKind::Fixture, ItemKind::Post, ItemKind::Wall, ItemKind::Doorway, ItemKind::Apron];

/// The page about a rule, five questions answered.
pub struct Page {
    pub title: &'static str,
    pub checks: &'static str,
    pub matters: &'static str,
    pub measured: &'static str,
    pub remedy: &'static str,
    pub source: &'static str,
}

impl Page {
    /// Its parts as phrases of a rule: a table has them under the rule's name.
    fn phrases(&self, rule: RuleId) -> [Phrase; 6] {
        let part = |name, english| Phrase { group: rule.word(), name, english };
        [
            part("page.title", self.title),
            part("page.checks", self.checks),
            part("page.matters", self.matters),
            part("page.measured", self.measured),
            part("page.remedy", self.remedy),
            part("page.source", self.source),
        ]
    }
}

impl Rule {
    /// Everything it says: its name, its page and what it says of findings.
    pub fn says(&self) -> Vec<Phrase> {
        let own = self.phrases.iter().copied();
        std::iter::once(self.id.phrase()).chain(self.page.phrases(self.id)).chain(own).collect()
    }

    /// Its page: title, what it checks, why that matters, how it is measured, what to do, the source.
    pub fn page(&self, say: Say) -> [String; 6] {
        self.page.phrases(self.id).map(|part| say.word(part))
    }

    /// The head of its page.
    pub fn title(&self, say: Say) -> String {
        let [title, ..] = self.page.phrases(self.id);
        say.word(title)
    }

    /// What its page says to do.
    pub fn remedy(&self, say: Say) -> String {
        let [_, _, _, _, remedy, _] = self.page.phrases(self.id);
        say.word(remedy)
    }
}

impl RuleId {
    fn phrase(self) -> Phrase {
        Phrase { group: self.word(), name: "name", english: self.word() }
    }

    /// Its name on the page. Files name a rule by its word in every language.
    pub fn said(self, say: Say) -> String {
        say.word(self.phrase())
    }
}

phrases! { pub(super) in "usual";
    ITS_PLACE = "its place";
    OVERLAPS = "overlaps by {over}";
}

/// How a rule takes part beside its findings.
pub struct Policy {
    /// Shutting a door can change what it finds.
    pub walls: bool,
    /// It is about where the vehicle stands in plan, against what stays: what siting searches by.
    pub plan: bool,
    pub curve: InCurve,
    /// Its findings tell which way the vehicle would have to move.
    pub moves_help: bool,
    pub competes: Competes,
    pub judged: Judged,
    /// It holds solid things apart: they may never overlap, whoever accepts it.
    pub solid: bool,
}

/// What the curve of margins does with a rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum InCurve {
    Held,
    LeftOut,
    /// It is not about room.
    NoRoom,
}

/// Whether its margin takes part in the job's least margin. What is left of a tolerance or a size is no room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Competes {
    Always,
    WhereItFails,
    Never,
}

/// When it is judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Judged {
    /// Each setup by itself.
    BySetup,
    /// The same, and again once it is known which setups are done.
    Again,
    /// All setups together, once it is known which are done.
    Together,
}

impl Policy {
    /// Judged by setup, about room, and nothing else; a rule says where it differs.
    pub const PLAIN: Policy = Policy {
        walls: false,
        plan: false,
        curve: InCurve::LeftOut,
        moves_help: false,
        competes: Competes::Always,
        judged: Judged::BySetup,
        solid: false,
    };
    /// In plan, against walls and things: siting holds it, and moving the vehicle helps.
    pub const PLAN: Policy =
        Policy { walls: true, plan: true, curve: InCurve::Held, moves_help: true, ..Policy::PLAIN };
}

/// A rule's words: one wording for card, plan, page and JSON.
pub struct Wording {
    pub title: Title,
    /// The title where a figure is missing, if not the usual one.
    pub unknown: fn(&Finding, Say) -> Option<String>,
    /// What its figures say of each other.
    pub asks: fn(&Finding) -> Asks,
    pub decimals: Decimals,
    /// What stays within its limit, where it has one.
    pub limited: Phrase,
    /// What is asked and what is there, where "needs" and "allows" do not say it: `need`, `have`.
    pub told: Option<Phrase>,
    /// The plan's label where something is past what it may be: by `over`.
    pub past: Phrase,
    /// The plan's label where there are no figures.
    pub bare: fn(&Finding) -> Option<Phrase>,
    /// The title says its lengths already.
    pub title_tells: bool,
    /// The two it holds apart, where their names joined by "and" do not say it: `moving`, `still`.
    pub pair: fn(&[Item]) -> Option<Phrase>,
    /// What helps where no move of the job does, if not what its page says.
    pub remedy: fn(&Finding, &Layout) -> Option<Remedy>,
    /// What helps rather than any move.
    pub instead: fn(&Finding, &Layout) -> Option<Remedy>,
}

/// Subject, verb, object, amount.
pub enum Title {
    Says(fn(&Finding, &Layout, Say) -> String),
    /// The finding's note, or this.
    Note(Phrase),
}

/// How finely lengths are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Decimals {
    /// Whole millimetres, but for what is asked in fractions.
    AsAsked,
    /// What is limited or only told is read to a tenth at least.
    TenthsOfLimits,
    /// Printed lengths.
    Tenths,
}

impl Wording {
    /// Room that is needed, in the usual words; a rule says where it differs.
    pub const USUAL: Wording = Wording {
        title: Title::Says(super::wording::apart),
        unknown: |_, _| None,
        asks: by_sums,
        decimals: Decimals::AsAsked,
        limited: ITS_PLACE,
        told: None,
        past: OVERLAPS,
        bare: |_| None,
        title_tells: false,
        pair: |_| None,
        remedy: |_, _| None,
        instead: |_, _| None,
    };
    /// The usual words under a title of its own.
    pub const fn titled(title: fn(&Finding, &Layout, Say) -> String) -> Wording {
        Wording { title: Title::Says(title), ..Wording::USUAL }
    }
}
