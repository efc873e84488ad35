//! What the window holds: what is derived from the job, what a person has chosen to see, what is being typed.

pub(super) mod after_saving;
pub(super) mod derived;
pub(super) mod dialog;
pub(super) mod finding_list;
pub(super) mod panel_context;
pub(super) mod sensor_view;
pub(super) mod shop_place;
pub(super) mod shop_view;
pub(super) mod survey_draft;
pub(super) mod view_state;
