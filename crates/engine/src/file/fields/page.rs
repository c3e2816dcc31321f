//! Fields put down as the lines of an engine file, with what each line stands for.

use super::field::{Field, name_of, section_named};
use super::list::{split_names, split_points};
use crate::file::problem::Problem;
use crate::file::spec::{Kind, Need, Section, VERSION, When, spec};
use crate::file::sure::as_listed;
use crate::file::value::excerpt;
use std::collections::{BTreeMap, BTreeSet};
use userfile::nearest;

/// Longer texts are left out: no field needs a tenth of it.
const LONGEST: usize = 20_000;

/// A file that was written from fields.
#[derive(Debug, Default)]
pub(super) struct Page {
    pub(super) toml: String,
    /// For every line, counted from 1 at index 0, the section it belongs to.
    pub(super) lines: Vec<String>,
    /// What was kept out, and texts that are not of the kind their field holds.
    pub(super) problems: Vec<Problem>,
    /// Fields with a text that do not apply: they belong to another kind of valve or spring.
    pub(super) dormant: Vec<String>,
}

/// Which sections are begun.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Headings {
    /// Those that hold something.
    Needed,
    /// Every one whose keys are looked for, so that each missing field is named by its own key.
    All,
}

/// The texts that are given, in the order of the file.
struct Given<'a> {
    texts: BTreeMap<(usize, u32, usize, bool), (Field, &'a str)>,
}

impl<'a> Given<'a> {
    fn text(&self, field: &Field) -> Option<&'a str> {
        self.texts.get(&field.order()).map(|(_, text)| *text)
    }

    fn sibling(&self, field: &Field, name: &str) -> Option<&'a str> {
        self.text(&Field { key: field.section.key(name)?, source: false, ..*field })
    }

    fn places(&self, section: &Section) -> BTreeSet<Option<u32>> {
        let fields = self.texts.values().map(|(field, _)| field);
        fields.filter(|field| field.section.path == section.path).map(|field| field.place).collect()
    }

    /// It belongs to another kind of valve or spring than the one that is chosen.
    fn is_dormant(&self, field: &Field) -> bool {
        let When::Says { key, words } = field.key.when else { return false };
        let Some(Kind::Word { words: known }) = field.section.key(key).map(|key| key.holds) else {
            return false;
        };
        let Some(chosen) = self.sibling(field, key).map(str::trim) else { return false };
        let known = known.iter().any(|word| word.word.eq_ignore_ascii_case(chosen));
        known && !words.iter().any(|word| word.eq_ignore_ascii_case(chosen))
    }
}

impl Page {
    pub(super) fn of(fields: &BTreeMap<String, String>, headings: Headings) -> Self {
        let mut page = Self::default();
        let given = page.sort(fields);
        for section in spec().sections {
            let mut places = given.places(section);
            let state = section.stays_out();
            if section.path.is_empty() || (headings == Headings::All && !section.repeated && !state) {
                places.insert(None);
            }
            for place in places {
                page.section(section, place, &given);
            }
        }
        page
    }

    /// The fields that can be written; the others are named.
    fn sort<'a>(&mut self, fields: &'a BTreeMap<String, String>) -> Given<'a> {
        let mut given = Given { texts: BTreeMap::new() };
        for (name, text) in fields.iter().filter(|(_, text)| !text.trim().is_empty()) {
            let Some(field) = Field::named(name) else {
                self.refuse(&excerpt(name), unknown(name));
                continue;
            };
            if text.chars().nth(LONGEST).is_some() {
                self.refuse(name, format!("the text has more than {LONGEST} letters; shorten it"));
                continue;
            }
            given.texts.insert(field.order(), (field, text.trim()));
        }
        let dormant: Vec<_> =
            given.texts.iter().filter(|(_, (field, _))| given.is_dormant(field)).map(|(at, _)| *at).collect();
        for at in dormant {
            if let Some((field, _)) = given.texts.remove(&at) {
                self.dormant.push(field.to_string());
            }
        }
        given
    }

    fn refuse(&mut self, key: &str, message: String) {
        self.problems.push(Problem { line: None, key: key.to_owned(), message });
    }

    fn section(&mut self, section: &'static Section, place: Option<u32>, given: &Given<'_>) {
        let name = name_of(section, place);
        if !section.path.is_empty() {
            self.line(&name, "");
            self.line(&name, &section.heading());
        }
        for key in section.keys {
            let field = Field { section, place, key, source: false };
            let from = given.text(&Field { source: true, ..field });
            if let Some(value) = self.value(&field, given.text(&field), from, given) {
                self.line(&name, &format!("{} = {value}", key.name));
            }
        }
    }

    fn line(&mut self, section: &str, line: &str) {
        self.toml.push_str(line);
        self.toml.push('\n');
        self.lines.push(section.to_owned());
    }

    /// The value as it is written in the file; `None` when nothing is to be written.
    fn value(
        &mut self,
        field: &Field,
        text: Option<&str>,
        from: Option<&str>,
        given: &Given<'_>,
    ) -> Option<String> {
        if field.key.name == "portwright" && text.is_none() {
            return Some(VERSION.to_string());
        }
        let Some(text) = text else {
            return from.map(|from| format!("{{ from = {} }}", quoted(from)));
        };
        if field.key.name == "sure" && field.section.path.is_empty() {
            return Some(list(&split_names(text).iter().map(|name| listed(name, given)).collect::<Vec<_>>()));
        }
        let (value, problem) = value_of(field, text);
        if let Some(message) = problem {
            self.refuse(&field.to_string(), message);
        }
        Some(match from {
            Some(from) if !is_not_known(field, text) => {
                format!("{{ value = {value}, from = {} }}", quoted(from))
            }
            _ => value,
        })
    }
}

/// The value of a field's text in the file, and what is wrong with its form.
pub(super) fn value_of(field: &Field, text: &str) -> (String, Option<String>) {
    let text = text.trim();
    if is_not_known(field, text) {
        return (quoted("not known"), None);
    }
    match field.key.holds {
        Kind::Count { least, most } => match text.parse::<u32>() {
            Ok(number) => (number.to_string(), None),
            Err(_) => {
                let range = if least == most {
                    format!("write {least}")
                } else {
                    format!("write one from {least} to {most}")
                };
                (
                    quoted(text),
                    Some(format!("'{}' is not a whole number; {range}, without unit", excerpt(text))),
                )
            }
        },
        Kind::Flag => match flag(text) {
            Some(flag) => (flag.to_string(), None),
            None => (quoted(text), Some(format!("'{}' is neither yes nor no; choose one", excerpt(text)))),
        },
        Kind::Names => (list(&split_names(text)), None),
        Kind::Points => match split_points(text) {
            Ok(points) => (points_value(&points), None),
            Err(message) => (quoted(text), Some(message)),
        },
        Kind::Figure(_) | Kind::Limit(_) | Kind::Text { .. } | Kind::Word { .. } => (quoted(text), None),
    }
}

fn flag(text: &str) -> Option<bool> {
    match text.to_lowercase().as_str() {
        "true" | "yes" => Some(true),
        "false" | "no" => Some(false),
        _ => None,
    }
}

fn points_value(points: &[(String, String)]) -> String {
    let points: Vec<String> = points
        .iter()
        .map(|(travel, lift)| format!("{{ travel = {}, lift = {} }}", quoted(travel), quoted(lift)))
        .collect();
    format!("[{}]", points.join(", "))
}

/// True for "not known" where that is a way to leave a field out (not in free text).
pub(super) fn is_not_known(field: &Field, text: &str) -> bool {
    let free_text = field.source
        || (matches!(field.key.holds, Kind::Text { .. }) && !matches!(field.key.need, Need::OneOf { .. }));
    !free_text && text.trim().eq_ignore_ascii_case("not known")
}

/// A key under `sure` as the file has it: ports by name.
fn listed(key: &str, given: &Given<'_>) -> String {
    let Some(field) = Field::named(key) else { return key.to_owned() };
    let Some(place) = field.place else { return key.to_owned() };
    match given.sibling(&field, "name") {
        Some(name) => as_listed(&format!("{} \"{}\".{}", field.section.path, excerpt(name), field.key.name)),
        None => {
            let at = given.places(field.section).iter().position(|other| *other == Some(place));
            at.map_or_else(
                || key.to_owned(),
                |at| format!("{} {}.{}", field.section.path, at + 1, field.key.name),
            )
        }
    }
}

fn list(names: &[String]) -> String {
    format!("[{}]", names.iter().map(|name| quoted(name)).collect::<Vec<_>>().join(", "))
}

/// A text in quotes on one line, whatever it holds.
fn quoted(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 2);
    out.push('"');
    for sign in text.chars() {
        match sign {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            '\r' => out.push_str("\\r"),
            '\t' => out.push_str("\\t"),
            sign if sign.is_control() => out.push_str(&format!("\\u{:04X}", u32::from(sign))),
            sign => out.push(sign),
        }
    }
    out.push('"');
    out
}

fn unknown(name: &str) -> String {
    let (section, last) = name.rsplit_once('.').unwrap_or(("", name));
    let keys = section_named(section)
        .and_then(|(section, _)| nearest(last, section.keys.iter().map(|key| key.name)));
    let dot = if section.is_empty() { "" } else { "." };
    let hint = keys.map_or(String::new(), |near| format!("; did you mean {}{dot}{near}?", excerpt(section)));
    format!("no field has this name, so it is kept but not used{hint}")
}
