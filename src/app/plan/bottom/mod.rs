//! What lies under the plan: the margins, a profile of the floor, or the survey that is being entered.

pub(crate) mod floor_profile;
pub(crate) mod margin_strip;
pub(crate) mod survey_strip;
