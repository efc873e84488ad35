//! What is derived from the job: layout, judgement, drawing. Made anew when the job, the drag or what is shown changes,
//! and never else.

use crate::checks::{self, Judgement, Outcome};
use crate::edit::Document;
use crate::geometry::Bounds;
use crate::layout::{Layout, Stance};
use crate::model::Fault;
use crate::scene::place::{Found, place};
use crate::scene::{Scene, Show, plan};

use super::session::Session;

/// The job as it is shown now.
pub struct Seen {
    revision: u64,
    drag: Option<Stance>,
    show: Show,
    /// The job with the vehicle where the job says; drags start from it.
    base: Layout,
    /// The job with the vehicle where it is shown.
    pub layout: Layout,
    pub judgement: Judgement,
    pub scene: Scene,
    /// The drawing without where the vehicle may stand.
    bare: Scene,
    found: Found,
    home: Bounds,
    /// How many times the rules were run, for tests.
    pub checks: u64,
}

impl Seen {
    /// Lays a job out and judges it, or says what has no solution.
    pub fn new(document: &Document, session: &Session) -> Result<Seen, Vec<Fault>> {
        let base = Layout::new(document.bundle())?;
        let layout = base.clone();
        let judgement = checks::check(&layout);
        let show = show_of(session, &judgement, &layout);
        let scene = plan(&layout, Some(&judgement), &show);
        Ok(Seen {
            revision: document.revision(),
            drag: None,
            home: scene.bounds(),
            bare: scene.clone(),
            found: Found::default(),
            scene,
            show,
            base,
            layout,
            judgement,
            checks: 1,
        })
    }

    /// Brings everything up to date; tells whether anything changed.
    pub fn refresh(
        &mut self,
        document: &Document,
        drag: Option<Stance>,
        session: &Session,
    ) -> Result<bool, Vec<Fault>> {
        let moved = self.drag != drag;
        let changed = self.revision != document.revision();
        if changed {
            self.base = Layout::new(document.bundle())?;
            self.revision = document.revision();
        }
        if changed || moved {
            self.layout = match drag {
                Some(stance) => self.base.at(stance),
                None => self.base.clone(),
            };
            self.drag = drag;
            self.judgement = checks::check(&self.layout);
            self.checks += 1;
        }
        let show = show_of(session, &self.judgement, &self.layout);
        let restyled = show != self.show;
        if changed || moved || restyled {
            self.bare = plan(&self.layout, Some(&self.judgement), &show);
            self.show = show;
            if drag.is_none() {
                self.home = self.bare.bounds();
            }
            self.compose();
        }
        Ok(changed || moved || restyled)
    }

    /// Takes over where the vehicle may stand; tells whether that is new.
    pub fn set_found(&mut self, found: Found) -> bool {
        let new = self.found != found;
        if new {
            self.found = found;
            self.compose();
        }
        new
    }

    fn compose(&mut self) {
        self.scene = self.bare.clone();
        place(&mut self.scene, &self.layout, &self.found);
    }

    /// The chosen finding's place in the judgement.
    pub fn chosen(&self) -> Option<usize> {
        self.show.chosen
    }

    /// The setup that is shown alone.
    pub fn setup(&self) -> Option<usize> {
        self.show.setup
    }

    /// What a plan that fits shows whole: the bay and the vehicle where the job has it.
    pub fn home(&self) -> Bounds {
        self.home
    }

    /// How a setup comes out by itself; `None`: the vehicle in the bay.
    pub fn outcome_of(&self, setup: Option<usize>) -> Outcome {
        worst(self.judgement.findings.iter().filter(|f| f.setup == setup).map(|f| f.outcome))
    }
}

/// The outcome that decides, in the order of the verdict.
pub fn worst(outcomes: impl Iterator<Item = Outcome>) -> Outcome {
    let order = |o: &Outcome| match o {
        Outcome::Fail => 0,
        Outcome::Unknown => 1,
        Outcome::Movable => 2,
        Outcome::Accepted => 3,
        Outcome::Tight => 4,
        Outcome::Pass => 5,
        Outcome::Confirm | Outcome::NotApplicable => 6,
    };
    match outcomes.min_by_key(order) {
        None | Some(Outcome::Confirm | Outcome::NotApplicable) => Outcome::Pass,
        Some(outcome) => outcome,
    }
}

fn show_of(session: &Session, judgement: &Judgement, layout: &Layout) -> Show {
    Show {
        setup: session.setup.filter(|s| *s < layout.setups.len()),
        chosen: session.chosen.as_ref().and_then(|w| w.place(&judgement.findings)),
        tapes: session.tapes,
        names: session.names,
        feet: session.feet,
        ..Show::default()
    }
}
