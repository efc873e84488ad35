//! From tokens to a tree: every value where it stands, every fault once, then read on.

use std::sync::Arc;

use super::shown;
use super::token::{Token, TokenKind, tokens};
use super::tree::{Entry, Id, Kind, Node, SyntaxFault, Tree};

/// Brackets inside brackets, at most.
const DEEPEST: usize = 128;

pub(super) fn build(text: Arc<str>) -> Tree {
    let mut tree = Tree { text, nodes: Vec::new(), entries: Vec::new(), root: None, faults: Vec::new() };
    let text = tree.text.clone();
    match tokens(&text) {
        Err(fault) => tree.faults.push(fault),
        Ok(tokens) => {
            let mut builder = Builder { text: &text, tokens, tree, open: Vec::new(), depth: 0 };
            builder.whole();
            tree = builder.tree;
        }
    }
    tree
}

struct Builder<'a> {
    text: &'a str,
    tokens: Vec<Token>,
    tree: Tree,
    /// Entries of the brackets being read, the innermost last.
    open: Vec<Entry>,
    depth: usize,
}

impl Builder<'_> {
    fn whole(&mut self) {
        let first = self.after_attributes();
        if first >= self.tokens.len() {
            return self.fault(self.text.len(), "the file holds nothing".into(), None);
        }
        let (root, next) = self.value(first, self.tokens.len());
        self.tree.root = Some(root);
        if next < self.tokens.len() {
            let said = format!("expected nothing after the last closing bracket, found {}", self.found(next));
            self.fault(self.start(next), said, None);
        }
    }

    /// Steps over `#![enable(..)]` at the head of a file.
    fn after_attributes(&self) -> usize {
        let mut i = 0;
        while self.spelt(i) == "#" && self.spelt(i + 1) == "!" {
            match self.tokens.get(i + 2).map(|t| t.kind) {
                Some(TokenKind::Open(close)) => i = close as usize + 1,
                _ => break,
            }
        }
        i
    }

    /// The value that starts at a token before `end`, and the token behind it. A token that starts none is a fault, and
    /// taken as a bad value unless it is a comma.
    fn value(&mut self, i: usize, end: usize) -> (Id, usize) {
        let Some(token) = self.tokens.get(i).copied().filter(|_| i < end) else {
            let said = match i < self.tokens.len() {
                true => format!("expected a value, found {}", self.found(i)),
                false => "the file ends before its value does".into(),
            };
            let at = self.start(i);
            self.fault(at, said, None);
            return (self.leaf(Kind::Bad, at as u32, at as u32), i);
        };
        let opens = |i: usize| match self.tokens.get(i).map(|t| t.kind) {
            Some(TokenKind::Open(close)) => Some(close as usize),
            _ => None,
        };
        match token.kind {
            TokenKind::Text => (self.leaf(Kind::Text, token.start, token.end), i + 1),
            TokenKind::Number => (self.leaf(Kind::Number, token.start, token.end), i + 1),
            TokenKind::Word => match opens(i + 1).filter(|_| self.spelt(i + 1) == "(") {
                Some(close) => (self.bracket(token.start, i + 1, close), close + 1),
                None => (self.leaf(Kind::Word, token.start, token.end), i + 1),
            },
            TokenKind::Open(close) => (self.bracket(token.start, i, close as usize), close as usize + 1),
            TokenKind::Comma => {
                self.no_value_before(i);
                (self.leaf(Kind::Bad, token.start, token.start), i)
            }
            TokenKind::Colon | TokenKind::Close | TokenKind::Other => {
                let said = format!("expected a value, found {}", self.found(i));
                self.fault(token.start as usize, said, None);
                (self.leaf(Kind::Bad, token.start, token.end), i + 1)
            }
        }
    }

    /// A bracket from token `open` to token `close`; `start`: where the word before it stands, else where it opens.
    fn bracket(&mut self, start: u32, open: usize, close: usize) -> Id {
        let (bracket, end) = (self.tokens[open].start, self.tokens[close].end);
        if self.depth >= DEEPEST {
            self.fault(bracket as usize, "brackets are nested too deeply here".into(), None);
            return self.leaf(Kind::Bad, start, end);
        }
        self.depth += 1;
        let mine = self.open.len();
        let kind = match self.spelt(open) {
            "[" => Kind::List,
            "{" => Kind::Map,
            _ if self.has_fields(open, close) => Kind::Fields,
            _ => Kind::Tuple,
        };
        let mut i = open + 1;
        while i < close {
            i = self.entry(kind, i, close);
        }
        let first = self.tree.entries.len() as u32;
        self.tree.entries.extend(self.open.drain(mine..));
        let entries = (first, self.tree.entries.len() as u32);
        self.depth -= 1;
        self.push(Node { kind, start, end, bracket, entries })
    }

    /// One part of a bracket, and where the next begins.
    fn entry(&mut self, kind: Kind, i: usize, close: usize) -> usize {
        if self.tokens[i].kind == TokenKind::Comma {
            self.no_value_before(i);
            return i + 1;
        }
        let (key, first) = match kind {
            Kind::Fields if self.is_field(i, close) => ((self.tokens[i].start, self.tokens[i].end), i + 2),
            Kind::Fields => {
                let said = format!("expected a word, found {}", self.found(i));
                self.fault(self.start(i), said, None);
                return self.next_comma(i, close);
            }
            Kind::Map => {
                let (key, next) = self.value(i, close);
                let range = self.tree.range(key);
                if next >= close || self.tokens[next].kind != TokenKind::Colon {
                    let said =
                        format!("expected a colon after {}, found {}", self.found(i), self.found(next));
                    self.fault(self.start(next), said, None);
                    return self.next_comma(next, close);
                }
                ((range.start as u32, range.end as u32), next + 1)
            }
            _ => ((0, 0), i),
        };
        let (value, next) = self.value(first, close);
        let mut entry = Entry { key, value, comma: 0 };
        let behind = match self.tokens.get(next).filter(|_| next < close) {
            None => close,
            Some(token) if token.kind == TokenKind::Comma => {
                entry.comma = token.end;
                next + 1
            }
            Some(_) => self.no_comma(next, close),
        };
        self.open.push(entry);
        behind
    }

    /// Something stands where a comma should: told of; read on there where another part begins, else behind the comma.
    fn no_comma(&mut self, i: usize, close: usize) -> usize {
        let (closing, found) = (self.spelt(close), self.found(i));
        let said = format!("expected a comma or the closing `{closing}`, found {found}");
        let begins = match self.tokens[i].kind {
            TokenKind::Open(_) => true,
            TokenKind::Word | TokenKind::Text => {
                self.tokens.get(i + 1).is_some_and(|t| t.kind == TokenKind::Colon)
            }
            _ => false,
        };
        let number = i > 0 && self.tokens[i - 1].kind == TokenKind::Number;
        let hint =
            (number && !begins).then(|| "figures in files are plain numbers, in mm and degrees".into());
        self.fault(self.start(i), said, hint);
        if begins { i } else { self.next_comma(i, close) }
    }

    fn no_value_before(&mut self, i: usize) {
        let said = format!("expected a value before this comma, found {}", self.found(i.saturating_sub(1)));
        self.fault(self.start(i), said, Some("is there a comma too many?".into()));
    }

    /// The token behind the next comma of this bracket, or the one that closes it.
    fn next_comma(&self, mut i: usize, close: usize) -> usize {
        while i < close {
            i = match self.tokens[i].kind {
                TokenKind::Comma => return i + 1,
                TokenKind::Open(end) => end as usize + 1,
                _ => i + 1,
            };
        }
        close
    }

    fn has_fields(&self, open: usize, close: usize) -> bool {
        let mut i = open + 1;
        while i < close {
            if self.is_field(i, close) {
                return true;
            }
            i = self.next_comma(i, close);
        }
        false
    }

    fn is_field(&self, i: usize, close: usize) -> bool {
        i + 1 < close && self.tokens[i].kind == TokenKind::Word && self.tokens[i + 1].kind == TokenKind::Colon
    }

    fn leaf(&mut self, kind: Kind, start: u32, end: u32) -> Id {
        self.push(Node { kind, start, end, bracket: start, entries: (0, 0) })
    }

    fn push(&mut self, node: Node) -> Id {
        self.tree.nodes.push(node);
        Id(self.tree.nodes.len() as u32 - 1)
    }

    fn fault(&mut self, at: usize, text: String, hint: Option<String>) {
        self.tree.faults.push(SyntaxFault { at, text, hint });
    }

    fn start(&self, i: usize) -> usize {
        self.tokens.get(i).map_or(self.text.len(), |t| t.start as usize)
    }

    fn spelt(&self, i: usize) -> &str {
        self.tokens.get(i).map_or("", |t| &self.text[t.range()])
    }

    /// What stands at a token, for a message.
    fn found(&self, i: usize) -> String {
        match self.spelt(i) {
            "" => "nothing".into(),
            text if text.starts_with('"') => shown(text),
            text => format!("`{}`", shown(text)),
        }
    }
}
