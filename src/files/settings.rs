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
}

impl Default for Settings {
    fn default() -> Self {
        Settings { night: false, feet: false, zoom: 1.0 }
    }
}

impl Settings {
    /// The settings kept in a folder; those of the first time where there are none.
    pub fn read(folder: &Path) -> Settings {
        let read = read_state::<Settings>(&folder.join(FILE)).ok().flatten().unwrap_or_default();
        let zoom = if read.zoom.is_finite() { read.zoom.clamp(0.5, 3.0) } else { 1.0 };
        Settings { zoom, ..read }
    }

    /// Keeps them; a note when they cannot be kept.
    pub fn write(&self, folder: &Path) -> Option<String> {
        write_state(&folder.join(FILE), self).err()
    }
}

const FILE: &str = "window.json";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn settings_come_back_and_nonsense_is_as_at_first() {
        let dir = tempfile::tempdir().expect("folder");
        assert_eq!(Settings::read(dir.path()), Settings::default());
        let set = Settings { night: true, feet: true, zoom: 1.25 };
        assert_eq!(set.write(dir.path()), None);
        assert_eq!(Settings::read(dir.path()), set);
        for (text, zoom) in [("{", 1.0), ("{\"zoom\": 99}", 3.0), ("{\"zoom\": -1, \"later\": 3}", 0.5)] {
            std::fs::write(dir.path().join(FILE), text).expect("write");
            assert_eq!(Settings::read(dir.path()).zoom, zoom, "{text}");
        }
    }
}
