//! File dialogs of the desktop, which never stop the window: they are polled. Whether one was shown cannot be told, so the
//! window keeps a box to type the path into beside them.

use std::future::Future;
use std::path::{Path, PathBuf};
use std::pin::Pin;
use std::sync::Arc;
use std::task::{Context, Poll, Wake, Waker};

/// What a file is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Purpose {
    Open,
    SaveAs,
    /// The folder of a workshop.
    Folder,
}

/// The one dialog that may be open.
#[derive(Default)]
pub(crate) struct FileDialogs {
    open: Option<Open>,
}

struct Open {
    purpose: Purpose,
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
        self.open = Some(Open { purpose, future });
    }

    /// The answer, once there is one; `None` in it: closed without a file, or never shown. The window is woken when it comes.
    pub(crate) fn poll(&mut self, ctx: &egui::Context) -> Option<(Purpose, Option<PathBuf>)> {
        let open = self.open.as_mut()?;
        let waker = Waker::from(Arc::new(Repaint(ctx.clone())));
        let Poll::Ready(picked) = open.future.as_mut().poll(&mut Context::from_waker(&waker)) else {
            return None;
        };
        let purpose = open.purpose;
        self.open = None;
        Some((purpose, picked))
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

    fn answer(picked: Option<PathBuf>) -> Option<(Purpose, Option<PathBuf>)> {
        let mut dialogs = FileDialogs::default();
        dialogs.wait_for(Purpose::Open, Box::pin(std::future::ready(picked)));
        dialogs.poll(&egui::Context::default())
    }

    #[test]
    fn an_answer_is_passed_on_and_none_too() {
        let path = PathBuf::from("a.ron");
        assert_eq!(answer(Some(path.clone())), Some((Purpose::Open, Some(path))));
        assert_eq!(answer(None), Some((Purpose::Open, None)));
    }

    #[test]
    fn a_dialog_that_is_open_gives_no_answer_and_bars_a_second() {
        let mut dialogs = FileDialogs::default();
        dialogs.wait_for(Purpose::SaveAs, Box::pin(std::future::pending()));
        assert_eq!(dialogs.poll(&egui::Context::default()), None);
        dialogs.ask(Purpose::Open, Path::new("."), "");
        assert_eq!(dialogs.open.map(|o| o.purpose), Some(Purpose::SaveAs));
    }
}
