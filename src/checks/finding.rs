//! One finding: the result of one rule about one set of items. Window, sheet, text and JSON all eat this type.

use std::sync::Arc;

use super::note::{Against, Condition, Note};
use super::{Competes, RuleId};
use crate::geometry::{NOISE_MM, P2, V2};
use crate::model::{FindingKey, Item, Lack};

/// How a finding came out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Outcome {
    Fail,
    /// Fails only because of something that can be moved.
    Movable,
    /// A figure is missing.
    Unknown,
    /// Fits with less to spare than the shop measures to.
    Tight,
    /// For a person to see to.
    Confirm,
    /// Fails, and a person took responsibility for it.
    Accepted,
    Pass,
    NotApplicable,
}

impl Outcome {
    /// The word of the JSON output.
    pub fn word(self) -> &'static str {
        match self {
            Outcome::Fail => "fail",
            Outcome::Movable => "movable",
            Outcome::Unknown => "unknown",
            Outcome::Tight => "tight",
            Outcome::Confirm => "confirm",
            Outcome::Accepted => "accepted",
            Outcome::Pass => "pass",
            Outcome::NotApplicable => "not-applicable",
        }
    }

    pub const ALL: [Outcome; 8] = [
        Outcome::Fail,
        Outcome::Movable,
        Outcome::Unknown,
        Outcome::Tight,
        Outcome::Confirm,
        Outcome::Accepted,
        Outcome::Pass,
        Outcome::NotApplicable,
    ];
}

/// What `have`, `need` and `margin` are counted in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    Mm,
    Deg,
    Count,
    /// A measured figure's own unit.
    Other(&'static str),
}

impl Unit {
    pub fn word(self) -> &'static str {
        match self {
            Unit::Mm => "mm",
            Unit::Deg => "deg",
            Unit::Count => "count",
            Unit::Other(word) => word,
        }
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    pub rule: RuleId,
    pub outcome: Outcome,
    /// Index into the job's procedures; `None`: about the vehicle or the whole job.
    pub procedure: Option<usize>,
    /// Index into the layout's setups.
    pub setup: Option<usize>,
    /// What it is about.
    pub items: Vec<Item>,
    pub have: Option<f64>,
    pub need: Option<f64>,
    /// Positive means room.
    pub margin: Option<f64>,
    pub unit: Unit,
    /// The two nearest points, first on the moving item, then on the still one; bay axes.
    pub witness: Option<(P2, P2)>,
    /// The shift of the vehicle, bay axes, that just clears it by itself, where the two points do not tell it.
    pub escape: Option<V2>,
    /// What must be moved so that it passes, where the items do not name all of it.
    pub moves: Vec<Arc<str>>,
    /// Names of the figures that are missing.
    pub missing: Vec<Lack>,
    /// Why, where figures do not say it: a reason not to apply, a thing to confirm.
    pub note: Option<Note>,
}

impl Finding {
    pub fn new(rule: RuleId, outcome: Outcome) -> Finding {
        Finding {
            rule,
            outcome,
            procedure: None,
            setup: None,
            items: Vec::new(),
            have: None,
            need: None,
            margin: None,
            unit: Unit::Mm,
            witness: None,
            escape: None,
            moves: Vec::new(),
            missing: Vec::new(),
            note: None,
        }
    }

    /// Which finding it is.
    pub fn key(&self) -> FindingKey {
        FindingKey::new(self.rule, self.setup, self.items.iter().cloned())
    }

    /// The names of what it is about.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.items.iter().map(|i| &**i.name())
    }

    /// Where to look: the middle between the two nearest points.
    pub fn at(&self) -> Option<P2> {
        self.witness.map(|(a, b)| nalgebra::center(&a, &b))
    }

    /// The shift of the vehicle, bay axes, that just clears this finding by itself, straight away from what is too near
    /// where nothing else is known.
    pub fn shift(&self) -> Option<V2> {
        if self.escape.is_some() {
            return self.escape;
        }
        let (moving, still) = self.witness?;
        let margin = self.margin.filter(|m| *m < 0.0)?;
        let away = if self.have? > NOISE_MM { moving - still } else { still - moving };
        let length = away.norm();
        (length > NOISE_MM).then(|| away * (-margin / length))
    }

    /// Whether its margin takes part in the job's least margin.
    pub fn competes(&self) -> bool {
        let bad = matches!(self.outcome, Outcome::Fail | Outcome::Movable);
        self.unit == Unit::Mm
            && match self.rule.rule().policy.competes {
                Competes::Never => false,
                Competes::WhereItFails => bad,
                Competes::Always => bad || matches!(self.outcome, Outcome::Pass | Outcome::Tight),
            }
    }
}

/// The answer to the job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    Fits,
    FitsIf,
    DoesNotFit,
    NotKnown,
}

impl Verdict {
    /// The word of the JSON output.
    pub fn word(self) -> &'static str {
        match self {
            Verdict::Fits => "fits",
            Verdict::FitsIf => "fits-if",
            Verdict::DoesNotFit => "does-not-fit",
            Verdict::NotKnown => "not-known",
        }
    }
}

/// The way of doing a procedure that was taken.
#[derive(Clone, Debug, PartialEq)]
pub struct WayTaken {
    pub procedure: usize,
    pub way: Arc<str>,
    /// The job names it; otherwise it is the first that fits, or the first if none does.
    pub named: bool,
    /// The ways tried before it and what stands against each.
    pub others: Vec<(Arc<str>, Against)>,
    /// Setups of the layout that are not done.
    pub idle: Vec<usize>,
}

/// Everything the rules found about one layout.
#[derive(Clone, Debug, PartialEq)]
pub struct Judgement {
    pub verdict: Verdict,
    /// The least margin in mm over findings that compete.
    pub margin: Option<f64>,
    /// Index of the finding that binds.
    pub binding: Option<usize>,
    /// What must be done or stay so that it fits.
    pub conditions: Vec<Condition>,
    /// Names of missing figures, sorted, each once.
    pub missing: Vec<Lack>,
    /// Which way of doing a procedure was taken, and why the others were not.
    pub ways: Vec<WayTaken>,
    pub findings: Vec<Finding>,
}
