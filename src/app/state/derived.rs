//! What is derived from the job: layout, judgement, drawing. Made anew when the job, the drag or what is shown changes,
//! and never else.

use std::sync::Arc;

use crate::app::state::sensor_view::SensorView;
use crate::app::state::view_state::{BottomPanel, ViewState, found_again};
use crate::checks::{Judgement, Outcome, Verdict, check_driven};
use crate::driving::DriveIn;
use crate::edit::Document;
use crate::geometry::{Bounds, P2};
use crate::layout::taped::{Corners, NoCorners, TapeError, corners};
use crate::layout::{FloorField, Layout, Stance};
use crate::model::{Bay, Fault, Pose};
use crate::scene::floor::{Heights, even, heights};
use crate::scene::place::{Found, place};
use crate::scene::way::way;
use crate::scene::{Scene, Show, plan};
use crate::siting::Even;

/// The job as it is shown now.
pub(crate) struct DerivedState {
    revision: u64,
    drag: Option<Stance>,
    /// Where a job without a pose is judged, and whether it fits there.
    settled: Option<(Stance, bool)>,
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
    /// Where the floor lets it stand.
    even: Option<Arc<Even>>,
    /// The way in to where the job has the vehicle.
    way: Option<Arc<DriveIn>>,
    /// The way is drawn.
    with_way: bool,
    /// What a sensor of the setups shown sees.
    picture: Option<SensorView>,
    ground: FloorLayer,
    /// The corners as the tapes have them, while the bay is changed, and the bay they are of.
    taped: Option<(Arc<Bay>, Result<Corners, NoCorners>)>,
    home: Bounds,
    /// How many times the rules were run, for tests.
    pub checks: u64,
}

impl DerivedState {
    /// Lays a job out and judges it, or says what has no solution.
    pub(crate) fn new(document: &Document, view_state: &ViewState) -> Result<DerivedState, Vec<Fault>> {
        let base = Layout::new(document.bundle())?;
        let layout = base.clone();
        let judgement = check_driven(&layout, None);
        let show = show_of(view_state, &judgement, &layout);
        let scene = plan(&layout, Some(&judgement), &show);
        Ok(DerivedState {
            revision: document.revision(),
            drag: None,
            settled: None,
            home: scene.bounds(),
            bare: scene.clone(),
            found: Found::default(),
            even: None,
            way: None,
            with_way: view_state.way,
            picture: SensorView::of(&layout, show.setup),
            ground: FloorLayer::default(),
            taped: None,
            scene,
            show,
            base,
            layout,
            judgement,
            checks: 1,
        })
    }

    /// Brings everything up to date; tells whether anything changed. `way`: the way in, of the job as it is. `settled`: where a job without a pose is judged.
    pub(crate) fn refresh(
        &mut self,
        document: &Document,
        (drag, settled): (Option<Stance>, Option<(Stance, bool)>),
        view_state: &ViewState,
        way: Option<&Arc<DriveIn>>,
    ) -> Result<bool, Vec<Fault>> {
        let moved = self.drag != drag;
        let changed = self.revision != document.revision();
        if changed {
            self.base = self.base.renewed(document.bundle())?;
            self.revision = document.revision();
        }
        // until the search knows better it is shown where it stood last, and said to be looked for
        let placed = self.settled != settled;
        self.settled = settled;
        if let Some((stance, _)) = settled
            && self.base.stance != stance
        {
            self.base = self.base.at(stance);
        }
        let driven = self.way.as_ref().map(Arc::as_ptr) != way.map(Arc::as_ptr);
        if driven {
            self.way = way.cloned();
        }
        let judged = changed || moved || driven || placed;
        if judged {
            self.layout = match drag {
                Some(stance) => self.base.at(stance),
                None => self.base.clone(),
            };
            self.drag = drag;
            // where the vehicle is held elsewhere, the way does not count: it carries the stance it leads to
            self.judgement = check_driven(&self.layout, self.way.as_deref());
            if drag.is_none() && settled.is_some_and(|(_, fits)| !fits) {
                self.judgement.verdict = Verdict::DoesNotFit;
            }
            self.checks += 1;
        }
        self.refresh_tapes(document, view_state);
        let show = show_of(view_state, &self.judgement, &self.layout);
        let restyled = show != self.show || self.with_way != view_state.way;
        if judged || restyled {
            self.bare = plan(&self.layout, Some(&self.judgement), &show);
            self.show = show;
            self.with_way = view_state.way;
            self.picture = SensorView::of(&self.layout, self.show.setup);
            if drag.is_none() {
                self.home = self.bare.bounds();
            }
        }
        let ground = self.ground.refresh(&self.layout, view_state);
        if judged || restyled || ground {
            self.compose();
        }
        Ok(judged || restyled || ground)
    }

    /// The corners of the bay that is being changed, from its tapes.
    pub(crate) fn taped(&self) -> Option<&Result<Corners, NoCorners>> {
        self.taped.as_ref().map(|t| &t.1)
    }

    fn refresh_tapes(&mut self, document: &Document, view_state: &ViewState) {
        let bay = &document.bundle().bay;
        if view_state.bay.is_none() {
            self.taped = None;
        } else if !self.taped.as_ref().is_some_and(|t| Arc::ptr_eq(&t.0, bay)) {
            self.taped = Some((bay.clone(), corners(bay, TapeError::default())));
        }
    }

    /// Takes over where the vehicle may stand, and where the floor lets it; tells whether that is new.
    pub(crate) fn set_found(&mut self, found: Found, even: Option<&Arc<Even>>) -> bool {
        let floor = self.even.as_ref().map(Arc::as_ptr) != even.map(Arc::as_ptr);
        let new = floor || self.found != found;
        if new {
            self.found = found;
            self.even = even.cloned();
            self.compose();
        }
        new
    }

    fn compose(&mut self) {
        self.scene = self.bare.clone();
        if let Some(drawn) = &self.ground.drawn {
            heights(&mut self.scene, drawn);
        }
        let driven = self.way.as_deref().filter(|d| self.with_way && d.stance == self.layout.stance);
        if let Some(path) = driven.and_then(DriveIn::path) {
            way(&mut self.scene, path, &self.judgement, &self.show);
        }
        place(&mut self.scene, &self.layout, &self.found, &self.show);
        if let Some(ground) = &self.even {
            even(&mut self.scene, ground, self.ground.drawn.is_some(), self.show.say());
        }
    }

    /// The document's revision that is shown.
    pub(crate) fn revision(&self) -> u64 {
        self.revision
    }

    /// The job with the vehicle where the job says.
    pub(crate) fn base(&self) -> &Layout {
        &self.base
    }

    /// Whether this is about a job as it is now, judged at the place it is to be judged at.
    pub(crate) fn is_of(&self, document: &Document, place: Option<Stance>) -> bool {
        self.revision == document.revision()
            && self.settled.map(|(place, _)| place) == place
            && self.is_placed()
    }

    /// Whether it is known where the vehicle is judged: a job without a pose waits for the search.
    pub(crate) fn is_placed(&self) -> bool {
        let anywhere = self.layout.bundle.job.pose == Pose::Anywhere;
        !anywhere || self.settled.is_some() || self.drag.is_some()
    }

    /// What a sensor of the setups shown sees.
    pub(crate) fn picture(&self) -> Option<&SensorView> {
        self.picture.as_ref()
    }

    /// The floor's heights, where they are drawn.
    pub(crate) fn heights(&self) -> Option<&Heights> {
        self.ground.drawn.as_ref()
    }

    /// The way to where the vehicle is shown, once it was looked for.
    pub(crate) fn driven(&self) -> Option<&DriveIn> {
        self.way.as_deref().filter(|d| d.stance == self.layout.stance)
    }

    /// The chosen finding's place in the judgement.
    pub(crate) fn chosen(&self) -> Option<usize> {
        self.show.chosen
    }

    /// The setup that is shown alone.
    pub(crate) fn setup(&self) -> Option<usize> {
        self.show.setup
    }

    /// What a plan that fits shows whole: the bay and the vehicle where the job has it.
    pub(crate) fn home(&self) -> Bounds {
        self.home
    }

    /// How a setup comes out by itself; `None`: the vehicle in the bay.
    pub(crate) fn outcome_of(&self, setup: Option<usize>) -> Outcome {
        worst(self.judgement.findings.iter().filter(|f| f.setup == setup).map(|f| f.outcome))
    }
}

/// The floor's heights as drawn, made anew only for another survey or floor.
#[derive(Default)]
struct FloorLayer {
    survey: FloorField,
    floor: Vec<P2>,
    drawn: Option<Heights>,
}

impl FloorLayer {
    /// Tells whether anything changed.
    fn refresh(&mut self, layout: &Layout, view_state: &ViewState) -> bool {
        let survey = &*layout.stage.survey;
        let wanted = view_state.heights || view_state.bottom == BottomPanel::Survey;
        if !wanted || survey.is_empty() {
            return self.drawn.take().is_some();
        }
        let floor = layout.bundle.bay.floor.outline.0.points();
        let drawn = self.drawn.as_ref().is_some_and(|d| d.feet == view_state.feet);
        let same = drawn && self.floor == floor && self.survey == *survey;
        if !same {
            self.survey = survey.clone();
            self.floor = floor.to_vec();
            self.drawn = Heights::of(survey, floor, view_state.feet);
        }
        !same
    }
}

/// The outcome that decides, in the order of the verdict.
pub(crate) fn worst(outcomes: impl Iterator<Item = Outcome>) -> Outcome {
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

fn show_of(view_state: &ViewState, judgement: &Judgement, layout: &Layout) -> Show {
    Show {
        setup: view_state.setup.filter(|s| *s < layout.setups.len()),
        chosen: view_state.chosen.as_ref().and_then(|w| found_again(w, &judgement.findings)),
        tapes: view_state.tapes,
        names: view_state.names,
        feet: view_state.feet,
        ..Show::default()
    }
}
