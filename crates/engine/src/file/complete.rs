//! What was left out: refused when it is needed, else replaced by its stated default.

use super::problem::Problems;
use super::spec::{Figure, Group, Key, Kind, Need, Section, When, spec};
use super::table::{Entry, Table, Value};
use super::value::chosen;
use crate::model::Assumption;

/// Adds the sections that were left out, then the defaults in each; names what is missing.
pub(super) fn complete(tables: &mut Vec<Table>, problems: &mut Problems, assumptions: &mut Vec<Assumption>) {
    for section in spec().sections {
        if tables.iter().any(|table| table.section.path == section.path) {
            continue;
        }
        if section.required {
            problems.add(None, section.path, missing_section(section));
        } else if !section.stays_out() {
            tables.push(Table::empty(section));
        }
    }
    // In the order of the table, so that assumptions are listed alike however the file is laid out.
    tables.sort_by_key(|table| spec().sections.iter().position(|section| section.path == table.section.path));
    for table in tables {
        for group in table.section.groups {
            check_group(table, group, problems);
        }
        for key in table.section.keys {
            complete_key(table, key, problems, assumptions);
        }
    }
}

fn missing_section(section: &Section) -> String {
    let needed: Vec<&str> = section
        .keys
        .iter()
        .filter(|key| key.need == Need::Required && key.when == When::Always)
        .map(|key| key.name)
        .collect();
    let groups = section.groups.iter().filter(|group| group.need == Need::Required).map(|group| group.what);
    let all: Vec<&str> = needed.into_iter().chain(groups).collect();
    format!("the section {} is missing; it needs at least {}", section.heading(), all.join(", "))
}

fn members<'a>(table: &'a Table, group: &'a Group) -> impl Iterator<Item = &'static Key> + 'a {
    table.section.keys.iter().filter(|key| key.need == Need::OneOf { group: group.name })
}

fn check_group(table: &Table, group: &Group, problems: &mut Problems) {
    let given: Vec<&str> =
        members(table, group).map(|key| key.name).filter(|name| table.gives(name)).collect();
    if let [first, second, ..] = given.as_slice() {
        let line = table.line_of(second).max(table.line_of(first));
        problems.add(
            line,
            table.key(second),
            format!(
                "{} is given twice, as {}; keep the one that was measured",
                group.what,
                given.join(" and ")
            ),
        );
    }
    if given.is_empty() && group.need == Need::Required {
        problems.add(table.line, table.path.clone(), missing_group(table.section, group));
    }
}

/// What is said when no key of a needed group is given.
pub(super) fn missing_group(section: &Section, group: &Group) -> String {
    let keys = section.keys.iter().filter(|key| key.need == Need::OneOf { group: group.name });
    let names: Vec<&str> = keys.map(|key| key.name).collect();
    format!("{} is missing; give one of {}", group.what, names.join(", "))
}

fn complete_key(
    table: &mut Table,
    key: &'static Key,
    problems: &mut Problems,
    assumptions: &mut Vec<Assumption>,
) {
    let given = table.gives(key.name);
    match applies(table, key) {
        Some(true) => {}
        Some(false) if given => {
            problems.add(table.line_of(key.name), table.key(key.name), out_of_place(table, key));
            return;
        }
        _ => return,
    }
    if given {
        return;
    }
    match key.need {
        Need::Required => {
            let line = table.line_of(key.name).or(table.line);
            problems.add(line, table.key(key.name), missing_key(table, key));
        }
        Need::Default { value, why, buys } => {
            let Some(entry) = default_entry(key, value, why) else { return };
            if !matches!(key.holds, Kind::Limit(_)) {
                assumptions.push(Assumption {
                    key: table.key(key.name),
                    text: format!("taken as {value}: {why}"),
                    cost: buys.to_owned(),
                });
            }
            table.entries.insert(key.name, entry);
        }
        Need::Means { value } => {
            if let Some(entry) = default_entry(key, value, "") {
                table.entries.insert(key.name, entry);
            }
        }
        Need::OneOf { .. } | Need::Optional { .. } | Need::Worked { .. } => {}
    }
}

/// `None` when the key that decides is itself missing or unreadable.
fn applies(table: &Table, key: &Key) -> Option<bool> {
    match key.when {
        When::Always => Some(true),
        When::Says { key, words } => table.word(key).map(|word| words.contains(&word)),
        When::Given { key } => Some(table.gives(key)),
    }
}

fn out_of_place(table: &Table, key: &Key) -> String {
    match key.when {
        When::Says { key: other, words } => format!(
            "this key belongs to {other} = \"{}\", but {other} is \"{}\"; take the line out or change {other}",
            words.join("\" or \""),
            table.word(other).unwrap_or("")
        ),
        When::Given { key: other } => {
            format!("this key goes with {other}, which is not given; give it, or take this line out")
        }
        When::Always => String::new(),
    }
}

fn missing_key(table: &Table, key: &Key) -> String {
    let example = format!("{} = {}", key.name, key.example);
    let from = if key.from.is_empty() { String::new() } else { format!(" (measured from: {})", key.from) };
    if table.entries.contains_key(key.name) {
        format!(
            "this must be known before the valve can be set; measure it{from} and write for example {example}"
        )
    } else {
        format!(
            "the key {} is missing in {}; write for example {example}{from}",
            key.name,
            table.section_words()
        )
    }
}

/// The default of a key, read as the file would be.
fn default_entry(key: &Key, value: &'static str, why: &str) -> Option<Entry> {
    let value = match key.holds {
        Kind::Figure(figure) => Value::Figure(default_figure(&figure, value)?),
        Kind::Limit(figure) => Value::Limit {
            value: chosen(quantity::parse(value, figure.dimension).ok()?),
            from: why.to_owned(),
        },
        Kind::Text { .. } => Value::Text(value.to_owned()),
        Kind::Count { .. } => Value::Count(value.parse().ok()?),
        Kind::Flag => Value::Flag(value == "true"),
        Kind::Word { words } => Value::Word(words.iter().find(|word| word.word == value)?.word),
        Kind::Names | Kind::Points => return None,
    };
    Some(Entry { line: None, value })
}

fn default_figure(figure: &Figure, text: &str) -> Option<quantity::Measured> {
    let mut measured = quantity::parse(text, figure.dimension).ok()?;
    measured.written = None;
    Some(measured)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_every_default_can_be_read_and_lies_in_its_own_ranges() {
        for section in spec().sections {
            for key in section.keys {
                let (Need::Default { value, why, .. }, false) = (key.need, matches!(key.holds, Kind::Names))
                else {
                    continue;
                };
                let entry = default_entry(key, value, why).unwrap_or_else(|| panic!("{}", key.name));
                let (
                    Kind::Figure(figure) | Kind::Limit(figure),
                    Value::Figure(measured) | Value::Limit { value: measured, .. },
                ) = (key.holds, entry.value)
                else {
                    continue;
                };
                assert!(figure.accepted.contains(measured.value), "{}", key.name);
                assert!(figure.usual.is_none_or(|usual| usual.contains(measured.value)), "{}", key.name);
            }
        }
    }
}
