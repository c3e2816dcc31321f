//! Readings as they are typed row by row and kept, and the file that they make.

use super::read;
use super::readings::{Readings, Row, SeenKind, ServoAt, Unknown};
use gear::Direction;
use quantity::{Measured, Units, show};
use std::collections::BTreeMap;
use std::fmt::Write;

/// What a row takes, in the order of its columns; the key of a field is `fit.<row>.<one of these>`, rows from 1.
pub const ROW_KEYS: [&str; 4] = ["servo", "way", "gap", "seen"];

/// Most rows of a page.
pub const MOST_ROWS: usize = 60;

/// Readings of entries, and what is wrong with them.
#[derive(Debug, Clone, Default)]
pub struct Entries {
    /// The readings, when nothing is wrong.
    pub readings: Option<Readings>,
    /// What is wrong, by the key of the entry; an empty key is about all of them.
    pub problems: BTreeMap<String, String>,
}

/// The readings that entries hold. Entries: `fit.servo_by` ("servo" or "sensor"), `fit.kind` (a [`SeenKind`]), one
/// `fit.unknown.<key>` = "yes" for everything sought, `fit.weigh` = "yes", and the rows. Rows without any text are left
/// out; a row without a way is rising.
pub fn entries_of(entries: &BTreeMap<String, String>) -> Entries {
    let (text, lines) = file_of(entries);
    match read(&text) {
        Ok(readings) => Entries { readings: Some(readings), problems: BTreeMap::new() },
        Err(found) => {
            let mut problems = BTreeMap::new();
            for problem in found {
                let place = problem.line.and_then(|line| lines.get(line.checked_sub(1)?).cloned());
                let said: &mut String = problems.entry(place.unwrap_or_default()).or_default();
                if !said.is_empty() {
                    said.push(' ');
                }
                said.push_str(&problem.message);
            }
            Entries { readings: None, problems }
        }
    }
}

/// The file of readings that entries make.
pub fn text_of_entries(entries: &BTreeMap<String, String>) -> String {
    file_of(entries).0
}

/// The entries that hold these readings; the kind of thing seen is that of the first reading, and readings of another
/// kind are left out, because a page has one column for it.
pub fn entries_from(readings: &Readings) -> BTreeMap<String, String> {
    let mut entries = BTreeMap::new();
    let mut put = |key: String, text: &str| entries.insert(key, text.to_owned());
    let written = |figure: &Measured| figure.written.clone().unwrap_or_else(|| show(figure, Units::Metric));
    for unknown in &readings.unknown {
        put(format!("fit.unknown.{}", unknown.key()), "yes");
    }
    if readings.weigh_engine_file {
        put("fit.weigh".to_owned(), "yes");
    }
    let Some(first) = readings.rows.first() else { return entries };
    let (kind, sensed) = (first.seen.kind(), matches!(first.servo, ServoAt::Sensor(_)));
    put("fit.kind".to_owned(), kind.key());
    put("fit.servo_by".to_owned(), if sensed { "sensor" } else { "servo" });
    let same = |row: &&Row| row.seen.kind() == kind && matches!(row.servo, ServoAt::Sensor(_)) == sensed;
    for (at, row) in readings.rows.iter().filter(same).take(MOST_ROWS).enumerate() {
        let of = |key: &str| format!("fit.{}.{key}", at + 1);
        let (ServoAt::Travel(servo) | ServoAt::Sensor(servo)) = &row.servo;
        put(of("servo"), &written(servo));
        put(of("way"), if row.way == Direction::Rising { "rising" } else { "falling" });
        if let Some(gap) = &row.gap {
            put(of("gap"), &written(gap));
        }
        put(of("seen"), &written(row.seen.figure()));
    }
    entries
}

/// How many rows have been begun: the highest row that holds any text.
pub fn row_count(entries: &BTreeMap<String, String>) -> usize {
    (1..=MOST_ROWS)
        .rev()
        .find(|row| ROW_KEYS.iter().any(|key| !entry(entries, &format!("fit.{row}.{key}")).is_empty()))
        .unwrap_or(0)
}

/// The file, and for each of its lines the key of the entry it comes from.
fn file_of(entries: &BTreeMap<String, String>) -> (String, Vec<String>) {
    let (mut text, mut lines) = (String::new(), Vec::new());
    let mut put = |key: &str, line: String| {
        let _ = writeln!(text, "{line}");
        lines.push(key.to_owned());
    };
    put("", "portwright = 1".to_owned());
    let unknown: Vec<String> = Unknown::all()
        .into_iter()
        .filter(|one| entry(entries, &format!("fit.unknown.{}", one.key())) == "yes")
        .map(|one| format!("\"{}\"", one.key()))
        .collect();
    put("fit.unknown", format!("unknown = [{}]", unknown.join(", ")));
    if entry(entries, "fit.weigh") == "yes" {
        put("fit.weigh", "weigh = \"engine file too\"".to_owned());
    }
    let by = if entry(entries, "fit.servo_by") == "sensor" { "sensor" } else { "servo" };
    let kind = SeenKind::ALL.into_iter().find(|kind| kind.key() == entry(entries, "fit.kind"));
    let seen = kind.unwrap_or(SeenKind::Mark).key();
    for row in 1..=row_count(entries) {
        let of = |key: &str| format!("fit.{row}.{key}");
        if ["servo", "gap", "seen"].iter().all(|key| entry(entries, &of(key)).is_empty()) {
            continue;
        }
        let way = if entry(entries, &of("way")) == "falling" { "falling" } else { "rising" };
        // What is missing is told beside the first column of its row.
        put(&of("servo"), "[[reading]]".to_owned());
        put(&of("way"), format!("way = \"{way}\""));
        for (key, name) in [("servo", by), ("gap", "gap"), ("seen", seen)] {
            let typed = entry(entries, &of(key));
            if !typed.is_empty() {
                put(&of(key), format!("{name} = {}", quoted(typed)));
            }
        }
    }
    (text, lines)
}

fn entry<'a>(entries: &'a BTreeMap<String, String>, key: &str) -> &'a str {
    entries.get(key).map_or("", |text| text.trim())
}

/// A TOML string on one line.
fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out.push('"');
    out
}
