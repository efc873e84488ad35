//! The layout: a job turned into one immutable picture of where everything is. Checks, siting, drawing and printing
//! only read it.
//!
//! What stays put while the vehicle is driven ([`Stage`]) and what moves with it ([`Rig`]) are built once for a job;
//! [`Layout::at`] sets the rig down at a pose.

mod applies;
mod apron;
pub mod body;
pub mod drawn;
pub mod earlier;
pub mod face;
pub mod fixed;
pub mod floor;
pub mod fresnel;
pub mod lengths;
pub mod lift;
pub mod light;
pub mod marks;
pub mod mirror;
pub mod pieces;
pub mod plane;
pub mod rig;
pub mod said_side;
pub mod setup;
pub mod sheets;
mod sides;
pub mod sights;
pub mod solid;
pub mod stage;
pub mod stations;
pub mod strings;
pub mod sun;
pub mod taped;
pub mod trial;
pub mod values;
pub mod view;

use std::sync::Arc;

pub use body::Body;
pub use floor::{FloorField, Profile, Scale, slice};
pub use plane::{Plane, WheelPlane};
pub use rig::Rig;
pub use rig::{LeftOut, Way, WhyLeftOut};
pub use setup::{Area, Halo, Mark, Moved, Setup, Setups, Stand, Station, Zone};
pub use solid::{Band, Known, Missing, Solid, both, gap_of};
pub use stage::{Bound, BoundKind, Kept, Origin, Stage, Thing};

use crate::geometry::{Frame, P2};
use crate::model::{Bundle, Fault, Name, Needs, Pose};

/// Where the vehicle stands: its origin in bay axes (mm) and its heading in degrees anticlockwise from straight in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stance {
    pub x: f64,
    pub y: f64,
    pub heading: f64,
}

impl Stance {
    pub fn frame(&self) -> Frame {
        Frame::heading(P2::new(self.x, self.y), self.heading.to_radians())
    }
}

/// Everything placed, in bay axes.
#[derive(Clone, Debug)]
pub struct Layout {
    pub bundle: Bundle,
    pub needs: Needs,
    pub stage: Arc<Stage>,
    pub rig: Arc<Rig>,
    pub stance: Stance,
    /// Height of the tyre plane above the floor, mm.
    pub raise: f64,
    pub body: Body,
    pub setups: Setups,
}

impl Layout {
    /// The job as it stands; where its pose is `Anywhere`, at the middle of the floor until a pose is chosen.
    pub fn new(bundle: &Bundle) -> Result<Layout, Vec<Fault>> {
        let stage = Stage::new(bundle);
        let rig = Rig::new(bundle)?;
        Ok(Layout::placed(bundle.clone(), Arc::new(stage), Arc::new(rig), first_stance(bundle)))
    }

    /// The job after a change, laid out anew. What stays put is shared where its bay, its open doors and its cleared things
    /// are the same as here; of the same bay at least the floor as surveyed.
    pub fn renewed(&self, bundle: &Bundle) -> Result<Layout, Vec<Fault>> {
        let rig = Rig::new(bundle)?;
        let same_bay = Arc::ptr_eq(&self.bundle.bay, &bundle.bay);
        let (was, is) = (&self.bundle.job, &bundle.job);
        let stage = if same_bay && was.doors_open == is.doors_open && was.cleared == is.cleared {
            self.stage.clone()
        } else {
            Arc::new(Stage::on_survey(bundle, same_bay.then(|| self.stage.survey.clone())))
        };
        Ok(Layout::placed(bundle.clone(), stage, Arc::new(rig), first_stance(bundle)))
    }

    /// The same job with the vehicle somewhere else.
    pub fn at(&self, stance: Stance) -> Layout {
        Layout::placed(self.bundle.clone(), self.stage.clone(), self.rig.clone(), stance)
    }

    /// The same job and pose in a bay with other doors or things.
    pub fn on(&self, bundle: Bundle) -> Layout {
        let survey = Arc::ptr_eq(&bundle.bay, &self.bundle.bay).then(|| self.stage.survey.clone());
        let stage = Arc::new(Stage::on_survey(&bundle, survey));
        Layout::placed(bundle, stage, self.rig.clone(), self.stance)
    }

    /// The same job and pose with each open door shut in its turn, and nothing standing in the bay: what its walls alone
    /// do then.
    pub fn with_doors_shut(&self) -> impl Iterator<Item = (&Name, Layout)> {
        let doors = self.bundle.job.doors_open.iter();
        doors.zip(self.stage.with_doors_shut(&self.bundle)).map(|(door, stage)| {
            let mut bundle = self.bundle.clone();
            bundle.job = Arc::new(stage::shutting(&bundle.job, door));
            (door, Layout { bundle, stage: stage.clone(), ..self.clone() })
        })
    }

    fn placed(bundle: Bundle, stage: Arc<Stage>, rig: Arc<Rig>, stance: Stance) -> Layout {
        let frame = stance.frame();
        let raise = bundle.job.support.height();
        Layout {
            needs: bundle.needs(),
            body: rig.body.place(&frame, raise),
            setups: rig.setups.iter().map(|s| s.place(&frame, raise)).collect(),
            bundle,
            stage,
            rig,
            stance,
            raise,
        }
    }

    pub fn frame(&self) -> Frame {
        self.stance.frame()
    }

    /// The vehicle at every place it stands in: first where the job puts it, then where a setup has it driven on to.
    /// With the procedure and the layout's setup it is about, if any.
    pub fn bodies(&self) -> impl Iterator<Item = (Option<usize>, Option<usize>, &Body)> {
        let moved = self.setups.iter().enumerate();
        let moved = moved
            .filter_map(|(s, setup)| Some((Some(setup.procedure), Some(s), &setup.moved.as_ref()?.body)));
        std::iter::once((None, None, &self.body)).chain(moved)
    }

    /// The vehicle's axes while a setup is worked on.
    pub fn frame_of(&self, setup: &Setup) -> Frame {
        setup.moved.as_ref().map_or(self.frame(), |m| m.frame)
    }

    /// The plane the four tyres stand on while a setup is worked on (`None`: before any). Missing "floor survey" where
    /// a tyre is off the survey; raised on a lift it is the lift's plane and the floor says nothing of it.
    pub fn wheels(&self, setup: Option<&Setup>) -> Known<WheelPlane> {
        if self.raise != 0.0 {
            return Err(plane::no_survey());
        }
        let frame = setup.map_or(self.frame(), |s| self.frame_of(s));
        WheelPlane::under(&self.stage.survey, &self.bundle.vehicle, &frame)
    }

    /// The figures of one procedure of the job.
    pub fn values(&self, procedure: usize) -> values::Values<'_> {
        let job = &self.bundle.job;
        values::Values::new(&self.bundle.procedures[procedure], &job.procedures[procedure], job)
    }

    /// Thrust angle in degrees, positive to the RIGHT of the centreline; `None` when the rear toe is not given.
    pub fn thrust_angle(&self) -> Option<f64> {
        self.bundle.job.rear_toe.map(|t| t.thrust_angle())
    }
}

/// Where the job has the vehicle, or the middle of the floor where it leaves that open.
fn first_stance(bundle: &Bundle) -> Stance {
    match bundle.job.pose {
        Pose::At { x, y, heading } => Stance { x, y, heading },
        Pose::Anywhere => {
            let middle = bundle.bay.floor.outline.0.bounds().centre();
            Stance { x: middle.x, y: middle.y, heading: 0.0 }
        }
    }
}
