//! One field read alone, for the answer that is given as it is left.

use super::field::Field;
use super::page::{is_not_known, value_of};
use super::reading::in_point;
use crate::file::problem::Problems;
use crate::file::source::Source;
use crate::file::spec::{Figure, Kind, Need};
use crate::file::table::Value;
use crate::file::thread;
use crate::file::value::Cell;
use quantity::{Dimension, Measured, Units};
use serde::Serialize;

/// How far a field is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum FieldState {
    /// Nothing is entered.
    Empty,
    /// The user says that it is not known.
    NotKnown,
    /// It can be read.
    Read,
    /// It cannot be read, or lies outside what is accepted.
    Wrong,
}

/// What one field says by itself.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FieldCheck {
    /// How far it is.
    pub state: FieldState,
    /// What is wrong and how to mend it.
    pub problem: Option<String>,
    /// How it was understood, or what stands in for it when it is not given.
    pub shown: Option<String>,
    /// It can be right but is outside the usual range.
    pub odd: Option<String>,
}

impl FieldCheck {
    fn of(state: FieldState) -> Self {
        Self { state, problem: None, shown: None, odd: None }
    }
}

/// Reads the text of one field alone: units, form and range, not how it fits the other fields. Every text is
/// answered. `units` are those in which it is said back.
pub fn read_field(name: &str, text: &str, units: Units) -> FieldCheck {
    let Some(field) = Field::named(name) else {
        let problem = Some("no field has this name, so it is kept but not used".to_owned());
        return FieldCheck { problem, ..FieldCheck::of(FieldState::Wrong) };
    };
    if text.trim().is_empty() {
        return FieldCheck { shown: stand_in(&field), ..FieldCheck::of(FieldState::Empty) };
    }
    if is_not_known(&field, text) {
        return not_known(&field);
    }
    if field.source {
        return match text.trim().chars().nth(300) {
            Some(_) => wrong("at most 300 letters have room; shorten it".to_owned()),
            None => FieldCheck::of(FieldState::Read),
        };
    }
    match value(&field, text) {
        Ok(value) => understood(&field, &value, units),
        Err(problem) => wrong(problem),
    }
}

fn wrong(problem: String) -> FieldCheck {
    FieldCheck { problem: Some(problem), ..FieldCheck::of(FieldState::Wrong) }
}

fn not_known(field: &Field) -> FieldCheck {
    if field.key.need == Need::Required {
        let from = if field.key.from.is_empty() {
            String::new()
        } else {
            format!(" (measured from: {})", field.key.from)
        };
        let example = field.key.example.trim_matches('"');
        let problem = format!(
            "this must be known before the valve can be set; measure it{from} and write for example {example}"
        );
        return FieldCheck { problem: Some(problem), ..FieldCheck::of(FieldState::NotKnown) };
    }
    FieldCheck { shown: stand_in(field), ..FieldCheck::of(FieldState::NotKnown) }
}

/// What stands in for a field that is not given.
fn stand_in(field: &Field) -> Option<String> {
    if field.source {
        return None;
    }
    let need = match field.key.need {
        Need::OneOf { group } => field.section.groups.iter().find(|other| other.name == group)?.need,
        need => need,
    };
    match need {
        Need::Default { value, why, .. } => Some(format!("taken as {value}: {why}")),
        Need::Worked { rule, .. } => Some(format!("taken as {rule}")),
        Need::Means { value: "false" } => Some("taken as no".to_owned()),
        Need::Means { value } => Some(format!("taken as {value}")),
        Need::Required | Need::OneOf { .. } | Need::Optional { .. } => None,
    }
}

/// The value, read as in a file of this one line.
fn value(field: &Field, text: &str) -> Result<Value, String> {
    let (written, problem) = value_of(field, text);
    if let Some(problem) = problem {
        return Err(problem);
    }
    let line = format!("{} = {written}\n", field.key.name);
    let mut problems = Problems::default();
    let value = Source::of(line.as_bytes(), &mut problems).and_then(|source| {
        let table = source.table(&mut problems)?;
        let value = table.get_ref().get(field.key.name)?;
        let cell = Cell { source: &source, path: field.to_string(), value };
        Some(cell.read(field.key, &mut problems).value)
    });
    match (value, problems.0.into_iter().next()) {
        (_, Some(problem)) => Err(in_point(&problem.key, problem.message)),
        (Some(value), None) => Ok(value),
        (None, None) => Err("this cannot be read; type it again".to_owned()),
    }
}

fn understood(field: &Field, value: &Value, units: Units) -> FieldCheck {
    let mut check = FieldCheck::of(FieldState::Read);
    match value {
        Value::Figure(figure) => {
            check.shown = Some(figure_words(figure, units));
            check.odd = odd(&field.key.holds, figure);
        }
        Value::Limit { value, .. } => check.shown = Some(quantity::show(value, units)),
        Value::Text(text) if field.key.name == "thread" => match thread::read(text) {
            Ok(thread) => {
                let pitch = quantity::show_value(thread.pitch_m, Dimension::Length, units);
                let coarse = if thread.coarse_assumed { ", the coarse one" } else { "" };
                check.shown = Some(format!("pitch {pitch}{coarse}"));
            }
            Err(problem) => return wrong(problem),
        },
        Value::Word(word) => check.shown = meaning(field, word),
        Value::Names(names) => check.shown = Some(names.join(", ")),
        Value::Points(points) => {
            let last = points.last().map(|(travel, lift)| {
                format!(", up to {} and {}", quantity::show(travel, units), quantity::show(lift, units))
            });
            check.shown = Some(format!("{} points{}", points.len(), last.unwrap_or_default()));
        }
        Value::Text(_) | Value::Count(_) | Value::Flag(_) | Value::NotKnown | Value::Bad => {}
    }
    check
}

fn figure_words(figure: &Measured, units: Units) -> String {
    let shown = quantity::show(figure, units);
    if figure.u == 0.0 { format!("{shown}, exact") } else { format!("{shown}, for about 95 %") }
}

fn odd(holds: &Kind, figure: &Measured) -> Option<String> {
    let Kind::Figure(Figure { usual: Some(usual), .. }) = holds else { return None };
    let text = || format!("outside the usual range {usual}; check the figure, its sign and its unit");
    (!usual.contains(figure.value)).then(text)
}

fn meaning(field: &Field, word: &str) -> Option<String> {
    let Kind::Word { words } = field.key.holds else { return None };
    words.iter().find(|other| other.word == word).map(|word| word.meaning.to_owned())
}
