//! The demonstration workshop that comes with the program.

use std::path::PathBuf;

/// The job the window opens with.
const JOB: &str = "demo/jobs/fennel-van-radar.ron";

/// Where the demonstration job is: beside the program, in a folder above it, or where the program was started.
pub fn demo_job() -> Result<PathBuf, String> {
    let program = std::env::current_exe().unwrap_or_default();
    let here = std::env::current_dir().unwrap_or_default();
    let folders = program.ancestors().skip(1).take(4).chain(here.ancestors().take(1));
    let found = folders.map(|f| f.join(JOB)).find(|job| job.is_file());
    found.ok_or_else(|| "the demonstration is not here: name a job file".into())
}
