//! A dynamometer sheet as it is typed in or brought as CSV.

use super::Told;
use gas::correction::{Day, Rule};
use gas::gas::GasError;
use quantity::{Dimension, parse};
use serde::Serialize;
use std::f64::consts::PI;
use thiserror::Error;

/// Most points that are read.
const MOST: usize = 10_000;

/// One measured point.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct MeasuredPoint {
    /// Engine speed, rad/s.
    pub speed_rad_s: f64,
    /// Torque at the crank as the sheet gives it, N m.
    pub torque_n_m: f64,
}

/// Torque by speed as a dynamometer sheet gives it.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct MeasuredCurve {
    /// Points by rising speed.
    pub points: Vec<MeasuredPoint>,
}

/// A measured point beside what was computed there.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Beside {
    /// What was measured.
    pub measured: MeasuredPoint,
    /// Torque computed for the setting, N m; none outside of the map.
    pub computed_n_m: Option<f64>,
}

/// What is wrong with a sheet.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("line {line}: {text}")]
pub struct MeasuredProblem {
    /// Line, counted from 1.
    pub line: usize,
    /// One sentence: what is wrong and how to mend it.
    pub text: String,
}

/// What the second column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Column {
    Torque,
    Power,
}

impl MeasuredCurve {
    /// Reads lines of speed and torque or power: `8000 rpm; 18.2 N·m` or `8000 rpm, 15.2 kW`. A first line of headings
    /// with units (`speed (rpm), power (kW)`) lets the figures below stand bare. Columns are parted by semicolon, tab or
    /// comma; a line that is empty or begins with # is passed over.
    ///
    /// # Errors
    /// Every line that cannot be read, each with its number and a way to mend it.
    pub fn read(text: &str) -> Result<Self, Vec<MeasuredProblem>> {
        let mut heading: Option<[String; 2]> = None;
        let (mut points, mut problems) = (Vec::new(), Vec::new());
        let lines = text.lines().enumerate().map(|(at, line)| (at + 1, line.trim()));
        for (line, row) in lines.filter(|(_, row)| !row.is_empty() && !row.starts_with('#')) {
            let Some(cells) = cells(row) else {
                let text = "two columns are wanted: speed, and torque or power, as in '8000 rpm; 18.2 N·m'"
                    .to_string();
                problems.push(MeasuredProblem { line, text });
                continue;
            };
            if points.is_empty() && heading.is_none() && !begins_with_figure(cells[0]) {
                heading = Some(cells.map(unit_of));
                continue;
            }
            match point(cells, heading.as_ref()) {
                Ok(point) if points.len() < MOST => points.push(point),
                Ok(_) => {
                    let text = format!("there are more than {MOST} points; leave some out");
                    problems.push(MeasuredProblem { line, text });
                    break;
                }
                Err(text) => problems.push(MeasuredProblem { line, text }),
            }
        }
        if problems.is_empty() {
            points.sort_by(|a: &MeasuredPoint, b| a.speed_rad_s.total_cmp(&b.speed_rad_s));
            Ok(Self { points })
        } else {
            Err(problems)
        }
    }

    /// The points as they were on the day, where the sheet says that a rule's factor for the air of that day is on them:
    /// the computed curve is for the air of the day.
    ///
    /// # Errors
    /// When the day is outside of what the rule takes.
    pub fn as_on_the_day(&self, rule: Rule, day: &Day) -> Result<Self, GasError> {
        let factor = rule.correct(day)?.factor;
        let one = |point: &MeasuredPoint| MeasuredPoint { torque_n_m: point.torque_n_m / factor, ..*point };
        Ok(Self { points: self.points.iter().map(one).collect() })
    }

    /// Each point beside the torque that was computed for the setting there, straight between the speeds of the map.
    pub fn beside(&self, told: &Told) -> Vec<Beside> {
        self.points
            .iter()
            .map(|point| Beside { measured: *point, computed_n_m: computed(told, point.speed_rad_s) })
            .collect()
    }
}

impl Beside {
    /// Computed over measured torque; none outside of the map.
    pub fn ratio(&self) -> Option<f64> {
        Some(self.computed_n_m? / self.measured.torque_n_m)
    }

    /// Mean of the ratios; none when no point lies in the map.
    pub fn mean_ratio(all: &[Self]) -> Option<f64> {
        let ratios: Vec<f64> = all.iter().filter_map(Self::ratio).collect();
        (!ratios.is_empty()).then(|| ratios.iter().sum::<f64>() / ratios.len() as f64)
    }
}

fn computed(told: &Told, speed_rad_s: f64) -> Option<f64> {
    let right = told.speeds.iter().position(|row| row.speed_rad_s >= speed_rad_s)?;
    let at = &told.speeds[right];
    if at.speed_rad_s == speed_rad_s {
        return at.own.torque_n_m;
    }
    let before = &told.speeds[right.checked_sub(1)?];
    let share = (speed_rad_s - before.speed_rad_s) / (at.speed_rad_s - before.speed_rad_s);
    Some(before.own.torque_n_m? + share * (at.own.torque_n_m? - before.own.torque_n_m?))
}

/// Two columns of a row.
fn cells(row: &str) -> Option<[&str; 2]> {
    // A comma may be a decimal mark where something else parts the columns.
    let mark = [';', '\t', ','].into_iter().find(|mark| row.contains(*mark))?;
    let mut cells = row.split(mark).map(str::trim).filter(|cell| !cell.is_empty());
    let two = [cells.next()?, cells.next()?];
    cells.next().is_none().then_some(two)
}

fn begins_with_figure(cell: &str) -> bool {
    cell.starts_with(|c: char| c.is_ascii_digit() || ".+-".contains(c))
}

/// `speed (rpm)`, `speed [rpm]` and `speed, rpm`: what stands behind, else the last word.
fn unit_of(cell: &str) -> String {
    let inner = cell.split(['(', '[']).nth(1).map(|rest| rest.trim_end_matches([')', ']']));
    inner.unwrap_or_else(|| cell.split_whitespace().last().unwrap_or("")).trim().to_string()
}

fn point(cells: [&str; 2], heading: Option<&[String; 2]>) -> Result<MeasuredPoint, String> {
    let with_unit = |at: usize| -> String {
        let bare = cells[at].chars().all(|c| c.is_ascii_digit() || ".,+-eE ".contains(c));
        match heading {
            Some(units) if bare => format!("{} {}", cells[at], units[at]),
            _ => cells[at].to_string(),
        }
    };
    let speed =
        parse(&with_unit(0), Dimension::Speed).map_err(|error| format!("engine speed: {error}"))?.value;
    if !(speed > 100.0 * PI / 30.0 && speed < 30_000.0 * PI / 30.0) {
        return Err(format!("engine speed '{}' is outside of 100 rpm to 30000 rpm", cells[0]));
    }
    let second = with_unit(1);
    let (column, measured) = match (parse(&second, Dimension::Torque), parse(&second, Dimension::Power)) {
        (Ok(torque), _) => (Column::Torque, torque.value),
        (_, Ok(power)) => (Column::Power, power.value),
        (Err(error), _) => return Err(format!("torque or power: {error}; or a power in kW, W, hp or PS")),
    };
    let torque_n_m = if column == Column::Torque { measured } else { measured / speed };
    if torque_n_m.abs() >= 1000.0 {
        return Err(format!("'{}' is a torque of 1000 N·m or more; look at the unit", cells[1]));
    }
    Ok(MeasuredPoint { speed_rad_s: speed, torque_n_m })
}
