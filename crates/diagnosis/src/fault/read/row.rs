//! One row of a file of tables: its values by key, and what is wrong with them.

use crate::check::{Actuator, Problem};
use std::cell::RefCell;
use toml::Spanned;
use toml::de::{DeTable, DeValue};
use userfile::{excerpt, nearest};

/// Everything that is wrong so far.
pub(super) struct Problems<'t> {
    text: &'t str,
    found: RefCell<Vec<Problem>>,
}

impl<'t> Problems<'t> {
    pub(super) fn of(text: &'t str) -> Self {
        Self { text, found: RefCell::default() }
    }

    /// `at` is a byte of the file.
    pub(super) fn add(&self, at: Option<usize>, key: &str, message: impl Into<String>) {
        let line = at.map(|at| 1 + self.text.bytes().take(at).filter(|&byte| byte == b'\n').count());
        self.found.borrow_mut().push(Problem { line, key: key.to_owned(), message: message.into() });
    }

    pub(super) fn into_sorted(self) -> Vec<Problem> {
        let mut found = self.found.into_inner();
        found.sort_by_key(|problem| problem.line.unwrap_or(usize::MAX));
        found
    }
}

/// A table of the file, with the name it has in messages.
pub(super) struct Row<'r, 't> {
    pub(super) name: String,
    pub(super) at: usize,
    table: &'r DeTable<'t>,
    problems: &'r Problems<'t>,
}

type Value<'t> = Spanned<DeValue<'t>>;

impl<'r, 't> Row<'r, 't> {
    pub(super) fn new(name: String, at: usize, table: &'r DeTable<'t>, problems: &'r Problems<'t>) -> Self {
        Self { name, at, table, problems }
    }

    /// Adds a problem for a key of this row.
    pub(super) fn wrong(&self, key: &str, message: impl Into<String>) {
        let at = self.table.get(key).map_or(self.at, |value| value.span().start);
        self.problems.add(Some(at), &format!("{}.{key}", self.name), message);
    }

    /// Refuses keys that are not among `known`, with the nearest one that is.
    pub(super) fn refuse_unknown(&self, known: &[&str]) {
        for key in self.table.keys() {
            let name = key.get_ref().as_ref();
            if !known.contains(&name) {
                let at = Some(key.span().start);
                let hint = unknown(name, "key", known.iter().copied());
                self.problems.add(at, &format!("{}.{name}", self.name), hint);
            }
        }
    }

    pub(super) fn has(&self, key: &str) -> bool {
        self.table.contains_key(key)
    }

    pub(super) fn keys(&self) -> Vec<String> {
        self.table.keys().map(|key| key.get_ref().as_ref().to_owned()).collect()
    }

    fn value(&self, key: &str) -> Option<&'r Value<'t>> {
        self.table.get(key)
    }

    /// Text that must be there and not be empty; a problem is added otherwise.
    pub(super) fn text(&self, key: &str, example: &str) -> Option<String> {
        match self.value(key).map(Spanned::get_ref) {
            Some(DeValue::String(text)) if !text.trim().is_empty() => Some(text.trim().to_owned()),
            Some(_) => {
                self.wrong(key, format!("this must be text in quotes, such as {key} = \"{example}\""));
                None
            }
            None => {
                self.wrong(key, format!("it is missing; write it as {key} = \"{example}\""));
                None
            }
        }
    }

    pub(super) fn flag(&self, key: &str) -> bool {
        match self.value(key).map(Spanned::get_ref) {
            None => false,
            Some(DeValue::Boolean(value)) => *value,
            Some(_) => {
                self.wrong(key, "this must be true or false, without quotes");
                false
            }
        }
    }

    /// A number from `from` to `to` that must be there.
    pub(super) fn number(&self, key: &str, from: f64, to: f64) -> Option<f64> {
        let Some(value) = self.value(key) else {
            self.wrong(key, format!("it is missing; write a number {}", range(from, to)));
            return None;
        };
        self.number_of(key, value, from, to)
    }

    fn number_of(&self, key: &str, value: &Value<'t>, from: f64, to: f64) -> Option<f64> {
        let read: Option<f64> = match value.get_ref() {
            DeValue::Integer(number) => number.as_str().replace('_', "").parse().ok(),
            DeValue::Float(number) => number.as_str().replace('_', "").parse().ok(),
            _ => None,
        };
        let written = self.problems.text.get(value.span()).unwrap_or("");
        match read.filter(|number| (from..=to).contains(number)) {
            Some(number) => Some(number),
            None => {
                let at = Some(value.span().start);
                let message = format!("it is {}; write a number {}", excerpt(written), range(from, to));
                self.problems.add(at, &format!("{}.{key}", self.name), message);
                None
            }
        }
    }

    /// A list of texts; `None` when it is missing or wrong.
    pub(super) fn texts(&self, key: &str) -> Option<Vec<String>> {
        let value = self.value(key)?;
        let DeValue::Array(list) = value.get_ref() else {
            self.wrong(key, "this must be a list of texts in square brackets");
            return None;
        };
        let texts = list.iter().map(|entry| match entry.get_ref() {
            DeValue::String(text) => Some(text.trim().to_owned()),
            _ => None,
        });
        let texts: Option<Vec<String>> = texts.collect();
        if texts.is_none() {
            self.wrong(key, "every entry of this list must be text in quotes");
        }
        texts
    }

    /// A distribution: `count` numbers from 0 to 1 with the sum 1.
    pub(super) fn distribution(&self, key: &str, count: usize) -> Option<Vec<f64>> {
        let Some(value) = self.value(key) else {
            self.wrong(key, format!("it is missing; write {count} numbers in square brackets, together 1"));
            return None;
        };
        let DeValue::Array(list) = value.get_ref() else {
            self.wrong(key, format!("this must be {count} numbers in square brackets, together 1"));
            return None;
        };
        if list.len() != count {
            let message =
                format!("there are {} numbers; there must be {count}, one for each outcome", list.len());
            self.wrong(key, message);
            return None;
        }
        let figures: Vec<f64> =
            list.iter().filter_map(|entry| self.number_of(key, entry, 0.0, 1.0)).collect();
        let sum: f64 = figures.iter().sum();
        if figures.len() == count && (sum - 1.0).abs() > 1e-6 {
            self.wrong(key, format!("the numbers sum to {}; they must sum to 1", shown(sum)));
            return None;
        }
        (figures.len() == count).then(|| figures.iter().map(|figure| figure / sum).collect())
    }

    /// A table inside this row; no problem when it is missing.
    pub(super) fn inner(&self, key: &str) -> Option<Row<'r, 't>> {
        let value = self.value(key)?;
        let DeValue::Table(table) = value.get_ref() else {
            self.wrong(key, "this must be a table: keys and numbers in curly brackets");
            return None;
        };
        Some(Row::new(format!("{}.{key}", self.name), value.span().start, table, self.problems))
    }

    /// Kinds of actuator under `actuators`; all when it is missing.
    pub(super) fn kinds(&self) -> Vec<Actuator> {
        let Some(names) = self.texts("actuators") else { return Actuator::ALL.to_vec() };
        names.iter().filter_map(|name| self.kind("actuators", name)).collect()
    }

    fn kind(&self, key: &str, name: &str) -> Option<Actuator> {
        let kind = Actuator::of_key(name);
        if kind.is_none() {
            self.wrong(key, unknown(name, "kind of actuator", Actuator::ALL.map(Actuator::key)));
        }
        kind
    }

    /// One number for all kinds, or a table with one for each kind named.
    pub(super) fn by_kind(&self, key: &str, from: f64, to: f64) -> super::ByKind {
        if let Some(DeValue::Table(_)) = self.value(key).map(Spanned::get_ref) {
            let Some(inner) = self.inner(key) else { return super::ByKind::new() };
            let one = |name: &String| {
                let kind = inner.kind(name, name)?;
                Some((kind, inner.number(name, from, to)?))
            };
            return inner.keys().iter().filter_map(one).collect();
        }
        let number = self.number(key, from, to);
        number.map(|number| Actuator::ALL.map(|kind| (kind, number)).into()).unwrap_or_default()
    }
}

/// "'x' is no key here; did you mean 'y'?" with all that are known when none is near.
pub(super) fn unknown<'a>(name: &str, what: &str, known: impl IntoIterator<Item = &'a str>) -> String {
    let known: Vec<&str> = known.into_iter().collect();
    let name = excerpt(name);
    match nearest(&name, known.iter().copied()) {
        Some(other) => format!("'{name}' is no {what} that is known; did you mean '{other}'?"),
        None => format!("'{name}' is no {what} that is known; known are: {}", known.join(", ")),
    }
}

fn range(from: f64, to: f64) -> String {
    if to.is_finite() {
        format!("from {} to {}", shown(from), shown(to))
    } else {
        format!("of at least {from}")
    }
}

fn shown(figure: f64) -> String {
    let text = format!("{figure:.6}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
