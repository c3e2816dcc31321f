//! One table of the file: its keys read by the kind they must have.

use crate::nearest;
use crate::source::{Problems, Source, excerpt};
use std::collections::BTreeSet;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Lists longer than this are a mistake.
const MOST_TEXTS: usize = 60;

/// A table with its place in the file.
pub struct Fields<'a, 'i> {
    table: &'a DeTable<'i>,
    source: &'a Source<'i>,
    problems: &'a Problems,
    path: String,
    line: Option<usize>,
}

impl<'a, 'i> Fields<'a, 'i> {
    /// The keys above all sections.
    pub(crate) fn root(table: &'a DeTable<'i>, source: &'a Source<'i>, problems: &'a Problems) -> Self {
        Self { table, source, problems, path: String::new(), line: None }
    }

    /// Adds a problem about a key, or about the table when the key is empty.
    pub fn refuse(&self, key: &str, message: impl Into<String>) {
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
    pub fn gives(&self, key: &str) -> bool {
        self.table.contains_key(key)
    }

    fn value(&self, key: &str) -> Option<&'a Spanned<DeValue<'i>>> {
        self.table.get(key)
    }

    /// Refuses every key that is not one of these.
    pub fn refuse_unknown(&self, known: &[&str]) {
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
    pub fn text(&self, key: &str) -> Option<String> {
        if self.value(key).is_none() {
            self.refuse(key, format!("this is missing; write {key} = \"...\""));
            return None;
        }
        self.may_text(key)
    }

    /// A text that may be missing.
    pub fn may_text(&self, key: &str) -> Option<String> {
        let value = self.value(key)?;
        match value.get_ref().as_str() {
            Some(text) => self.tidy(key, text),
            None => {
                self.refuse(key, format!("a text in quotes is wanted here, not {}", kind(value.get_ref())));
                None
            }
        }
    }

    /// Runs of blanks and line ends made one space.
    fn tidy(&self, key: &str, text: &str) -> Option<String> {
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        if text.is_empty() {
            self.refuse(
                key,
                "the text is empty; write something, or leave the key out where it is not needed",
            );
            None
        } else if text.chars().count() > self.source.layout.longest_text {
            let most = self.source.layout.longest_text;
            self.refuse(key, format!("the text is longer than {most} signs; split it into steps"));
            None
        } else if text.chars().any(char::is_control) {
            self.refuse(key, "the text holds signs that cannot be printed; take them out");
            None
        } else {
            Some(text)
        }
    }

    /// A list of texts; missing means empty.
    pub fn texts(&self, key: &str) -> Vec<String> {
        let Some(value) = self.value(key) else { return Vec::new() };
        let DeValue::Array(list) = value.get_ref() else {
            self.refuse(key, format!("a list is wanted here: write {key} = [\"...\", \"...\"]"));
            return Vec::new();
        };
        if list.iter().count() > MOST_TEXTS {
            self.refuse(key, format!("more than {MOST_TEXTS} entries are given; keep the list short"));
            return Vec::new();
        }
        let mut texts = Vec::new();
        for entry in list.iter() {
            match entry.get_ref().as_str() {
                Some(text) => texts.extend(self.tidy(key, text)),
                None => self.refuse(
                    key,
                    format!("every entry of the list is a text in quotes, not {}", kind(entry.get_ref())),
                ),
            }
        }
        texts
    }

    /// A list of texts with at least one entry.
    pub fn some_texts(&self, key: &str) -> Vec<String> {
        if !self.gives(key) {
            self.refuse(key, format!("this is missing; write {key} = [\"...\", \"...\"]"));
            return Vec::new();
        }
        let texts = self.texts(key);
        if texts.is_empty()
            && self
                .value(key)
                .is_some_and(|value| value.get_ref().as_array().is_some_and(|list| list.iter().count() == 0))
        {
            self.refuse(key, "the list is empty; at least one entry is needed");
        }
        texts
    }

    /// A number that may be missing.
    pub fn number(&self, key: &str) -> Option<f64> {
        let value = self.value(key)?;
        let digits = match value.get_ref() {
            DeValue::Integer(number) if number.radix() == 10 => number.as_str(),
            DeValue::Float(number) => number.as_str(),
            other => {
                self.refuse(key, format!("a number without quotes is wanted here, not {}", kind(other)));
                return None;
            }
        };
        let number = digits.replace('_', "").parse::<f64>().ok().filter(|number| number.is_finite());
        if number.is_none() {
            self.refuse(key, format!("'{}' is no number that can be used here", excerpt(digits)));
        }
        number
    }

    /// `true` or `false`; missing means false.
    pub fn flag(&self, key: &str) -> bool {
        let Some(value) = self.value(key) else { return false };
        if value.get_ref().as_bool().is_none() {
            self.refuse(
                key,
                format!("true or false is wanted here, without quotes, not {}", kind(value.get_ref())),
            );
        }
        value.get_ref().as_bool().unwrap_or(false)
    }

    /// `true` or `false`, and it must be there.
    pub fn need_flag(&self, key: &str) -> bool {
        if !self.gives(key) {
            self.refuse(key, format!("this is missing; write {key} = true or {key} = false"));
        }
        self.flag(key)
    }

    /// `key`: small letters, digits and hyphens, not used before.
    pub fn new_key(&self, seen: &mut BTreeSet<String>) -> Option<String> {
        let key = self.text("key")?;
        let plain = key.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-');
        if !plain || key.starts_with('-') || key.ends_with('-') || key.len() > 40 {
            let text = format!(
                "'{}' cannot be a key; use small letters, digits and hyphens, at most 40, like \"{}\"",
                excerpt(&key),
                self.source.layout.key
            );
            self.refuse("key", text);
            return None;
        }
        if !seen.insert(key.clone()) {
            self.refuse("key", format!("'{key}' is used twice; give this one another key"));
            return None;
        }
        Some(key)
    }

    /// The tables under `[[path.key]]` or in a list of `{ ... }`, at most `most`.
    pub fn tables(&self, key: &str, most: usize) -> Vec<Fields<'a, 'i>> {
        let Some(value) = self.value(key) else { return Vec::new() };
        let DeValue::Array(list) = value.get_ref() else {
            let heading = self.heading(key);
            self.refuse(
                key,
                format!(
                    "there can be several of these: write {heading} on a line of its own, its keys below"
                ),
            );
            return Vec::new();
        };
        if list.iter().count() > most {
            self.refuse(key, format!("more than {most} are given; split the file"));
            return Vec::new();
        }
        list.iter().enumerate().filter_map(|(at, entry)| self.child(key, at, entry)).collect()
    }

    fn heading(&self, key: &str) -> String {
        if self.path.is_empty() {
            format!("[[{key}]]")
        } else {
            format!("[[{}.{key}]]", self.source.layout.section)
        }
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
        let fields = Fields {
            table,
            source: self.source,
            problems: self.problems,
            path: self.full(&name),
            line: Some(line),
        };
        Some(fields)
    }

    /// The table under `[key]`, when it stands in the file.
    pub fn section(&self, key: &str) -> Option<Fields<'a, 'i>> {
        let value = self.value(key)?;
        let DeValue::Table(table) = value.get_ref() else {
            self.refuse(key, format!("write [{key}] on a line of its own, its keys below"));
            return None;
        };
        let line = self.table.get_key_value(key).map(|(name, _)| self.source.line(name.span().start));
        Some(Fields { table, source: self.source, problems: self.problems, path: self.full(key), line })
    }

    /// The layout's version, which must be 1; a file may be allowed to leave it out.
    pub fn version(&self, key: &str, needed: bool) {
        let Some(value) = self.value(key) else {
            if needed {
                self.refuse(key, format!("this is missing; write {key} = 1 on the first line"));
            }
            return;
        };
        let read = match value.get_ref() {
            DeValue::Integer(number) => number.as_str().to_owned(),
            other => kind(other).to_owned(),
        };
        if read != "1" {
            let read = excerpt(&read);
            self.refuse(key, format!("layout {read} is not known here; this version reads {key} = 1"));
        }
    }

    /// One of several words, each with what it stands for; a missing key gives `default` where there is one.
    pub fn word<T: Copy>(&self, key: &str, words: &[(&str, T)], default: Option<T>) -> Option<T> {
        let names: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
        if !self.gives(key) {
            if default.is_none() {
                self.refuse(key, format!("this is missing; it can be {}", names.join(", ")));
            }
            return default;
        }
        let read = self.may_text(key)?;
        let found = words.iter().find(|(word, _)| *word == read).map(|(_, meant)| *meant);
        if found.is_none() {
            self.refuse_word(key, &read, &names);
        }
        found
    }

    /// Refuses a text that is none of several words, with the one that was likely meant.
    pub fn refuse_word(&self, key: &str, read: &str, words: &[&str]) {
        let near = nearest(read, words.iter().copied()).map(|near| format!(" (did you mean {near}?)"));
        let text = format!(
            "'{}' is not known here{}; it can be {}",
            excerpt(read),
            near.unwrap_or_default(),
            words.join(", ")
        );
        self.refuse(key, text);
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
