//! An engine file to fields, nothing of what was written lost.

use super::field::Field;
use super::list::join_names;
use crate::file::gather::unknown;
use crate::file::problem::{Problem, Problems};
use crate::file::source::Source;
use crate::file::spec::{Key, Kind, Section, spec};
use crate::file::value::excerpt;
use crate::file::version;
use std::collections::BTreeMap;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Takes an engine file apart into its fields. Figures that cannot be read are kept as they stand.
///
/// # Errors
/// What cannot be kept as a field: text that is no TOML, a newer layout, unknown keys, sections in the wrong form.
pub fn fields_of(text: &str) -> Result<BTreeMap<String, String>, Vec<Problem>> {
    let mut problems = Problems::default();
    let fields = try_take(text, &mut problems);
    match fields {
        Some(fields) if problems.0.is_empty() => Ok(fields),
        _ => {
            problems.0.sort_by_key(|problem| problem.line.unwrap_or(usize::MAX));
            Err(problems.0)
        }
    }
}

fn try_take(text: &str, problems: &mut Problems) -> Option<BTreeMap<String, String>> {
    let source = Source::of(text.as_bytes(), problems)?;
    let root = source.table(problems)?;
    version::check(&root, &source, problems)?;
    let mut taking = Taking { source: &source, problems, fields: BTreeMap::new() };
    taking.table(spec().section("")?, None, root.get_ref());
    let mut fields = taking.fields;
    if let Some(sure) = root.get_ref().get("sure").and_then(|value| value.get_ref().as_array()) {
        let keys: Vec<&str> = sure.iter().filter_map(|item| item.get_ref().as_str()).collect();
        if keys.len() == sure.iter().count() {
            fields.insert("sure".to_owned(), join_names(&by_number(&fields, &keys)));
        }
    }
    Some(fields)
}

/// Keys under `sure` with ports by their numbers.
fn by_number(fields: &BTreeMap<String, String>, keys: &[&str]) -> Vec<String> {
    let mut names: Vec<(String, String)> = Vec::new();
    for (field, text) in fields {
        let Some(numbered) = field.strip_suffix(".name") else { continue };
        if let Some((path, _)) = numbered.rsplit_once('.') {
            let name = text.trim().replace('"', "").to_lowercase();
            names.push((format!("{path}.{name}."), format!("{numbered}.")));
        }
    }
    // The longest name first, so that "a" does not stand for "a.b".
    names.sort_by_key(|(name, _)| std::cmp::Reverse(name.len()));
    let one = |key: &&str| {
        let plain = crate::file::sure::as_listed(key.trim());
        let lower = plain.to_lowercase();
        let port = names.iter().find(|(name, _)| lower.starts_with(name.as_str()));
        match port {
            Some((name, number)) => format!("{number}{}", lower.get(name.len()..).unwrap_or("")),
            None => (*key).to_owned(),
        }
    };
    keys.iter().map(one).collect()
}

struct Taking<'s, 'i, 'p> {
    source: &'s Source<'i>,
    problems: &'p mut Problems,
    fields: BTreeMap<String, String>,
}

impl<'s, 'i> Taking<'s, 'i, '_> {
    fn table(&mut self, section: &'static Section, place: Option<u32>, table: &'s DeTable<'i>) {
        for (name, value) in table {
            let line = self.source.line(name.span().start);
            let name = name.get_ref().as_ref();
            let child =
                if section.path.is_empty() { name.to_owned() } else { format!("{}.{name}", section.path) };
            if let Some(key) = section.key(name) {
                self.key(&Field { section, place, key, source: false }, value);
            } else if let Some(child) = spec().section(&child) {
                self.section(child, line, value);
            } else {
                let dot = if section.path.is_empty() { "" } else { "." };
                let path = format!("{}{dot}{}", section.path, excerpt(name));
                self.problems.add(Some(line), path, unknown(section, name));
            }
        }
    }

    fn section(&mut self, section: &'static Section, line: usize, value: &'s Spanned<DeValue<'i>>) {
        match value.get_ref() {
            DeValue::Table(table) if !section.repeated => self.table(section, None, table),
            DeValue::Array(array) if section.repeated => {
                for (at, item) in array.iter().enumerate() {
                    let place = u32::try_from(at + 1).unwrap_or(u32::MAX);
                    match item.get_ref() {
                        DeValue::Table(table) => self.table(section, Some(place), table),
                        _ => self.refuse_form(section, self.source.line(item.span().start)),
                    }
                }
            }
            _ => self.refuse_form(section, line),
        }
    }

    fn refuse_form(&mut self, section: &Section, line: usize) {
        let message = format!(
            "this is a section: write it as {} on a line of its own, its keys below",
            section.heading()
        );
        self.problems.add(Some(line), section.path, message);
    }

    fn key(&mut self, field: &Field, value: &'s Spanned<DeValue<'i>>) {
        if let (Kind::Limit(_), DeValue::Table(table)) = (field.key.holds, value.get_ref()) {
            self.limit(field, table);
            return;
        }
        let text = list_text(self, field.key, value).unwrap_or_else(|| self.text(value));
        self.fields.insert(field.to_string(), text);
    }

    /// The text of a value, or the value itself as it stands in the file.
    fn text(&self, value: &Spanned<DeValue<'i>>) -> String {
        match value.get_ref() {
            DeValue::String(text) => text.to_string(),
            _ => self.source.text.get(value.span()).unwrap_or("").to_owned(),
        }
    }

    fn limit(&mut self, field: &Field, table: &'s DeTable<'i>) {
        for (name, value) in table {
            let source = match name.get_ref().as_ref() {
                "value" => false,
                "from" => true,
                other => {
                    let line = self.source.line(name.span().start);
                    let path = format!("{field}.{}", excerpt(other));
                    self.problems.add(Some(line), path, "unknown key; here only value and from can stand");
                    continue;
                }
            };
            let text = self.text(value);
            self.fields.insert(Field { source, ..*field }.to_string(), text);
        }
    }
}

/// A list in the form of its field; `None` when it is no such list.
fn list_text<'i>(taking: &Taking<'_, 'i, '_>, key: &Key, value: &Spanned<DeValue<'i>>) -> Option<String> {
    let items = value.get_ref().as_array()?;
    match key.holds {
        Kind::Names => {
            let names: Option<Vec<&str>> = items.iter().map(|item| item.get_ref().as_str()).collect();
            Some(join_names(&names?))
        }
        Kind::Points => {
            let lines: Option<Vec<String>> = items.iter().map(|item| point_text(taking, item)).collect();
            Some(lines?.join("\n"))
        }
        _ => None,
    }
}

/// `40° = 3.1 mm`; `None` when it holds anything else than travel and lift on one line each.
fn point_text<'i>(taking: &Taking<'_, 'i, '_>, item: &Spanned<DeValue<'i>>) -> Option<String> {
    let DeValue::Table(table) = item.get_ref() else { return None };
    let (travel, lift) = (taking.text(table.get("travel")?), taking.text(table.get("lift")?));
    let plain = |text: &str| !text.contains(['\n', ';']);
    let whole = table.keys().count() == 2 && plain(&travel) && plain(&lift);
    whole.then(|| format!("{} = {}", travel.trim(), lift.trim()))
}
