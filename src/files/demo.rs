//! The demonstration workshop that comes with the program.

use std::path::{Path, PathBuf};

use super::state::state_folder;

/// The job the window opens with.
const JOB: &str = "demo/jobs/fennel-van-radar.ron";

macro_rules! held {
    ($($name:literal),* $(,)?) => { &[$(($name, include_str!(concat!("../../", $name)))),*] };
}

/// Every file of the demonstration, held in the program.
const FILES: &[(&str, &str)] = held![
    "bays/align-5.ron",
    "bays/corner-4.ron",
    "bays/lane-1.ron",
    "bays/lane-3.ron",
    "bays/lift-2.ron",
    "demo/equipment/shop.ron",
    "demo/equipment/starter.ron",
    "demo/jobs/city-car-corner-bay.ron",
    "demo/jobs/city-car-starter-set.ron",
    "demo/jobs/crossover-alignment-lift.ron",
    "demo/jobs/crossover-rails-lamps.ron",
    "demo/jobs/crossover-thrust-line.ron",
    "demo/jobs/estate-front-corners.ron",
    "demo/jobs/estate-lift-posts.ron",
    "demo/jobs/estate-surround-rear.ron",
    "demo/jobs/fennel-van-lane-1.ron",
    "demo/jobs/fennel-van-radar.ron",
    "demo/jobs/hatchback-backed-in.ron",
    "demo/jobs/hatchback-door-open.ron",
    "demo/jobs/hatchback-short-lane.ron",
    "demo/jobs/pickup-trolley.ron",
    "demo/procedures/camera-centre-board.ron",
    "demo/procedures/camera-wheel-marks.ron",
    "demo/procedures/front-corner-radars.ron",
    "demo/procedures/headlamp-screen.ron",
    "demo/procedures/parking-aid-pipe.ron",
    "demo/procedures/radar-flat-board.ron",
    "demo/procedures/radar-thrust-unit.ron",
    "demo/procedures/rear-camera-marks.ron",
    "demo/procedures/rear-corner-radars.ron",
    "demo/procedures/surround-mats.ron",
    "demo/vehicles/bracken-estate.ron",
    "demo/vehicles/burdock-pickup.ron",
    "demo/vehicles/fennel-van-long.ron",
    "demo/vehicles/sorrel-city.ron",
    "demo/vehicles/tansy-hatchback.ron",
    "demo/vehicles/yarrow-crossover.ron",
    "demo/workshop.ron",
];

/// Every file of the demonstration by its name and what it holds.
pub(super) fn held() -> &'static [(&'static str, &'static str)] {
    FILES
}

/// Where the demonstration job is: beside the program, in a folder above it, or where the program was started. A program
/// that stands alone unpacks the one it holds into the user's own folder.
pub fn demo_job() -> Result<PathBuf, String> {
    let program = std::env::current_exe().unwrap_or_default();
    let here = std::env::current_dir().unwrap_or_default();
    let folders = program.ancestors().skip(1).take(4).chain(here.ancestors().take(1));
    if let Some(job) = folders.map(|f| f.join(JOB)).find(|job| job.is_file()) {
        return Ok(job);
    }
    let folder =
        state_folder().unwrap_or_else(|| std::env::temp_dir().join("baywright")).join("demonstration");
    unpack(&folder).map_err(|e| format!("the demonstration cannot be put into {}: {e}", folder.display()))?;
    Ok(folder.join(JOB))
}

/// Writes what is not there yet: what a person changed stays.
fn unpack(folder: &Path) -> std::io::Result<()> {
    for (name, text) in FILES {
        let path = folder.join(name);
        if let Some(parent) = path.parent() {
            std::fs::create_dir_all(parent)?;
        }
        if !path.exists() {
            std::fs::write(&path, text)?;
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    #[test]
    fn every_file_of_the_demonstration_is_held() {
        let root = Path::new(env!("CARGO_MANIFEST_DIR"));
        let mut there = BTreeSet::new();
        for folder in ["bays", "demo", "demo/equipment", "demo/jobs", "demo/procedures", "demo/vehicles"] {
            let entries = std::fs::read_dir(root.join(folder)).expect("folder").flatten();
            for entry in entries.filter(|e| e.path().is_file()) {
                there.insert(format!("{folder}/{}", entry.file_name().to_string_lossy()));
            }
        }
        assert_eq!(FILES.iter().map(|(name, _)| (*name).to_owned()).collect::<BTreeSet<_>>(), there);
    }

    #[test]
    fn unpacked_it_opens_and_a_second_time_keeps_what_was_changed() {
        let dir = tempfile::tempdir().expect("folder");
        unpack(dir.path()).expect("unpacked");
        crate::files::open_job(&dir.path().join(JOB)).expect("the job opens");
        std::fs::write(dir.path().join(JOB), "changed").expect("write");
        unpack(dir.path()).expect("unpacked");
        assert_eq!(std::fs::read_to_string(dir.path().join(JOB)).expect("read"), "changed");
    }
}
