//! One step's form.

use super::field::{FormField, unknown_of};
use super::illustration::Illustration;
use super::label::upper;
use super::path::{StepState, state_of};
use super::standing::Standing;
use super::step::Step;
use engine::file::fields::{Field, sections_of};
use engine::file::spec::{Key, Kind, Need, Section, spec};
use quantity::Units;
use serde::Serialize;
use std::collections::BTreeMap;

/// One step as a form.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FormPage {
    /// Which step.
    pub step: Step,
    /// Its title.
    pub title: String,
    /// What is done in it.
    pub text: String,
    /// How far it is.
    pub state: StepState,
    /// Its groups of fields; empty for a step without a form.
    pub groups: Vec<FormGroup>,
    /// What is wrong with the step as a whole: a port is missing.
    pub problems: Vec<String>,
    /// More groups of the same kind can be added.
    pub repeats: bool,
}

/// Fields that belong together.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FormGroup {
    /// Name of the section: `crank`, `port.2`.
    pub key: String,
    /// Its title.
    pub title: String,
    /// What it describes.
    pub text: String,
    /// Number of the port.
    pub place: Option<u32>,
    /// What is asked, in the order in which it is best measured.
    pub items: Vec<FormItem>,
    /// The first drawing of the group.
    pub illustration: Option<Illustration>,
}

/// One question of a form.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum FormItem {
    /// One field.
    Field(Box<FormField>),
    /// One of several ways to give the same.
    OneOf(OneOf),
}

/// One thing that can be measured in several ways; exactly one is given.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OneOf {
    /// Name of the choice: `roof`.
    pub name: String,
    /// What it is, e.g. "Roof".
    pub label: String,
    /// The ways, each with its own field.
    pub ways: Vec<FormField>,
    /// The way that is to be shown: the first that has a text, else the first.
    pub shown: usize,
    /// The valve cannot be set without it.
    pub required: bool,
    /// What stands in when it is not known; `None` when it must be known.
    pub unknown: Option<String>,
}

/// The form of one step, with everything that is known about each field now.
pub fn page(step: Step, fields: &BTreeMap<String, String>, units: Units) -> FormPage {
    let standing = Standing::of(fields);
    let mut groups = Vec::new();
    for section in step.sections().iter().filter_map(|path| spec().section(path)) {
        if section.repeated {
            groups.extend(
                numbers(fields, section)
                    .into_iter()
                    .map(|place| group(section, Some(place), &standing, units)),
            );
        } else {
            groups.push(group(section, None, &standing, units));
        }
    }
    let whole = |key: &str| step.sections().contains(&key);
    FormPage {
        step,
        title: step.title().to_owned(),
        text: step.text().to_owned(),
        state: state_of(step, &standing),
        groups,
        problems: standing
            .read
            .problems
            .iter()
            .filter(|problem| whole(&problem.key))
            .map(|problem| said_of_ports(&problem.message))
            .collect(),
        repeats: step == Step::Ports,
    }
}

/// Numbers of the groups of a repeated section. Pieces of a pipe have an empty one behind them, in which the next is
/// entered; ports have their own buttons.
fn numbers(fields: &BTreeMap<String, String>, section: &Section) -> Vec<u32> {
    let mut numbers = sections_of(fields, section.path);
    if section.path == "pipe" {
        numbers.push(numbers.last().copied().unwrap_or(0).saturating_add(1));
    }
    numbers
}

/// What is wrong with a section as a whole, without the words of the file.
pub(super) fn said_of_ports(message: &str) -> String {
    if message.starts_with("the section [[port]] is missing") {
        "no port is described yet; begin with the exhaust port whose roof the valve moves".to_owned()
    } else {
        message.to_owned()
    }
}

fn group(section: &'static Section, place: Option<u32>, standing: &Standing<'_>, units: Units) -> FormGroup {
    let mut items: Vec<FormItem> = Vec::new();
    let mut done: Vec<&str> = Vec::new();
    for key in section.keys {
        let field = |key: &'static Key, source: bool| {
            FormField::of(&Field { section, place, key, source }, standing, units)
        };
        if let Need::OneOf { group } = key.need {
            if !done.contains(&group) {
                done.push(group);
                items.extend(one_of(section, group, &|key| field(key, false)));
            }
            continue;
        }
        items.push(FormItem::Field(Box::new(field(key, false))));
        if matches!(key.holds, Kind::Limit(_)) {
            items.push(FormItem::Field(Box::new(field(key, true))));
        }
    }
    let key = Field { section, place, key: &section.keys[0], source: false }.section_name();
    let illustration = items.iter().find_map(|item| match item {
        FormItem::Field(field) => field.illustration.filter(|_| field.applies),
        FormItem::OneOf(one) => one.ways.get(one.shown).and_then(|field| field.illustration),
    });
    FormGroup { title: title(section, place, standing), text: text(section), key, place, items, illustration }
}

fn one_of(
    section: &'static Section,
    name: &str,
    field: &dyn Fn(&'static Key) -> FormField,
) -> Option<FormItem> {
    let group = section.groups.iter().find(|group| group.name == name)?;
    let keys = section.keys.iter().filter(|key| key.need == Need::OneOf { group: group.name });
    let ways: Vec<FormField> = keys.map(field).collect();
    let given = |field: &FormField| !field.text.trim().is_empty();
    Some(FormItem::OneOf(OneOf {
        name: name.to_owned(),
        label: upper(group.what.trim_start_matches("the ")),
        shown: ways.iter().position(given).unwrap_or(0),
        required: group.need == Need::Required,
        unknown: unknown_of(group.need),
        ways,
    }))
}

fn title(section: &Section, place: Option<u32>, standing: &Standing<'_>) -> String {
    let words = match section.path {
        "engine" => "Engine",
        "crank" => "Crank train",
        "head" => "Combustion chamber",
        "crankcase" => "Crankcase",
        "valve" => "Exhaust valve",
        "gear" => "Valve pulley",
        "gear.opening" => "Opening cable",
        "gear.closing" => "Closing cable",
        "gear.spring" => "Return spring",
        "servo" => "Servo",
        "schedule" => "Schedule",
        "limits" => "Acceptance limits",
        "found" => "Readings as found",
        "gates" => "Gates",
        "returns" => "Return values",
        "intake" => "Intake",
        "reed" => "Reed block",
        "carburettor" => "Carburettor",
        "transfer_duct" => "Transfer ducts",
        "ignition" => "Ignition",
        "fuel" => "Fuel",
        "ambient" => "Air of the day",
        other => other,
    };
    let Some(place) = place else { return words.to_owned() };
    let what = if section.path == "port" { "Port" } else { "Piece of the pipe" };
    match standing.text(&format!("{}.{place}.name", section.path)) {
        "" => format!("{what} {place}"),
        name => upper(name),
    }
}

/// What the section is about, without the words of the file.
fn text(section: &Section) -> String {
    match section.path {
        "port" | "pipe" => String::new(),
        "limits" => "How near is near enough, each with where the limit comes from.".to_owned(),
        _ => section.doc.to_owned(),
    }
}
