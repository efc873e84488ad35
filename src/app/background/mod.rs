//! What is worked out beside the window.

pub mod job_key;
pub mod question;
