//! Files of tables: TOML, readable by a mechanic.

mod row;
mod rows;

use super::model::{ByKind, Rules, Tables};
use crate::check::Problem;
use row::{Problems, Row};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Files above this are refused unread, in bytes.
const MOST_BYTES: usize = 1 << 20;
/// Rows of one kind beyond this are refused.
const MOST_ROWS: usize = 200;

/// Reads a file whose rows may name rows of `base` as well as their own.
pub(super) fn read(text: &str, base: Option<&Tables>) -> Result<Tables, Vec<Problem>> {
    let problems = Problems::of(text);
    if text.len() > MOST_BYTES {
        problems.add(
            None,
            "",
            "the file is larger than 1 MB; a file of fault tables has a few hundred lines",
        );
        return Err(problems.into_sorted());
    }
    let root = match DeTable::parse(text) {
        Ok(root) => root,
        Err(error) => {
            let at = error.span().map(|span| span.start);
            let message = format!(
                "this line cannot be read as TOML ({}); a row begins with [[cause]] or the like, then lines such as name = \"...\"",
                error.message().replace('\n', ", ")
            );
            problems.add(at, "", message);
            return Err(problems.into_sorted());
        }
    };
    let tables = tables(root.get_ref(), base, &problems);
    let found = problems.into_sorted();
    if found.is_empty() { Ok(tables) } else { Err(found) }
}

fn tables<'t>(root: &DeTable<'t>, base: Option<&Tables>, problems: &Problems<'t>) -> Tables {
    let whole = Row::new("file".to_owned(), 0, root, problems);
    whole.refuse_unknown(&["sources", "rules", "condition", "cause", "symptom", "test"]);
    let sources = whole.inner("sources");
    if let Some(sources) = &sources {
        sources.refuse_unknown(&["condition", "cause", "symptom", "test"]);
    }
    let empty = Tables::empty();
    let base = base.unwrap_or(&empty);
    let mut own = Tables::empty();
    own.rules = whole.inner("rules").and_then(|row| rules(&row)).unwrap_or_else(|| base.rules.clone());
    let source =
        |kind: &str| sources.as_ref().filter(|row| row.has(kind)).and_then(|row| row.text(kind, "estimate"));
    let list = |kind: &'static str, key: &'static str| rows_of(root, kind, key, problems);
    own.conditions = list("condition", "key")
        .iter()
        .filter_map(|row| rows::condition(row, base, source("condition")))
        .collect();
    own.symptoms =
        list("symptom", "key").iter().filter_map(|row| rows::symptom(row, source("symptom"))).collect();
    let known = base.clone().with(own.clone());
    own.tests =
        list("test", "check").iter().filter_map(|row| rows::test(row, &known, source("test"))).collect();
    own.causes =
        list("cause", "key").iter().filter_map(|row| rows::cause(row, &known, source("cause"))).collect();
    own
}

/// The rows `[[kind]]`, named by their keys; keys that stand twice are problems.
fn rows_of<'r, 't>(
    root: &'r DeTable<'t>,
    kind: &str,
    key: &str,
    problems: &'r Problems<'t>,
) -> Vec<Row<'r, 't>> {
    let Some(value) = root.get(kind) else { return Vec::new() };
    let DeValue::Array(list) = value.get_ref() else {
        problems.add(Some(value.span().start), kind, format!("write it in double brackets: [[{kind}]]"));
        return Vec::new();
    };
    if list.len() > MOST_ROWS {
        problems.add(None, kind, format!("there are {} rows; the most is {MOST_ROWS}", list.len()));
        return Vec::new();
    }
    let mut names: Vec<String> = Vec::new();
    list.iter()
        .filter_map(|entry| {
            let row = row_of(entry, kind, key, problems)?;
            if names.contains(&row.name) {
                problems.add(Some(row.at), &row.name, "this row stands twice in the file; keep one");
            }
            names.push(row.name.clone());
            Some(row)
        })
        .collect()
}

fn row_of<'r, 't>(
    entry: &'r Spanned<DeValue<'t>>,
    kind: &str,
    key: &str,
    problems: &'r Problems<'t>,
) -> Option<Row<'r, 't>> {
    let DeValue::Table(table) = entry.get_ref() else {
        problems.add(Some(entry.span().start), kind, format!("write it in double brackets: [[{kind}]]"));
        return None;
    };
    let name = match table.get(key).map(Spanned::get_ref) {
        Some(DeValue::String(name)) => format!("{kind} \"{name}\""),
        _ => kind.to_owned(),
    };
    Some(Row::new(name, entry.span().start, table, problems))
}

fn rules(row: &Row<'_, '_>) -> Option<Rules> {
    row.refuse_unknown(&[
        "part-minutes",
        "handling-minutes",
        "second-fault",
        "cheap-minutes",
        "sure",
        "told",
        "source",
    ]);
    Some(Rules {
        part_minutes: row.number("part-minutes", 0.0, 600.0)?,
        handling_minutes: row.number("handling-minutes", 0.0, 600.0)?,
        second_fault: row.number("second-fault", 0.0, 1.0)?,
        cheap_minutes: row.number("cheap-minutes", 0.0, 600.0)?,
        sure: row.number("sure", 0.5, 0.999)?,
        told_bits: row.number("told", 0.0, 1.0)?,
        source: row.text("source", "estimate")?,
    })
}
