//! What is worked out beside the window.

pub mod advice_query;
pub mod disk;
pub mod drive_in_query;
pub mod floor_query;
pub mod folder_query;
pub mod job_key;
pub mod margin_query;
pub mod question;
pub mod siting_query;
