//! How the window was left, for the next time.

use std::path::Path;

use serde::{Deserialize, Serialize};

use super::state::{read_state, write_state};

/// The window's settings. What is not in the file, or not understood, is as at first.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Settings {
    /// The colours for dark shops.
    pub night: bool,
    /// Lengths shown in feet and inches.
    pub feet: bool,
    /// Size of everything, 1 as made.
    pub zoom: f32,
    /// Targets large enough for fingers.
    pub touch: bool,
    /// The plan's legend is unfolded.
    pub legend: bool,
    pub job_panel: bool,
    pub findings_panel: bool,
    /// What lies under the plan is shown.
    pub strip: bool,
    /// Widths of the panels at the left and at the right, points; 0: as suits the window.
    pub widths: [f32; 2],
    /// The window's size, points of the screen.
    pub size: Option<[f32; 2]>,
}

impl Default for Settings {
    fn default() -> Self {
        Settings {
            night: false,
            feet: false,
            zoom: 1.0,
            touch: false,
            legend: false,
            job_panel: true,
            findings_panel: true,
            strip: true,
            widths: [0.0; 2],
            size: None,
        }
    }
}

impl Settings {
    /// The settings kept in a folder; those of the first time where there are none.
    pub fn read(folder: &Path) -> Settings {
        let read = read_state::<Settings>(&folder.join(FILE)).ok().flatten().unwrap_or_default();
        let zoom = if read.zoom.is_finite() { read.zoom.clamp(0.5, 3.0) } else { 1.0 };
        let sane = |v: f32| v.is_finite() && (0.0..=MOST).contains(&v);
        let widths = read.widths.map(|w| if sane(w) { w } else { 0.0 });
        let size = read.size.filter(|s| s.iter().all(|v| sane(*v)));
        Settings { zoom, widths, size, ..read }
    }

    /// Keeps them; a note when they cannot be kept.
    pub fn write(&self, folder: &Path) -> Option<String> {
        write_state(&folder.join(FILE), self).err()
    }
}

/// No window is larger, points.
const MOST: f32 = 20_000.0;

const FILE: &str = "window.json";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn settings_come_back_and_nonsense_is_as_at_first() {
        let dir = tempfile::tempdir().expect("folder");
        assert_eq!(Settings::read(dir.path()), Settings::default());
        let set = Settings {
            night: true,
            feet: true,
            zoom: 1.25,
            touch: true,
            legend: true,
            job_panel: false,
            findings_panel: true,
            strip: false,
            widths: [240.0, 512.5],
            size: Some([1234.0, 777.0]),
        };
        assert_eq!(set.write(dir.path()), None);
        assert_eq!(Settings::read(dir.path()), set);
        for (text, zoom) in [("{", 1.0), ("{\"zoom\": 99}", 3.0), ("{\"zoom\": -1, \"later\": 3}", 0.5)] {
            std::fs::write(dir.path().join(FILE), text).expect("write");
            assert_eq!(Settings::read(dir.path()).zoom, zoom, "{text}");
        }
        std::fs::write(dir.path().join(FILE), r#"{"widths": [-3, 1e9], "size": [100, -1]}"#).expect("write");
        let read = Settings::read(dir.path());
        assert_eq!((read.widths, read.size), ([0.0; 2], None));
    }
}
