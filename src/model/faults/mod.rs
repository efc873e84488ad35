//! What a file or a whole job says that cannot be used, as far as the data alone tell it.

use std::collections::BTreeMap;

use super::spot::{Name, Spot};
use super::{Bay, Equipment, Job, Procedure, Vehicle};

/// Something a file says that cannot be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Defect {
    /// A place in the file: what the defect is about, or something in the same bracket as `field`.
    pub spot: Spot,
    /// The field it is about, when the value of that field keeps no place of its own: `z`, or `heights[3]`.
    pub field: Option<String>,
    pub text: String,
    pub hint: Option<String>,
}
pub fn bay(_: &Bay) -> Vec<Defect> {
    vec![]
}
pub fn vehicle(_: &Vehicle) -> Vec<Defect> {
    vec![]
}
pub fn equipment(_: &Equipment) -> Vec<Defect> {
    vec![]
}
pub fn procedure(_: &Procedure, _: bool) -> Vec<Defect> {
    vec![]
}
pub fn job(_: &Job, _: bool) -> Vec<Defect> {
    vec![]
}
/// A job and what it names, as far as it could be read whole.
pub struct Parts<'a> {
    pub job: &'a Job,
    pub bay: Option<&'a Bay>,
    pub equipment: Option<&'a Equipment>,
    /// In the order of the job.
    pub procedures: Vec<Option<&'a Procedure>>,
}
pub fn bundle(_: &Parts) -> Vec<(super::FileOf, Defect)> {
    vec![]
}
