//! A text that is changed while the places of its parts stay known.

use std::ops::Range;

/// A text that was changed, and where each byte of it came from.
#[derive(Clone, Debug)]
pub struct Mended {
    pub text: String,
    /// For each byte its offset in the first text, or `None` in what was supplied; absent while nothing was changed.
    origin: Option<Vec<Option<u32>>>,
}

impl Mended {
    pub fn new(text: &str) -> Self {
        Mended { text: text.into(), origin: None }
    }

    /// The offset in the text as it was given; `None` in something that was supplied.
    pub fn original(&self, at: usize) -> Option<usize> {
        match &self.origin {
            None => Some(at),
            Some(origin) => match origin.get(at) {
                Some(from) => from.map(|f| f as usize),
                None => Some(origin.iter().rev().find_map(|o| *o).map_or(0, |o| o as usize + 1)),
            },
        }
    }

    /// Replaces a range. The new bytes come from where the old ones began, or from nowhere when `supplied`.
    pub fn replace(&mut self, range: Range<usize>, new: &str, supplied: bool) {
        let len = self.text.len() as u32;
        let origin = self.origin.get_or_insert_with(|| (0..len).map(Some).collect());
        let from = if supplied { None } else { origin.get(range.start).copied().flatten() };
        origin.splice(range.clone(), std::iter::repeat_n(from, new.len()));
        self.text.replace_range(range, new);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_byte_knows_where_it_came_from() {
        let mut text = Mended::new("(ab: 1)");
        assert_eq!((text.original(3), text.original(99)), (Some(3), Some(99)));
        text.replace(1..3, "abc", false);
        text.replace(1..1, "x: 0, ", true);
        assert_eq!(text.text, "(x: 0, abc: 1)");
        let from: Vec<_> = (0..text.text.len()).map(|i| text.original(i)).collect();
        let supplied = [None; 6];
        let rest = [1, 1, 1, 3, 4, 5, 6].map(Some);
        assert_eq!(from, [&[Some(0)], &supplied[..], &rest].concat());
        assert_eq!(text.original(text.text.len()), Some(7), "the end stays the end");
    }
}
