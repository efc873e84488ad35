//! The text of a file with its path, and the way from an offset to a line and a column.

use std::fs::File;
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};

use super::fault::FileFault;

/// The largest file that is read, in bytes; ours are a few kilobytes.
pub(super) const LARGEST: u64 = 8 << 20;

/// A text and where it came from. A leading byte-order mark is not part of the text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    pub path: PathBuf,
    pub text: String,
    /// Where each line starts, in bytes.
    lines: Vec<usize>,
    /// The file began with a byte-order mark.
    marked: bool,
}

impl Source {
    pub fn new(path: impl Into<PathBuf>, text: &str) -> Self {
        let bare = text.strip_prefix('\u{feff}');
        let (marked, text) = (bare.is_some(), bare.unwrap_or(text).to_owned());
        let ends = text.match_indices('\n').map(|(i, _)| i + 1);
        Source { path: path.into(), lines: std::iter::once(0).chain(ends).collect(), text, marked }
    }

    /// Another text for the same file.
    pub fn with_text(&self, text: &str) -> Self {
        Source { marked: self.marked, ..Source::new(&self.path, text) }
    }

    /// The same text for another file.
    pub fn at(&self, path: impl Into<PathBuf>) -> Self {
        Source { path: path.into(), ..self.clone() }
    }

    /// What the file holds, byte by byte.
    pub fn bytes(&self) -> Vec<u8> {
        let mark = if self.marked { "\u{feff}" } else { "" };
        [mark.as_bytes(), self.text.as_bytes()].concat()
    }

    /// Reads a file whole. What hinders is one fault about the file.
    pub fn load(path: &Path) -> Result<Self, FileFault> {
        Source::load_up_to(path, LARGEST)
    }

    /// The same with a limit of its own, in bytes.
    pub fn load_up_to(path: &Path, most: u64) -> Result<Self, FileFault> {
        let refused = |text: String| FileFault::whole(path, text);
        let missing = |e: std::io::Error| match e.kind() {
            ErrorKind::NotFound => refused("there is no such file".into()),
            ErrorKind::PermissionDenied => refused("this file may not be read by you".into()),
            _ => refused(format!("this file cannot be read: {e}")),
        };
        let about = std::fs::metadata(path).map_err(missing)?;
        if about.is_dir() {
            return Err(refused("this is a folder, not a file".into()));
        }
        if !about.is_file() {
            return Err(refused("this is not an ordinary file".into()));
        }
        let mut bytes = Vec::new();
        let file = File::open(path).map_err(missing)?;
        file.take(most + 1).read_to_end(&mut bytes).map_err(missing)?;
        if bytes.len() as u64 > most {
            return Err(refused(format!("this file is larger than {}, the most that is read", size(most))));
        }
        match std::str::from_utf8(&bytes) {
            Ok(text) => Ok(Source::new(path, text)),
            Err(e) => {
                let good = String::from_utf8_lossy(&bytes[..e.valid_up_to()]);
                let source = Source::new(path, &good);
                let text = "this file is not UTF-8 text: the byte here stands for no character";
                Err(source.fault(source.text.len(), text, Some("save it as UTF-8".into())))
            }
        }
    }

    /// Line and column of a byte offset, from 1, the column in characters.
    pub fn place(&self, offset: usize) -> (usize, usize) {
        let mut end = offset.min(self.text.len());
        while !self.text.is_char_boundary(end) {
            end -= 1;
        }
        let line = self.lines.partition_point(|start| *start <= end);
        let start = self.lines[line - 1];
        (line, 1 + self.text[start..end].chars().count())
    }

    /// A fault at a byte offset.
    pub fn fault(&self, offset: usize, text: impl Into<String>, hint: Option<String>) -> FileFault {
        let (line, column) = self.place(offset);
        FileFault { path: self.path.clone(), line, column, text: text.into(), hint }
    }
}

/// "8 MiB" or "256 KiB", in whole ones.
fn size(bytes: u64) -> String {
    match bytes >> 20 {
        0 => format!("{} KiB", bytes >> 10),
        mib => format!("{mib} MiB"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_count_characters_whatever_ends_the_line() {
        let s = Source::new("a.ron", "\u{feff}(\r\n\tä: 1,\r\n)");
        assert_eq!(s.place(0), (1, 1));
        assert_eq!(s.place(s.text.find('1').expect("1")), (2, 5));
        assert_eq!(s.place(s.text.len()), (3, 2));
        assert_eq!(s.place(9999), (3, 2));
        assert_eq!(s.place(s.text.find('ä').expect("ä") + 1), (2, 2), "inside a character");
    }

    #[test]
    fn what_cannot_be_read_is_one_sentence() {
        let dir = tempfile::tempdir().expect("folder");
        let at = |name: &str| dir.path().join(name);
        std::fs::write(at("bad.ron"), b"(\n  name: \"\xff\")").expect("write");
        std::fs::write(at("big.ron"), vec![b' '; LARGEST as usize + 1]).expect("write");
        for (name, said) in [
            ("none.ron", "none.ron: there is no such file"),
            ("", ": this is a folder, not a file"),
            (
                "bad.ron",
                "bad.ron:2:10: this file is not UTF-8 text: the byte here stands for no character; save it as UTF-8",
            ),
            ("big.ron", "big.ron: this file is larger than 8 MiB, the most that is read"),
        ] {
            let fault = Source::load(&at(name)).expect_err(name).to_string();
            assert!(fault.ends_with(said), "{fault}");
        }
    }
}
