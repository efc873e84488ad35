//! Opening the window, and saying in one line why none can be opened.

use std::path::{Path, PathBuf};

use egui::Ui;

use crate::app::state::dialog::Dialog;
use crate::app::window::Window;
use crate::files::{FileFault, Kind, Recent, Source, demo_job, kind_of, state_folder};

impl eframe::App for Window {
    fn ui(&mut self, ui: &mut Ui, _: &mut eframe::Frame) {
        self.show(ui);
    }
}

impl Window {
    /// The window as it starts on a job that is asked for. Where that cannot be shown, it starts on the demonstration and says
    /// what is wrong, with a way to another job.
    /// The faults where there is no demonstration either.
    pub fn at_start(job: &Path, state: Option<PathBuf>) -> Result<Window, Vec<FileFault>> {
        Window::new(job, state.clone()).or_else(|faults| {
            let demo = demo_job().ok().filter(|demo| demo != job);
            let window = demo.and_then(|demo| Window::new(&demo, state).ok());
            let Some(mut window) = window else { return Err(faults) };
            let kind = Source::load(job).ok().and_then(|s| kind_of(&s.text));
            let name = job.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
            let tried = match kind {
                Some(kind) if kind != Kind::Job => {
                    format!("{name} is {}, not a job: open a job that names it", kind.article())
                }
                _ => format!("{name} cannot be opened; this is the demonstration"),
            };
            let faults = faults.iter().map(ToString::to_string).collect();
            window.dialog = Some(Dialog::Faults { tried, faults });
            Ok(window)
        })
    }

    /// How large it was left the last time, points of the screen.
    fn size(&self) -> [f32; 2] {
        self.size.unwrap_or([1400.0, 880.0])
    }
}

/// Opens the window and stays until it is closed: on a job, on the workshop in a folder, or without either on the workshop
/// of the last time; the first time where a workshop is made or chosen. What stands in the way, a line each.
pub fn open(path: Option<&Path>) -> Result<(), Vec<String>> {
    let state = state_folder();
    let last = || state.as_ref().and_then(|f| Recent::workshops(f).list().0.into_iter().next());
    let window = match path {
        Some(job) if !job.is_dir() => Window::at_start(job, state),
        folder => {
            let folder = folder.map(Path::to_owned).or_else(last);
            let under = demo_job().map_err(|why| vec![why])?;
            Window::without_job(folder.as_deref(), &under, state.clone())
        }
    };
    let window = window.map_err(|faults| faults.iter().map(ToString::to_string).collect::<Vec<_>>())?;
    run(window).map_err(|why| vec![format!("no window can be opened here: {}", short(&why))])
}

/// The picture of the window for task bars; an empty one where it cannot be read.
fn picture() -> egui::IconData {
    let png = include_bytes!("../../../assets/icon.png");
    let read = image::load_from_memory_with_format(png, image::ImageFormat::Png).map(|i| i.into_rgba8());
    read.map_or_else(
        |_| egui::IconData::default(),
        |rgba| egui::IconData { width: rgba.width(), height: rgba.height(), rgba: rgba.into_raw() },
    )
}

/// What a person can use of a library's message: its last part, without places in source files.
fn short(why: &str) -> &str {
    why.rsplit(": ").next().unwrap_or(why).trim_end_matches('.')
}

fn run(window: Window) -> Result<(), String> {
    let options = eframe::NativeOptions {
        viewport: egui::ViewportBuilder::default()
            .with_title("Baywright")
            .with_app_id("baywright")
            .with_inner_size(window.size())
            .with_min_inner_size([900.0, 560.0])
            .with_drag_and_drop(true)
            .with_icon(picture()),
        renderer: eframe::Renderer::Glow,
        persist_window: false,
        ..Default::default()
    };
    eframe::run_native("baywright", options, Box::new(|_| Ok(Box::new(window)))).map_err(|e| e.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_picture_can_be_read() {
        assert_eq!((picture().width, picture().height), (128, 128));
    }
}
