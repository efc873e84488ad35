//! What lies under the plan: the margins, a profile of the floor, or the survey that is being entered.

pub mod floor_profile;
pub mod margin_strip;
pub mod survey_strip;
