//! One table of the file: its keys read by the kind they must have.

use super::nearest::nearest;
use super::source::{Problems, Source, excerpt};
use quantity::{Dimension, Measured, Units, parse, show_value};
use std::collections::BTreeSet;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Longer texts belong in a book.
const LONGEST_TEXT: usize = 800;

/// Accepted values of a figure, SI, and its dimension.
#[derive(Clone, Copy)]
pub(super) struct Range {
    pub(super) dimension: Dimension,
    pub(super) low: f64,
    pub(super) high: f64,
}

impl Range {
    pub(super) const fn of(dimension: Dimension, low: f64, high: f64) -> Self {
        Self { dimension, low, high }
    }
}

/// A table with its place in the file.
pub(super) struct Fields<'a, 'i> {
    table: &'a DeTable<'i>,
    source: &'a Source<'i>,
    problems: &'a Problems,
    path: String,
    line: Option<usize>,
}

impl<'a, 'i> Fields<'a, 'i> {
    /// The keys above all sections.
    pub(super) fn root(table: &'a DeTable<'i>, source: &'a Source<'i>, problems: &'a Problems) -> Self {
        Self { table, source, problems, path: String::new(), line: None }
    }

    /// Adds a problem about a key, or about the table when it does not hold the key.
    pub(super) fn refuse(&self, key: &str, message: impl Into<String>) {
        let line = self.table.get_key_value(key).map(|(name, _)| self.source.line(name.span().start));
        self.problems.add(line.or(self.line), self.full(key), message);
    }

    fn full(&self, key: &str) -> String {
        match (self.path.is_empty(), key.is_empty()) {
            (true, _) => key.to_owned(),
            (_, true) => self.path.clone(),
            _ => format!("{}.{key}", self.path),
        }
    }

    /// True when the key stands in the table, whatever its value.
    pub(super) fn gives(&self, key: &str) -> bool {
        self.table.contains_key(key)
    }

    fn value(&self, key: &str) -> Option<&'a Spanned<DeValue<'i>>> {
        self.table.get(key)
    }

    /// Refuses every key that is not one of these.
    pub(super) fn refuse_unknown(&self, known: &[&str]) {
        for name in self.table.keys() {
            let text = name.get_ref().as_ref();
            if known.contains(&text) {
                continue;
            }
            let mend = match nearest(text, known.iter().copied()) {
                Some(near) => format!("did you mean {near}?"),
                None => format!("the keys here are {}", known.join(", ")),
            };
            let line = self.source.line(name.span().start);
            self.problems.add(Some(line), self.full(&excerpt(text)), format!("unknown key; {mend}"));
        }
    }

    /// A text that must be there.
    pub(super) fn text(&self, key: &str) -> Option<String> {
        if self.value(key).is_none() {
            self.refuse(key, format!("this is missing; write {key} = \"...\""));
            return None;
        }
        self.may_text(key)
    }

    /// A text that may be missing.
    pub(super) fn may_text(&self, key: &str) -> Option<String> {
        let value = self.value(key)?;
        let Some(text) = value.get_ref().as_str() else {
            self.refuse(key, format!("a text in quotes is wanted here, not {}", kind(value.get_ref())));
            return None;
        };
        let tidy = text.split_whitespace().collect::<Vec<_>>().join(" ");
        if tidy.is_empty() {
            self.refuse(
                key,
                "the text is empty; write something, or leave the key out where it is not needed",
            );
        } else if tidy.chars().count() > LONGEST_TEXT {
            self.refuse(key, format!("the text is longer than {LONGEST_TEXT} signs; split it into steps"));
        } else if tidy.chars().any(char::is_control) {
            self.refuse(key, "the text holds signs that cannot be printed; take them out");
        } else {
            return Some(tidy);
        }
        None
    }

    /// One of several words, each with what it stands for; a missing key gives `default` where there is one.
    pub(super) fn word<T: Copy>(&self, key: &str, words: &[(&str, T)], default: Option<T>) -> Option<T> {
        let all = || words.iter().map(|(word, _)| format!("\"{word}\"")).collect::<Vec<_>>().join(", ");
        if !self.gives(key) {
            if default.is_none() {
                self.refuse(key, format!("this is missing; it can be {}", all()));
            }
            return default;
        }
        let read = self.may_text(key)?;
        if let Some((_, meant)) = words.iter().find(|(word, _)| *word == read) {
            return Some(*meant);
        }
        let near = nearest(&read, words.iter().map(|(word, _)| *word));
        let near = near.map(|near| format!(" (did you mean \"{near}\"?)")).unwrap_or_default();
        self.refuse(key, format!("\"{}\" is not known here{near}; it can be {}", excerpt(&read), all()));
        None
    }

    /// A figure with its unit and spread that must be there.
    pub(super) fn figure(&self, key: &str, range: Range) -> Option<Measured> {
        if !self.gives(key) {
            let example = range.dimension.example();
            self.refuse(
                key,
                format!(
                    "this is missing; write {} with its unit, like \"{example}\"",
                    range.dimension.noun()
                ),
            );
            return None;
        }
        self.may_figure(key, range)
    }

    /// A figure that may be missing.
    pub(super) fn may_figure(&self, key: &str, range: Range) -> Option<Measured> {
        let text = self.may_text(key)?;
        let measured = match parse(&text, range.dimension) {
            Ok(measured) => measured,
            Err(error) => {
                self.refuse(key, error.to_string());
                return None;
            }
        };
        if measured.value >= range.low && measured.value <= range.high && measured.u.is_finite() {
            return Some(measured);
        }
        let show = |si: f64| show_value(si, range.dimension, Units::Metric);
        self.refuse(
            key,
            format!(
                "{} is not accepted; it must lie from {} to {}: check the figure and its unit",
                show(measured.value),
                show(range.low),
                show(range.high)
            ),
        );
        None
    }

    /// The layout's version, which must be 1.
    pub(super) fn version(&self, key: &str) {
        let Some(value) = self.value(key) else {
            self.refuse(key, format!("this is missing; write {key} = 1 on the first line"));
            return;
        };
        let read = match value.get_ref() {
            DeValue::Integer(number) => number.as_str().to_owned(),
            other => kind(other).to_owned(),
        };
        if read != "1" {
            self.refuse(
                key,
                format!("layout {} is not known here; this version reads {key} = 1", excerpt(&read)),
            );
        }
    }

    /// `key`: small letters, digits and hyphens, not used before.
    pub(super) fn new_key(&self, seen: &mut BTreeSet<String>) -> Option<String> {
        let key = self.text("key")?;
        let plain = key.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-');
        if !plain || key.starts_with('-') || key.ends_with('-') || key.len() > 40 {
            self.refuse(
                "key",
                format!(
                    "'{}' cannot be a key; use small letters, digits and hyphens, at most 40, like \"flush-held\"",
                    excerpt(&key)
                ),
            );
            return None;
        }
        if !seen.insert(key.clone()) {
            self.refuse("key", format!("'{key}' is used twice; give this one another key"));
            return None;
        }
        Some(key)
    }

    /// The table under `[key]`, when it stands in the file.
    pub(super) fn section(&self, key: &str) -> Option<Fields<'a, 'i>> {
        let value = self.value(key)?;
        let DeValue::Table(table) = value.get_ref() else {
            self.refuse(key, format!("write [{key}] on a line of its own, its keys below"));
            return None;
        };
        let line = self.table.get_key_value(key).map(|(name, _)| self.source.line(name.span().start));
        Some(Fields { table, source: self.source, problems: self.problems, path: self.full(key), line })
    }

    /// The tables under `[[path.key]]` or in a list of `{ ... }`, at most `most`.
    pub(super) fn tables(&self, key: &str, heading: &str, most: usize) -> Vec<Fields<'a, 'i>> {
        let Some(value) = self.value(key) else { return Vec::new() };
        let DeValue::Array(list) = value.get_ref() else {
            self.refuse(
                key,
                format!(
                    "there can be several of these: write {heading} on a line of its own, its keys below"
                ),
            );
            return Vec::new();
        };
        if list.iter().count() > most {
            self.refuse(key, format!("more than {most} are given; split the file or the work"));
            return Vec::new();
        }
        list.iter().enumerate().filter_map(|(at, entry)| self.child(key, at, entry)).collect()
    }

    fn child(&self, key: &str, at: usize, entry: &'a Spanned<DeValue<'i>>) -> Option<Fields<'a, 'i>> {
        let line = self.source.line(entry.span().start);
        let DeValue::Table(table) = entry.get_ref() else {
            let text =
                format!("a table is wanted here: keys with their values, not {}", kind(entry.get_ref()));
            self.problems.add(Some(line), self.full(key), text);
            return None;
        };
        let name = match table.get("key").and_then(|key| key.get_ref().as_str()) {
            Some(name) => format!("{key} \"{}\"", excerpt(name)),
            None => format!("{key} {}", at + 1),
        };
        let path = self.full(&name);
        Some(Fields { table, source: self.source, problems: self.problems, path, line: Some(line) })
    }
}

/// What a value is, for a sentence.
fn kind(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "a text in quotes",
        DeValue::Integer(_) | DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}
