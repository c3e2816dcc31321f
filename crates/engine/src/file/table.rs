//! What was read of the file: its sections with values of the kinds the table of keys asks for.

use super::spec::Section;
use quantity::Measured;
use std::collections::BTreeMap;

/// A value of the kind its key asks for.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Value {
    Figure(Measured),
    Limit {
        value: Measured,
        from: String,
    },
    Text(String),
    Count(u32),
    Flag(bool),
    Word(&'static str),
    Names(Vec<String>),
    Points(Vec<(Measured, Measured)>),
    /// The user says that it is not known.
    NotKnown,
    /// It was given but could not be read; the problem is already listed.
    Bad,
}

/// A value with its place.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Entry {
    /// Line in the file; `None` for a default.
    pub(super) line: Option<usize>,
    pub(super) value: Value,
}

/// One section of the file, or one of several of its kind.
#[derive(Debug, Clone)]
pub(super) struct Table {
    pub(super) section: &'static Section,
    /// Path shown to the user and used in `sure`: `crank`, `port "exhaust"`; empty above all sections.
    pub(super) path: String,
    pub(super) line: Option<usize>,
    pub(super) entries: BTreeMap<&'static str, Entry>,
}

impl Table {
    pub(super) fn empty(section: &'static Section) -> Self {
        Self { section, path: section.path.to_owned(), line: None, entries: BTreeMap::new() }
    }

    /// How the section is named in a sentence.
    pub(super) fn section_words(&self) -> String {
        if self.path.is_empty() {
            "the lines above all sections".to_owned()
        } else if self.section.repeated {
            self.path.clone()
        } else {
            self.section.heading()
        }
    }

    /// The full key of one of its keys.
    pub(super) fn key(&self, name: &str) -> String {
        if self.path.is_empty() { name.to_owned() } else { format!("{}.{name}", self.path) }
    }

    /// True for the full key of one of its own keys (or of what several of them say together).
    pub(super) fn owns(&self, full: &str) -> bool {
        full.rsplit_once('.').is_some_and(|(path, _)| path == self.path)
    }

    /// Line of a key in the file.
    pub(super) fn line_of(&self, name: &str) -> Option<usize> {
        self.entries.get(name).and_then(|entry| entry.line)
    }

    /// True when the file gives the key a value (even one that could not be read).
    pub(super) fn gives(&self, name: &str) -> bool {
        self.entries.get(name).is_some_and(|entry| entry.value != Value::NotKnown)
    }

    fn value(&self, name: &str) -> Option<&Value> {
        self.entries.get(name).map(|entry| &entry.value)
    }

    pub(super) fn figure(&self, name: &str) -> Option<Measured> {
        match self.value(name) {
            Some(Value::Figure(figure)) => Some(figure.clone()),
            _ => None,
        }
    }

    pub(super) fn limit(&self, name: &str) -> Option<(Measured, String)> {
        match self.value(name) {
            Some(Value::Limit { value, from }) => Some((value.clone(), from.clone())),
            _ => None,
        }
    }

    pub(super) fn text(&self, name: &str) -> Option<String> {
        match self.value(name) {
            Some(Value::Text(text)) => Some(text.clone()),
            _ => None,
        }
    }

    pub(super) fn count(&self, name: &str) -> Option<u32> {
        match self.value(name) {
            Some(Value::Count(count)) => Some(*count),
            _ => None,
        }
    }

    pub(super) fn flag(&self, name: &str) -> Option<bool> {
        match self.value(name) {
            Some(Value::Flag(flag)) => Some(*flag),
            _ => None,
        }
    }

    pub(super) fn word(&self, name: &str) -> Option<&'static str> {
        match self.value(name) {
            Some(Value::Word(word)) => Some(word),
            _ => None,
        }
    }

    pub(super) fn names(&self, name: &str) -> Option<Vec<String>> {
        match self.value(name) {
            Some(Value::Names(names)) => Some(names.clone()),
            _ => None,
        }
    }

    pub(super) fn points(&self, name: &str) -> Option<&[(Measured, Measured)]> {
        match self.value(name) {
            Some(Value::Points(points)) => Some(points),
            _ => None,
        }
    }
}
