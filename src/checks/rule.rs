//! What a rule is: how it judges, how it takes part in the verdict, in siting and in advice, and how it is worded. All of
//! it stands in the rule's own file; whoever asks, asks the rule.

use super::figures::{Asks, Show, by_sums};
use super::finding::Finding;
use super::pairs::{Cx, Pair};
use crate::layout::Layout;
use crate::model::{ItemKind, RuleId};

pub struct Rule {
    pub id: RuleId,
    pub page: Page,
    pub policy: Policy,
    pub wording: Wording,
    /// What its findings are about, place by place; the last stands for all that follow.
    pub about: &'static [&'static [ItemKind]],
    pub run: fn(&Cx, &mut Vec<Finding>),
    /// The pairs it holds against each other in plan, where siting can turn them into places to keep off.
    pub pairs: Option<Pairs>,
}

pub type Pairs = for<'a> fn(&'a Cx<'a>, &mut dyn FnMut(Pair<'a>));

/// The parts of the vehicle.
pub const PARTS: &[ItemKind] = &[ItemKind::Vehicle, ItemKind::Mirrors, ItemKind::Tyres];
/// What stands or hangs in the bay, and the floor's edge.
pub const OBSTACLES: &[ItemKind] =
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
    pub unknown: fn(&Finding) -> Option<String>,
    /// What its figures say of each other.
    pub asks: fn(&Finding) -> Asks,
    pub decimals: Decimals,
    /// What stays within its limit, where it has one.
    pub limited: &'static str,
    /// What is asked and what is there, where "needs" and "allows" do not say it.
    pub told: Option<fn(need: &str, have: &str) -> String>,
    /// The plan's label where something is this much past what it may be.
    pub past: fn(&str) -> String,
    /// The plan's label where there are no figures.
    pub bare: fn(&Finding) -> Option<&'static str>,
    /// The title says its lengths already.
    pub title_tells: bool,
    /// The two it holds apart. `true`: a lift's post between the axles.
    pub pair: fn(&[&str], bool) -> String,
    /// What helps where no move of the job does, if not what its page says.
    pub remedy: fn(&Finding, &Layout) -> Option<String>,
    /// What helps rather than any move.
    pub instead: fn(&Finding, &Layout) -> Option<String>,
}

/// Subject, verb, object, amount.
pub enum Title {
    Says(fn(&Finding, &Layout, Show) -> String),
    /// The finding's note, or this.
    Note(&'static str),
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
        unknown: |_| None,
        asks: by_sums,
        decimals: Decimals::AsAsked,
        limited: "its place",
        told: None,
        past: |over| format!("overlaps by {over}"),
        bare: |_| None,
        title_tells: false,
        pair: |names, _| names.join(" and "),
        remedy: |_, _| None,
        instead: |_, _| None,
    };
    /// The usual words under a title of its own.
    pub const fn titled(title: fn(&Finding, &Layout, Show) -> String) -> Wording {
        Wording { title: Title::Says(title), ..Wording::USUAL }
    }
}
