//! File dialogs of the desktop, which never stop the window: they are polled, and where none can be shown a box to
//! type the path into takes their place.

use std::future::Future;
use std::path::{Path, PathBuf};
use std::pin::Pin;
use std::sync::Arc;
use std::task::{Context, Poll, Wake, Waker};
use std::time::{Duration, Instant};

/// A dialog that ends sooner than a person can act was never shown.
const NEVER_SHOWN: Duration = Duration::from_millis(200);

/// What a file is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Purpose {
    Open,
    SaveAs,
    /// The folder of a workshop.
    Folder,
}

/// What came of a dialog.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum FileAnswer {
    Path(PathBuf),
    /// A person closed it.
    Cancelled,
    /// The desktop has none to show.
    NoDialog,
}

/// The one dialog that may be open.
#[derive(Default)]
pub(crate) struct FileDialogs {
    open: Option<Open>,
}

struct Open {
    purpose: Purpose,
    since: Instant,
    future: Pin<Box<dyn Future<Output = Option<PathBuf>>>>,
}

impl FileDialogs {
    /// Shows a dialog, if none is open yet.
    pub(crate) fn ask(&mut self, purpose: Purpose, folder: &Path, name: &str) {
        if self.open.is_some() {
            return;
        }
        let dialog = rfd::AsyncFileDialog::new().add_filter("job", &["ron"]).set_directory(folder);
        let future: Pin<Box<dyn Future<Output = Option<PathBuf>>>> = match purpose {
            Purpose::Open => {
                let picked = dialog.set_title("Open a job").pick_file();
                Box::pin(async move { picked.await.map(|f| f.path().to_owned()) })
            }
            Purpose::Folder => {
                let picked = dialog.set_title("Open the folder of a workshop").pick_folder();
                Box::pin(async move { picked.await.map(|f| f.path().to_owned()) })
            }
            Purpose::SaveAs => {
                let picked = dialog.set_title("Save the job as").set_file_name(name).save_file();
                Box::pin(async move { picked.await.map(|f| f.path().to_owned()) })
            }
        };
        self.wait_for(purpose, future);
    }

    /// Waits for an answer from elsewhere.
    pub(in crate::app) fn wait_for(
        &mut self,
        purpose: Purpose,
        future: Pin<Box<dyn Future<Output = Option<PathBuf>>>>,
    ) {
        self.open = Some(Open { purpose, since: Instant::now(), future });
    }

    /// What the open dialog is for.
    pub(crate) fn waiting(&self) -> Option<Purpose> {
        self.open.as_ref().map(|o| o.purpose)
    }

    /// Stops waiting; an answer that still comes is ignored.
    pub(crate) fn forget(&mut self) {
        self.open = None;
    }

    /// The answer, once there is one. The window is woken when it comes.
    pub(crate) fn poll(&mut self, ctx: &egui::Context) -> Option<(Purpose, FileAnswer)> {
        let open = self.open.as_mut()?;
        let waker = Waker::from(Arc::new(Repaint(ctx.clone())));
        let Poll::Ready(picked) = open.future.as_mut().poll(&mut Context::from_waker(&waker)) else {
            return None;
        };
        let answer = match picked {
            Some(path) => FileAnswer::Path(path),
            None if open.since.elapsed() < NEVER_SHOWN => FileAnswer::NoDialog,
            None => FileAnswer::Cancelled,
        };
        let purpose = open.purpose;
        self.open = None;
        Some((purpose, answer))
    }
}

struct Repaint(egui::Context);

impl Wake for Repaint {
    fn wake(self: Arc<Self>) {
        self.0.request_repaint();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answer(picked: Option<PathBuf>, wait: Duration) -> Option<(Purpose, FileAnswer)> {
        let mut dialogs = FileDialogs::default();
        dialogs.wait_for(Purpose::Open, Box::pin(std::future::ready(picked)));
        if let Some(open) = dialogs.open.as_mut() {
            open.since -= wait;
        }
        dialogs.poll(&egui::Context::default())
    }

    #[test]
    fn an_answer_is_passed_on() {
        let path = PathBuf::from("a.ron");
        assert_eq!(answer(Some(path.clone()), Duration::ZERO), Some((Purpose::Open, FileAnswer::Path(path))));
    }

    #[test]
    fn an_instant_no_means_that_there_was_no_dialog() {
        assert_eq!(answer(None, Duration::ZERO), Some((Purpose::Open, FileAnswer::NoDialog)));
        assert_eq!(answer(None, Duration::from_secs(1)), Some((Purpose::Open, FileAnswer::Cancelled)));
    }

    #[test]
    fn a_dialog_that_is_open_gives_no_answer_and_bars_a_second() {
        let mut dialogs = FileDialogs::default();
        dialogs.wait_for(Purpose::SaveAs, Box::pin(std::future::pending()));
        assert_eq!(dialogs.poll(&egui::Context::default()), None);
        dialogs.ask(Purpose::Open, Path::new("."), "");
        assert_eq!(dialogs.waiting(), Some(Purpose::SaveAs));
        dialogs.forget();
        assert_eq!(dialogs.waiting(), None);
    }
}
