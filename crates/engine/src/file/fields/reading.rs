//! All fields read together: the engine, or what is wrong with which field.

use super::field::{Field, order_of, section_named};
use super::list::{join_names, split_names};
use super::page::{Headings, Page};
use crate::file::complete::missing_group;
use crate::file::problem::Problem;
use crate::file::spec::{Need, Section, spec};
use crate::file::{Reading, read};
use std::collections::BTreeMap;

/// What all fields say together.
#[derive(Debug, Clone, PartialEq)]
pub struct FieldsReading {
    /// The engine with its questions (their keys are fields); `None` while anything is missing or wrong. Unknown
    /// fields do not hinder it.
    pub reading: Option<Reading>,
    /// What is missing or wrong, in the order of the file. The key is that of the field, or of the section
    /// (`port`) when no field stands for it; lines are `None`.
    pub problems: Vec<Problem>,
    /// Fields with a text that is kept but not used: they belong to another kind of valve or spring.
    pub dormant: Vec<String>,
}

/// Reads all fields together. Every map is answered; one wrong text hides nothing about the others.
pub fn read_fields(fields: &BTreeMap<String, String>) -> FieldsReading {
    let page = Page::of(fields, Headings::All);
    let (reading, found) = match read(page.toml.as_bytes()) {
        Ok(reading) => (Some(reading), Vec::new()),
        Err(problems) => (None, problems),
    };
    let own = page.problems.clone();
    let mut problems: Vec<Problem> = own.clone();
    for problem in found {
        let key = page.field_of(problem.line, &problem.key, Some(&problem.message));
        if !own.iter().any(|other| other.key == key) {
            let message = reworded(fields, &key, in_point(&problem.key, problem.message));
            problems.push(Problem { line: None, key, message });
        }
    }
    problems.sort_by_key(|problem| order(&problem.key));
    let used = |problem: &Problem| Field::named(&problem.key).is_some();
    let reading = reading.filter(|_| !problems.iter().any(used)).map(|reading| page.renamed(reading));
    FieldsReading { reading, problems, dormant: page.dormant }
}

impl Page {
    /// Field or section of a key of the file, known by its line.
    fn field_of(&self, line: Option<usize>, key: &str, message: Option<&str>) -> String {
        let at = line.and_then(|line| self.lines.get(line.checked_sub(1)?));
        let Some(section) = at else { return key.to_owned() };
        // A bracket in a port's name is part of the name; elsewhere it counts the points of a valve.
        let whole = if is_repeated(key, ' ') { key } else { key.split('[').next().unwrap_or(key) };
        let whole = if section.starts_with("limits") { whole.trim_end_matches(".value") } else { whole };
        let direct = Field::named(whole).map(|field| field.to_string());
        direct.filter(|name| !is_repeated(name, '.')).unwrap_or_else(|| {
            let last = whole.rsplit('.').next().unwrap_or(whole);
            let Some((spec, place)) = section_named(section) else { return section.clone() };
            let name = spec.key(last).map(|key| key.name).or_else(|| missing_first(spec, message?));
            match name.and_then(|name| spec.key(name)) {
                Some(key) => Field { section: spec, place, key, source: false }.to_string(),
                None => section.clone(),
            }
        })
    }

    /// A reading whose questions name fields.
    fn renamed(&self, mut reading: Reading) -> Reading {
        for question in &mut reading.questions {
            question.key = self.field_of(question.line, &question.key, None);
            question.line = None;
            question.confirm = "Mend it, or say that it was checked and is right.".to_owned();
        }
        reading
    }
}

/// The key belongs to one of several like sections: `port "exhaust".width`, `port.2.width`.
fn is_repeated(key: &str, after: char) -> bool {
    let repeated = spec().sections.iter().filter(|section| section.repeated);
    repeated
        .into_iter()
        .any(|section| key.strip_prefix(section.path).is_some_and(|rest| rest.starts_with(after)))
}

/// A message about one point of a valve says which.
pub(super) fn in_point(key: &str, message: String) -> String {
    match key.split_once('[').and_then(|(_, part)| part.split_once(']')) {
        Some((point, part)) => format!("point {point}{}: {message}", part.replace('.', ", ")),
        None => message,
    }
}

/// The first key of the group that this message says is missing.
fn missing_first(section: &'static Section, message: &str) -> Option<&'static str> {
    let group = section.groups.iter().find(|group| missing_group(section, group) == message)?;
    section.keys.iter().find(|key| key.need == Need::OneOf { group: group.name }).map(|key| key.name)
}

/// What is said of a field that is not given speaks of the field, not of lines in a file.
fn reworded(fields: &BTreeMap<String, String>, name: &str, message: String) -> String {
    let Some(field) = Field::named(name) else { return message };
    if fields.get(name).is_some_and(|text| !text.trim().is_empty()) {
        return message;
    }
    let example = field.key.example.trim_matches('"');
    let from = if field.key.from.is_empty() {
        String::new()
    } else {
        format!("measured from: {}; ", field.key.from)
    };
    match field.key.need {
        Need::Required => format!("not given yet; {from}for example {example}"),
        Need::OneOf { group } => {
            let group = field.section.groups.iter().find(|other| other.name == group);
            match group.filter(|group| missing_group(field.section, group) == message) {
                Some(group) => format!("{} is not given yet; enter it in one of its ways", group.what),
                None => message,
            }
        }
        _ => message,
    }
}

fn order(key: &str) -> (usize, u32, usize, bool) {
    match Field::named(key) {
        Some(field) => field.order(),
        None => match section_named(key) {
            Some((section, place)) => (order_of(section), place.unwrap_or(0), 0, false),
            None if key == "port" => {
                (section_named("port.1").map_or(0, |(port, _)| order_of(port)), 0, 0, false)
            }
            None => (usize::MAX, 0, 0, false),
        },
    }
}

/// The text of the field `sure` with one more field whose odd figure was checked and is right.
pub fn confirmed(fields: &BTreeMap<String, String>, key: &str) -> String {
    let mut keys = split_names(fields.get("sure").map_or("", String::as_str));
    if !keys.iter().any(|other| other == key) {
        keys.push(key.to_owned());
    }
    join_names(&keys)
}
