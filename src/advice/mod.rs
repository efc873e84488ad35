//! Advice that was tried before it is given. Every move is made on the job, the whole job is judged there by every rule
//! (with the way in, where the job asks for it), and only what comes out better is offered, with what it gives.
//!
//! What counts as better is said once, in `standing.rs`. Window and command line both ask [`advise`].

mod cards;
mod round;
mod standing;
mod trial;
mod whole;

pub use standing::Standing;
pub use trial::Tried;

use crate::checks::{Finding, Judgement};
use crate::layout::Layout;
use crate::siting::Openings;

/// What could be done about a judged job.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Advice {
    /// The one step that helps the job most; none where nothing that was tried is better.
    pub whole: Option<Tried>,
    /// By the place of a finding in the judgement: its own move, where it cures that finding.
    pub own: Vec<Option<Own>>,
}

/// A move that cures one finding.
#[derive(Clone, Debug, PartialEq)]
pub struct Own {
    pub tried: Tried,
    /// The whole job is better for it; else it is told, not offered.
    pub offered: bool,
    /// The worst of what it spoils.
    pub spoils: Option<Finding>,
}

impl Advice {
    /// The move of one finding.
    pub fn of(&self, finding: usize) -> Option<&Own> {
        self.own.get(finding).and_then(Option::as_ref)
    }
}

/// Tries what could help a job as it is judged. `openings`: places worth trying, where they were looked for. `stop` is
/// asked now and then; once it says true the answer is `None`.
pub fn advise(
    layout: &Layout,
    judgement: &Judgement,
    openings: Option<&Openings>,
    stop: &dyn Fn() -> bool,
) -> Option<Advice> {
    let mut bench = trial::Bench::new(layout, judgement, stop);
    let whole = whole::best(&mut bench, openings)?;
    let own = cards::each(&mut bench)?;
    Some(Advice { whole, own })
}
