//! What the window holds: what is derived from the job, what a person has chosen to see, what is being typed.

pub mod after_saving;
pub mod derived;
pub mod dialog;
pub mod finding_list;
pub mod panel_context;
pub mod sensor_view;
pub mod survey_draft;
pub mod view_state;
