//! The layout of a log: which lines hold readings, and what its columns are.

use super::Log;
use super::cell::{self, Cell};
use super::heading::{self, Column, Role};
use super::problem::Problem;
use super::reader::Reader;
use super::split::{self, Separator, cells};
use quantity::Dimension;

/// Lines among which the names of columns are looked for.
const HEADING_WITHIN: usize = 60;

pub(super) fn read(text: &str) -> Result<Log, Problem> {
    let text = text.trim_start_matches('\u{feff}');
    let lines: Vec<(usize, &str)> =
        text.lines().enumerate().map(|(i, l)| (i + 1, l)).filter(|(_, l)| !l.trim().is_empty()).collect();
    if lines.is_empty() {
        return Err(Problem::whole("the log is empty: write readings, such as 0.52 kΩ, 0.61, 0.70"));
    }
    let shape = match named(&lines) {
        Some(shape) => shape,
        None => unnamed(text, &lines)?,
    };
    let mut reader = Reader::of(shape.columns, split::decimal_sign(text, '.'));
    for &(number, line) in lines.get(shape.first..).unwrap_or_default() {
        let mut row = cells(line, shape.separator);
        if row.len() == 1 && (line.trim_start().starts_with('#') || line.trim_start().starts_with("//")) {
            continue;
        }
        if shape.list {
            for cell in row {
                reader.take(number, &[cell])?;
            }
        } else {
            row.truncate(reader.width() + 1);
            reader.take(number, &row)?;
        }
    }
    reader.finish()
}

/// How the text is laid out.
struct Shape {
    columns: Vec<Column>,
    separator: Separator,
    /// The first line with readings.
    first: usize,
    /// Readings one after another.
    list: bool,
}

/// The line with names that names most, with a reading below it.
fn named(lines: &[(usize, &str)]) -> Option<Shape> {
    let mut best: Option<(usize, Shape)> = None;
    for separator in split::OF_TABLES {
        for (i, (_, line)) in lines.iter().enumerate().take(HEADING_WITHIN) {
            let Some((_, below)) = lines.get(i + 1) else { break };
            let columns: Vec<Column> = cells(line, separator).into_iter().map(heading::column).collect();
            let count = |wanted: fn(&Role) -> bool| columns.iter().filter(|c| wanted(&c.role)).count();
            let outputs = count(|r| matches!(r, Role::Output(_)));
            let (times, travels) = (count(|r| *r == Role::Time), count(|r| matches!(r, Role::Travel(_))));
            let once = times <= 1 && travels <= 1;
            // Blanks part words as well as columns: there every word must be a column of its own.
            let whole = separator != Separator::Blanks || (count(|r| *r == Role::Other) == 0 && outputs == 1);
            let known = outputs.min(1) + times + travels + count(|r| *r == Role::Unit);
            let better = best.as_ref().is_none_or(|(most, _)| known > *most);
            if outputs == 0 || !once || !whole || !better || !reading_below(&columns, below, separator) {
                continue;
            }
            best = Some((known, Shape { columns, separator, first: i + 1, list: false }));
        }
    }
    best.map(|(_, shape)| shape)
}

/// Whether a figure or a gap stands below the name of the output.
fn reading_below(columns: &[Column], below: &str, separator: Separator) -> bool {
    let output = columns.iter().position(|c| matches!(c.role, Role::Output(_)));
    let row = cells(below, separator);
    let held = output.and_then(|i| row.get(i)).map(|text| cell::read(text, false));
    matches!(held, Some(Ok(Cell::Figure { .. } | Cell::Open | Cell::Missing) | Err(_)))
}

/// A list, or a table whose cells carry their units.
fn unnamed(text: &str, lines: &[(usize, &str)]) -> Result<Shape, Problem> {
    let separator = split::of_list(text);
    let rows: Vec<Vec<&str>> = lines.iter().take(HEADING_WITHIN).map(|(_, l)| cells(l, separator)).collect();
    let roles = by_units(&rows);
    if roles.iter().any(|c| !matches!(c.role, Role::Output(_) | Role::Other)) {
        return Ok(Shape { columns: roles, separator, first: 0, list: false });
    }
    let width = rows.first().map_or(0, Vec::len);
    if rows.len() >= 3 && (2..=4).contains(&width) && rows.iter().all(|r| r.len() == width) {
        let (line, _) = lines.first().copied().unwrap_or((1, ""));
        return Err(Problem::line(
            line,
            format!(
                "there are {width} columns without names: write them in the first line, such as \
                 \"time (s); resistance (kΩ)\""
            ),
        ));
    }
    let column = Column { name: "reading".into(), role: Role::Output(None), factor: None };
    let separator = match separator {
        Separator::Line if lines.iter().any(|(_, l)| figures_in(l) > 1) => Separator::Blanks,
        other => other,
    };
    Ok(Shape { columns: vec![column], separator, first: 0, list: true })
}

/// Figures that stand apart by blanks on a line.
fn figures_in(line: &str) -> usize {
    let figure = |text: &&str| matches!(cell::read(text, false), Ok(Cell::Figure { .. }));
    line.split_whitespace().filter(figure).count()
}

/// Columns by the units that stand in their cells.
fn by_units(rows: &[Vec<&str>]) -> Vec<Column> {
    let width = rows.iter().map(Vec::len).max().unwrap_or(0).min(16);
    let column = |i: usize| {
        let units = rows.iter().filter_map(|row| match cell::read(row.get(i)?, false) {
            Ok(Cell::Figure { unit, .. }) if !unit.is_empty() => Some(unit),
            _ => None,
        });
        let role = units.map(|unit| {
            if let Some((dimension, _)) = heading::output_unit(unit) {
                Role::Output(Some(dimension))
            } else if heading::factor(unit, Dimension::Time).is_some() {
                Role::Time
            } else if let Some((dimension, _)) = heading::travel_unit(unit) {
                Role::Travel(Some(dimension))
            } else {
                Role::Other
            }
        });
        let role = role.into_iter().next().unwrap_or(Role::Other);
        Column { name: format!("column {}", i + 1), role, factor: None }
    };
    (0..width).map(column).collect()
}
