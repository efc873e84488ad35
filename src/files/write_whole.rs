//! Writing a file so that it is the old one or the new one, never half of each.

use std::fs::{File, Metadata};
use std::io::{Error, ErrorKind, Result, Write};
use std::path::{Path, PathBuf};
use std::time::Duration;

use tempfile::NamedTempFile;

/// What the temporary files of a save are called.
const BEFORE: &str = ".baywright-";
const AFTER: &str = ".tmp";

/// A temporary file left so long ago belongs to no save that still runs.
const LEFT: Duration = Duration::from_secs(600);

/// Writes a file by way of a temporary one in the same folder, which is flushed to the disk before it takes the old
/// one's place. Permissions stay; owner and further names (hard links) of the old file stay where the system lets them.
/// A file that others may not read is at no moment readable for them.
pub(super) fn write_whole(path: &Path, bytes: &[u8]) -> Result<()> {
    let target = std::fs::canonicalize(path).unwrap_or_else(|_| PathBuf::from(path));
    let folder = match target.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let old = std::fs::metadata(&target).ok();
    if old.as_ref().is_some_and(|old| old.permissions().readonly()) {
        return Err(Error::new(ErrorKind::PermissionDenied, "it is write-protected"));
    }
    let mut file = temporary(folder, old.as_ref())?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    sweep(folder, &file);
    match old {
        Some(old) if !replaceable(&file, &old) => over(&target, file, bytes)?,
        old => {
            if let Some(old) = old {
                file.as_file().set_permissions(old.permissions())?;
            }
            file.persist(&target).map_err(|e| e.error)?;
        }
    }
    #[cfg(unix)]
    if let Ok(folder) = File::open(folder) {
        let _ = folder.sync_all(); // some file systems refuse; the file itself is safe already
    }
    Ok(())
}

/// Why a file could not be written, in words without the names of temporary files.
pub(super) fn reason(error: &Error) -> String {
    match error.kind() {
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => "there is no room left on the disk".into(),
        ErrorKind::ReadOnlyFilesystem => "the disk cannot be written to".into(),
        ErrorKind::NotFound => "there is no such folder".into(),
        ErrorKind::NotADirectory => "a part of its path is no folder".into(),
        ErrorKind::IsADirectory => "there is a folder of this name".into(),
        ErrorKind::PermissionDenied
            if error.get_ref().is_some_and(|e| e.to_string() == "it is write-protected") =>
        {
            "it is write-protected".into()
        }
        ErrorKind::PermissionDenied => "you may not write in its folder".into(),
        kind => kind.to_string(),
    }
}

/// A new file beside the target, from the start as private as the old one.
fn temporary(folder: &Path, old: Option<&Metadata>) -> Result<NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(BEFORE).suffix(AFTER);
    #[cfg(unix)]
    let mode = {
        use std::os::unix::fs::PermissionsExt;
        // a new file gets what the user's own mask leaves of this
        std::fs::Permissions::from_mode(old.map_or(0o666, |old| old.permissions().mode() & 0o777))
    };
    #[cfg(unix)]
    builder.permissions(mode);
    #[cfg(not(unix))]
    let _ = old;
    builder.tempfile_in(folder)
}

/// Whether the new file may take the old one's place and nothing of the old one but its content is lost.
#[cfg(unix)]
fn replaceable(file: &NamedTempFile, old: &Metadata) -> bool {
    use std::os::unix::fs::{MetadataExt, fchown};
    let Ok(new) = file.as_file().metadata() else { return false };
    let same_owner = (new.uid(), new.gid()) == (old.uid(), old.gid());
    old.nlink() == 1 && (same_owner || fchown(file.as_file(), Some(old.uid()), Some(old.gid())).is_ok())
}

#[cfg(not(unix))]
fn replaceable(_: &NamedTempFile, _: &Metadata) -> bool {
    true
}

/// Writes into the old file itself. The temporary one holds the whole text until that is done, and stays if it is not.
fn over(target: &Path, file: NamedTempFile, bytes: &[u8]) -> Result<()> {
    let kept = file.into_temp_path();
    let written = (|| {
        let mut old = File::options().write(true).truncate(true).open(target)?;
        old.write_all(bytes)?;
        old.sync_all()
    })();
    match written {
        Ok(()) => kept.close(),
        Err(error) => {
            let _ = kept.keep(); // what was to be written is all there is now
            Err(error)
        }
    }
}

/// Takes away what saves that were killed left in a folder.
fn sweep(folder: &Path, mine: &NamedTempFile) {
    let Some(now) = mine.as_file().metadata().and_then(|m| m.modified()).ok() else { return };
    for entry in std::fs::read_dir(folder).into_iter().flatten().flatten() {
        let name = entry.file_name();
        let ours = name.to_str().is_some_and(|n| n.starts_with(BEFORE) && n.ends_with(AFTER));
        let written = || entry.metadata().and_then(|m| m.modified()).ok();
        let old = || written().and_then(|w| now.duration_since(w).ok()).is_some_and(|age| age > LEFT);
        if ours && old() {
            let _ = std::fs::remove_file(entry.path()); // another time, where it cannot be
        }
    }
}

#[cfg(all(test, unix))]
mod tests {
    use super::*;
    use std::os::unix::fs::{MetadataExt, PermissionsExt};

    #[test]
    fn a_file_stays_what_it_was_but_for_its_content() {
        let dir = tempfile::tempdir().expect("folder");
        let (path, other) = (dir.path().join("a.ron"), dir.path().join("b.ron"));
        std::fs::write(&path, "old").expect("write");
        std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o640)).expect("mode");
        std::fs::hard_link(&path, &other).expect("link");
        let before = std::fs::metadata(&path).expect("there");
        write_whole(&path, b"new").expect("written");
        let after = std::fs::metadata(&path).expect("there");
        assert_eq!((after.ino(), after.nlink(), after.mode()), (before.ino(), 2, before.mode()));
        assert_eq!(std::fs::read_to_string(&other).expect("read"), "new", "the other name holds the same");
        // with one name it is replaced, which is safer
        std::fs::remove_file(&other).expect("removed");
        write_whole(&path, b"newer").expect("written");
        let last = std::fs::metadata(&path).expect("there");
        assert_eq!((last.mode(), last.uid()), (before.mode(), before.uid()));
        assert_ne!(last.ino(), before.ino());
        assert_eq!(std::fs::read_to_string(&path).expect("read"), "newer");
    }

    #[test]
    fn the_temporary_file_is_as_private_as_the_old_one() {
        let dir = tempfile::tempdir().expect("folder");
        let path = dir.path().join("a.ron");
        std::fs::write(&path, "old").expect("write");
        std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o600)).expect("mode");
        let old = std::fs::metadata(&path).expect("there");
        let file = temporary(dir.path(), Some(&old)).expect("made");
        assert_eq!(file.as_file().metadata().expect("there").mode() & 0o077, 0);
    }

    #[test]
    fn what_a_killed_save_left_is_swept_and_what_may_be_at_work_is_not() {
        let dir = tempfile::tempdir().expect("folder");
        let at = |name: &str| dir.path().join(name);
        for name in [".baywright-old.tmp", ".baywright-new.tmp", ".other-old.tmp"] {
            let file = File::create(at(name)).expect("made");
            if name.contains("old") {
                let made = file.metadata().and_then(|m| m.modified()).expect("a time");
                file.set_modified(made - Duration::from_secs(3600)).expect("set");
            }
        }
        write_whole(&at("a.ron"), b"new").expect("written");
        let mut left: Vec<String> = std::fs::read_dir(dir.path())
            .expect("folder")
            .map(|e| e.expect("entry").file_name().to_string_lossy().into_owned())
            .collect();
        left.sort();
        assert_eq!(left, [".baywright-new.tmp", ".other-old.tmp", "a.ron"]);
    }

    #[test]
    fn what_hinders_is_said_without_inner_paths() {
        let dir = tempfile::tempdir().expect("folder");
        let missing = write_whole(&dir.path().join("none").join("a.ron"), b"").expect_err("no folder");
        assert_eq!(reason(&missing), "there is no such folder");
        let path = dir.path().join("a.ron");
        std::fs::write(&path, "old").expect("write");
        std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o400)).expect("mode");
        assert_eq!(reason(&write_whole(&path, b"new").expect_err("protected")), "it is write-protected");
        assert_eq!(std::fs::read_to_string(&path).expect("read"), "old");
    }
}
