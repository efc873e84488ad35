//! The job: a bay, a vehicle, the equipment and procedures, a pose, and what a person decided or measured.

use std::sync::Arc;

use super::bay::{Bay, Needs, ShopRules};
use super::equipment::Equipment;
use super::num;
use super::procedure::Procedure;
use super::reading::{FromFile, Reader};
use super::record::{choice, record};
use super::spot::{List, Name, Spot, Table};
use super::vehicle::Vehicle;
use super::when::When;
use super::writing::{ToFile, Writer};
use crate::syntax::Id;

record! {
    #[derive(Clone, Debug, PartialEq)]
    pub struct Job as "a job" {
        pub format: u32 [or 1],
        pub name: Name,
        pub bay: Name,
        pub vehicle: Name,
        pub equipment: Name,
        pub procedures: List<Chosen>,
        pub pose: Pose,
        pub support: Support [default],
        /// Judge the way from outside the doorway to the pose.
        pub drive_in: bool [default],
        /// The last stretch driven before the stop must be straight for so long, mm; absent: 500.
        pub straight_run: Option<f64> [opt num::length],
        pub rear_toe: Option<Toe>,
        pub front_toe: Option<Toe>,
        pub measured: Table<Reading> [default],
        pub choose: Table<Reading> [default],
        pub figures: Table<Found> [default],
        pub doors_open: List<Name> [default],
        pub cleared: List<Name> [default],
        pub rules: ShopRules [default],
        pub accepted: List<Accepted> [default],
        /// The doorway the vehicle comes in by; absent: the first listed.
        pub enter_by: Option<Name>,
        /// When the work is done, for the light: date, time and offset from UTC.
        pub when: Option<When>,
        /// The market the vehicle was made for, where a procedure's readiness list depends on it.
        pub market: Option<Name>,
    }
}

impl Job {
    /// A job without a procedure yet: the files of bay, vehicle and equipment, and where the vehicle stands.
    pub fn begun([bay, vehicle, equipment]: [Name; 3], pose: Pose) -> Job {
        Job {
            format: 1,
            name: "New job".into(),
            bay,
            vehicle,
            equipment,
            pose,
            procedures: List::default(),
            support: Support::Floor,
            drive_in: false,
            straight_run: None,
            rear_toe: None,
            front_toe: None,
            measured: Table::default(),
            choose: Table::default(),
            figures: Table::default(),
            doors_open: List::default(),
            cleared: List::default(),
            rules: ShopRules::default(),
            accepted: List::default(),
            enter_by: None,
            when: None,
            market: None,
        }
    }
}

record! {
    /// A procedure of the job, with the variants chosen.
    #[derive(Clone, Debug, PartialEq)]
    pub struct Chosen as "a procedure of the job" {
        pub file: Name,
        pub variant: Option<Name>,
        pub variants: List<Name> [default],
        /// One of the procedure's ways; absent: the first that fits.
        pub way: Option<Name>,
    }
}

impl Chosen {
    /// The variants chosen, one or many.
    pub fn all_variants(&self) -> impl Iterator<Item = &Name> {
        self.variant.iter().chain(&self.variants)
    }
}

choice! {
    /// The vehicle's position and heading in the bay: its origin in bay axes (mm), degrees anticlockwise from straight in.
    #[derive(Clone, Copy, Debug, PartialEq)]
    pub enum Pose {
        At {
            x: f64 [is num::coord],
            y: f64 [is num::coord],
            heading: f64 [is num::coord],
        },
        Anywhere,
    }
}

choice! {
    #[derive(Clone, Debug, Default, PartialEq)]
    pub enum Support {
        #[default]
        Floor,
        Lift {
            name: Name,
            height: f64 [default is num::length],
        },
    }
}

impl Support {
    /// Height of the tyre plane above the floor, mm.
    pub fn height(&self) -> f64 {
        match self {
            Support::Floor => 0.0,
            Support::Lift { height, .. } => *height,
        }
    }
}

record! {
    /// Degrees, toe-in positive for each wheel.
    #[derive(Clone, Copy, Debug, PartialEq)]
    pub struct Toe as "a toe" {
        pub left: f64 [is num::coord],
        pub right: f64 [is num::coord],
    }
}

impl Toe {
    /// (left rear toe - right rear toe) / 2, degrees; positive points RIGHT of the centreline.
    pub fn thrust_angle(&self) -> f64 {
        (self.left - self.right) / 2.0
    }
}

/// A number a person measured or chose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading(pub f64);

impl FromFile for Reading {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        num::coord(r, id).map(Reading)
    }
    fn stand_in() -> Self {
        Reading(f64::NAN)
    }
}

impl ToFile for Reading {
    fn write(&self, w: &mut Writer) {
        self.0.write(w);
    }
}

record! {
    /// A figure the procedure did not give, and who says so.
    #[derive(Clone, Debug, PartialEq)]
    pub struct Found as "a figure" {
        pub mm: f64 [is num::coord],
        pub from: String [default],
    }
}

record! {
    /// A finding a person takes responsibility for.
    #[derive(Clone, Debug, PartialEq)]
    pub struct Accepted as "an accepted finding" {
        pub rule: Name,
        pub items: Vec<Name>,
        pub reason: String [default],
        pub by: String [default],
        pub on: String [default],
    }
}

/// A job with everything it names: the one input of the layout.
#[derive(Clone, Debug, PartialEq)]
pub struct Bundle {
    pub job: Arc<Job>,
    pub bay: Arc<Bay>,
    pub vehicle: Arc<Vehicle>,
    pub equipment: Arc<Equipment>,
    /// In the order of the job.
    pub procedures: Vec<Arc<Procedure>>,
}

impl Bundle {
    /// The shop's figures in force.
    pub fn needs(&self) -> Needs {
        Needs::of(&self.bay.rules, &self.job.rules)
    }

    /// Whether both say the same. What they share is not compared.
    pub fn is_same(&self, other: &Bundle) -> bool {
        fn same<T: PartialEq>(a: &Arc<T>, b: &Arc<T>) -> bool {
            Arc::ptr_eq(a, b) || a == b
        }
        same(&self.job, &other.job)
            && same(&self.bay, &other.bay)
            && same(&self.vehicle, &other.vehicle)
            && same(&self.equipment, &other.equipment)
            && self.procedures.len() == other.procedures.len()
            && self.procedures.iter().zip(&other.procedures).all(|(a, b)| same(a, b))
    }
}

/// Which file of a bundle a fault stands in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FileOf {
    Job,
    Bay,
    Vehicle,
    Equipment,
    /// The n-th procedure of the job.
    Procedure(usize),
}

/// Something a bundle says that cannot be used.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    pub file: FileOf,
    pub spot: Spot,
    pub text: String,
    pub hint: Option<String>,
}
