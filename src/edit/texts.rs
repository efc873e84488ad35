//! What the files are to say, put into their texts.

use std::path::Path;
use std::sync::Arc;

use crate::files::{FileKind, Source, Texts, plain_path, read_text};
use crate::model::writing::{reads_as, rewrite, spell_whole};

/// Brings the text of a file to what it is to say; the value is then the one that was read back, which knows its places in
/// the new text. A file without a text is spelt. One sentence where that cannot be done.
pub(super) fn put<T: FileKind + PartialEq>(
    texts: &mut Texts,
    path: &Path,
    value: &mut Arc<T>,
) -> Result<(), String> {
    let key = plain_path(path);
    let refused = |why: &str| format!("the {} file cannot say so: {why}", T::KIND.word());
    let source = match texts.get(&key) {
        Some(source) => {
            let text = rewrite(&source.text, &**value).ok_or_else(|| refused(&unwritable(&**value)))?;
            if text == source.text {
                return Ok(());
            }
            source.with_text(&text)
        }
        None => Source::new(path, &spell_whole(&**value).map_err(|why| refused(&why))?),
    };
    *value = match read_text::<T>(&source.text, path) {
        Ok(read) => Arc::new(read),
        Err(faults) => return Err(refused(&faults.first().map(|f| f.text.clone()).unwrap_or_default())),
    };
    texts.insert(key, Arc::new(source));
    Ok(())
}

/// Why a value cannot be put into a text.
fn unwritable<T: FileKind + PartialEq>(value: &T) -> String {
    spell_whole(value).err().unwrap_or_else(|| "its text cannot be changed there".into())
}

/// The same for a file that the job names: `before` is what it said until now; `None` where the job has not named it.
/// What has no text yet is read from the disk, and then noted in `read` too.
pub(super) fn follow<T: FileKind + PartialEq>(
    texts: &mut Texts,
    read: &mut Texts,
    path: &Path,
    before: Option<&Arc<T>>,
    value: &mut Arc<T>,
) -> Result<(), String> {
    if before.is_some_and(|before| Arc::ptr_eq(before, value)) {
        return Ok(());
    }
    let key = plain_path(path);
    if !texts.contains_key(&key)
        && let Ok(source) = Source::load(path)
        && (before.is_some() || reads_as(&source.text, &**value))
    {
        let source = Arc::new(source);
        read.insert(key.clone(), source.clone());
        texts.insert(key, source);
    }
    put(texts, path, value)
}
