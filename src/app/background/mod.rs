//! What is worked out beside the window.

pub(super) mod advice_query;
pub(super) mod disk;
pub(super) mod drive_in_query;
pub(super) mod floor_query;
pub(super) mod folder_query;
pub(super) mod job_key;
pub(super) mod margin_query;
pub(super) mod question;
pub(super) mod siting_query;
pub(super) mod workshop_query;
