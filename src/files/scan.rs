//! The tokens of a RON text with their places, as far as faults need them: what stands where, inside which brackets.
//!
//! Reading itself is ron's; this only finds the brackets, fields and elements that a message or a repair is about.

use super::tokens::tokens;
pub use super::tokens::{Broken, Kind, Token};

/// The tokens of a text whose brackets, texts and comments are all closed.
#[derive(Clone, Debug)]
pub struct Scan<'s> {
    pub source: &'s str,
    pub tokens: Vec<Token>,
}

/// One comma-separated part of what a bracket holds: tokens `first..=last`, and the comma after it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Element {
    pub first: usize,
    pub last: usize,
    pub comma: Option<usize>,
}

impl<'s> Scan<'s> {
    pub fn new(source: &'s str) -> Result<Self, Broken> {
        Ok(Scan { source, tokens: tokens(source)? })
    }

    /// What stands at a token.
    pub fn text(&self, token: usize) -> &'s str {
        self.tokens.get(token).map_or("", |t| &self.source[t.at.clone()])
    }

    /// The token that holds the offset, else the first one after it.
    pub fn token_at(&self, offset: usize) -> Option<usize> {
        let i = self.tokens.partition_point(|t| t.at.end <= offset);
        (i < self.tokens.len()).then_some(i)
    }

    /// The opening bracket around a token; a bracket is not inside itself.
    pub fn around(&self, token: usize) -> Option<usize> {
        let mut i = token;
        while i > 0 {
            i -= 1;
            match self.tokens[i].kind {
                Kind::Open(close) if close >= token => return Some(i),
                Kind::Close(open) => i = open,
                _ => {}
            }
        }
        None
    }

    /// The token that closes the bracket `open`.
    pub fn close(&self, open: usize) -> Option<usize> {
        match self.tokens.get(open)?.kind {
            Kind::Open(close) => Some(close),
            _ => None,
        }
    }

    /// What the bracket `open` holds, comma by comma.
    pub fn elements(&self, open: usize) -> Vec<Element> {
        let Some(end) = self.close(open) else {
            return Vec::new();
        };
        let mut elements = Vec::new();
        let mut first = open + 1;
        let mut i = first;
        while i <= end {
            let comma = (self.tokens[i].kind == Kind::Comma).then_some(i);
            if (i == end || comma.is_some()) && first < i {
                elements.push(Element { first, last: i - 1, comma });
            }
            if i == end || comma.is_some() {
                first = i + 1;
            }
            i = match self.tokens[i].kind {
                Kind::Open(close) => close + 1,
                _ => i + 1,
            };
        }
        elements
    }

    /// The name of an element that is `name: value`.
    pub fn field_name(&self, element: &Element) -> Option<&'s str> {
        let named = self.tokens[element.first].kind == Kind::Word
            && element.first < element.last
            && self.tokens[element.first + 1].kind == Kind::Colon;
        named.then(|| self.text(element.first))
    }

    /// The bracket of the whole file: `(` or `Name(`.
    pub fn outermost(&self) -> Option<usize> {
        let mut i = 0;
        while i < self.tokens.len() {
            match self.tokens[i].kind {
                Kind::Open(close) if self.text(i) == "[" && self.after_hash(i) => i = close + 1,
                Kind::Open(_) => return (self.text(i) == "(").then_some(i),
                _ => i += 1,
            }
        }
        None
    }

    /// The element `name: value` of the bracket `open`.
    pub fn field(&self, open: usize, name: &str) -> Option<Element> {
        self.elements(open).into_iter().find(|e| self.field_name(e) == Some(name))
    }

    /// Whether the bracket `open` holds named fields.
    pub fn has_fields(&self, open: usize) -> bool {
        self.text(open) == "(" && self.elements(open).iter().any(|e| self.field_name(e).is_some())
    }

    fn after_hash(&self, token: usize) -> bool {
        token > 0 && matches!(self.text(token - 1), "!" | "#")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn scan(source: &str) -> Scan<'_> {
        Scan::new(source).expect("closed")
    }

    #[test]
    fn fields_and_elements_are_found_past_texts_comments_and_brackets() {
        let s = scan("( // a: 1\n name: \"a, (b\", at: (1, -2.5), /* x: [ */ list: [Metal, Shine,], )");
        let open = s.outermost().expect("a file");
        let names: Vec<_> = s.elements(open).iter().filter_map(|e| s.field_name(e)).collect();
        assert_eq!(names, ["name", "at", "list"]);
        let list = s.field(open, "list").expect("list");
        assert_eq!(s.elements(list.first + 2).len(), 2);
        let shine = s.token_at(s.source.find("Shine").expect("Shine")).expect("token");
        assert_eq!(s.text(s.around(shine).expect("list")), "[");
        assert_eq!(s.text(s.around(s.around(shine).expect("list")).expect("file")), "(");
        assert_eq!(s.around(open), None);
    }

    #[test]
    fn what_is_never_closed_is_named_where_it_opens() {
        for (source, at, text) in [
            ("(a: [1, 2)", 4, "this `[` is never closed: a `)` comes first"),
            ("(a: [1, 2]", 0, "this `(` is never closed"),
            ("(a: 1))", 6, "this `)` closes nothing"),
            ("(a: \"x)", 4, "this text in quotes is never closed"),
            ("(a: \"x,\n b: \"y\",\n)", 4, "this text in quotes is never closed"),
            ("(a: 1 /* x )", 6, "this comment is never closed"),
        ] {
            let broken = Scan::new(source).expect_err(source);
            assert_eq!((broken.at, broken.text.as_str()), (at, text), "{source}");
        }
    }

    #[test]
    fn raw_texts_nested_comments_and_stray_quotes_are_stepped_over() {
        let s = scan("(a: r#\"x \" ) \"#, /* /* ) */ ( */ b: 24' 7\")\")");
        let open = s.outermost().expect("a file");
        assert_eq!(s.elements(open).len(), 2);
        assert!(s.has_fields(open));
        let s = scan("#![enable(implicit_some)]\n(a: 1)");
        assert_eq!(s.text(s.outermost().expect("a file") + 1), "a");
    }
}
