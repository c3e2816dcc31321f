//! A file of readings, read: every problem at once, each with its line, its key and the mend.

use super::readings::{Readings, Row, Seen, SeenKind, ServoAt, Unknown};
use gear::Direction;
use quantity::{Dimension, Measured, Units, parse, show_value};
use userfile::{Fields, Layout, Problem};

/// What a file of readings looks like, for sentences.
const LAYOUT: Layout = Layout {
    holds: "readings",
    section: "reading",
    line: "way = \"rising\"",
    key: "reading",
    longest_text: 200,
};

/// Most readings of one file.
const MOST: usize = 500;

pub(super) fn read(text: &str) -> Result<Readings, Vec<Problem>> {
    userfile::read(text, &LAYOUT, whole)
}

fn whole(root: &Fields<'_, '_>) -> Option<Readings> {
    root.refuse_unknown(&["portwright", "unknown", "weigh", "reading", "source"]);
    root.version("portwright", true);
    root.may_text("source");
    let unknown = unknown(root);
    let weigh = root.word("weigh", &[("readings", false), ("engine file too", true)], Some(false));
    let tables = root.tables("reading", MOST);
    if tables.is_empty() && !root.gives("reading") {
        root.refuse("reading", "there is no reading; begin one with [[reading]] on a line of its own");
    }
    let rows: Vec<Row> = tables.iter().filter_map(row).collect();
    Some(Readings { unknown, weigh_engine_file: weigh?, rows })
}

fn unknown(root: &Fields<'_, '_>) -> Vec<Unknown> {
    let known = Unknown::all();
    let mut wanted: Vec<Unknown> = Vec::new();
    for word in root.some_texts("unknown") {
        match known.iter().find(|one| one.key() == word) {
            Some(one) if wanted.contains(one) => {
                root.refuse("unknown", format!("\"{word}\" stands twice; name it once"));
            }
            Some(one) => wanted.push(*one),
            None => {
                let words: Vec<&str> = known.iter().map(|one| one.key()).collect();
                root.refuse_word("unknown", &word, &words);
            }
        }
    }
    wanted
}

fn row(fields: &Fields<'_, '_>) -> Option<Row> {
    fields.refuse_unknown(&["servo", "sensor", "way", "gap", "mark", "valve", "edge", "pull"]);
    let servo = servo(fields);
    let way = fields.word("way", &[("rising", Direction::Rising), ("falling", Direction::Falling)], None);
    let gap = fields.gives("gap").then(|| figure(fields, "gap", (Dimension::Length, 0.0, 200e-3))).flatten();
    let seen = seen(fields);
    Some(Row { servo: servo?, way: way?, gap, seen: seen? })
}

fn servo(fields: &Fields<'_, '_>) -> Option<ServoAt> {
    match (fields.gives("servo"), fields.gives("sensor")) {
        (true, false) => figure(fields, "servo", (Dimension::Angle, -0.2, 6.3)).map(ServoAt::Travel),
        (false, true) => figure(fields, "sensor", (Dimension::Resistance, 0.0, 1e6)).map(ServoAt::Sensor),
        (true, true) => {
            fields.refuse("sensor", "servo and sensor both say where the servo stood; keep one of them");
            None
        }
        (false, false) => {
            fields.refuse(
                "servo",
                "where the servo stood is missing; write servo = \"40°\" from closed park, or sensor = \"2.10 kΩ\"",
            );
            None
        }
    }
}

fn seen(fields: &Fields<'_, '_>) -> Option<Seen> {
    let given: Vec<SeenKind> = SeenKind::ALL.into_iter().filter(|kind| fields.gives(kind.key())).collect();
    let kind = match given.as_slice() {
        [one] => *one,
        [] => {
            fields.refuse(
                "mark",
                "what was seen is missing; write one of mark = \"8.4 mm\", valve = \"31°\", edge = \"3.2 mm\" or pull = \"25 N\"",
            );
            return None;
        }
        [_, second, ..] => {
            fields.refuse(second.key(), "a reading sees one thing; give each its own [[reading]]");
            return None;
        }
    };
    let range = match kind {
        SeenKind::Mark | SeenKind::Edge => (Dimension::Length, -5e-3, 200e-3),
        SeenKind::Valve => (Dimension::Angle, -0.2, 6.3),
        SeenKind::Pull => (Dimension::Force, 0.0, 1000.0),
    };
    let figure = figure(fields, kind.key(), range)?;
    if figure.u == 0.0 {
        fields.refuse(
            kind.key(),
            "a reading without error tells too much; write how well it was read, like \"8.4 ± 0.2 mm\"",
        );
        return None;
    }
    Some(kind.with(figure))
}

/// A figure with its unit within a range.
fn figure(fields: &Fields<'_, '_>, key: &str, range: (Dimension, f64, f64)) -> Option<Measured> {
    let (dimension, low, high) = range;
    let text = fields.text(key)?;
    let measured = match parse(&text, dimension) {
        Ok(measured) => measured,
        Err(error) => {
            fields.refuse(key, error.to_string());
            return None;
        }
    };
    if measured.value >= low && measured.value <= high && measured.u.is_finite() {
        return Some(measured);
    }
    let show = |si: f64| show_value(si, dimension, Units::Metric);
    fields.refuse(
        key,
        format!(
            "{} is not accepted; it must lie from {} to {}: check the figure and its unit",
            show(measured.value),
            show(low),
            show(high)
        ),
    );
    None
}
