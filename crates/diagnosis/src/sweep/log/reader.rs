//! Rows of cells to samples in SI.

use super::cell::{self, BadFigure, Cell};
use super::heading::{self, Column, Role};
use super::problem::{Problem, excerpt};
use super::{Log, MOST_SAMPLES, Reading, Sample};
use quantity::Dimension;

/// A unit that stands for the bare figures of a column.
#[derive(Default)]
struct ColumnUnit {
    /// SI per unit, from the name of the column or the first cell that says it.
    factor: Option<f64>,
    /// The text it came from, so that the same text is looked up once.
    text: String,
    /// Two cells named different units, so a bare one is not told.
    several: bool,
}

/// Takes rows and gives the log.
pub(super) struct Reader {
    columns: Vec<Column>,
    units: Vec<ColumnUnit>,
    /// Figures with a decimal point stand somewhere in the text.
    points: bool,
    dimension: Option<Dimension>,
    travel_dimension: Option<Dimension>,
    samples: Vec<Sample>,
    /// Steps of the last digit of the first readings, SI.
    steps: Vec<f64>,
    /// Added to times of day, s.
    midnight_s: f64,
    last_s: Option<f64>,
    notes: Vec<String>,
}

impl Reader {
    pub(super) fn of(columns: Vec<Column>, points: bool) -> Self {
        let mut seen = false;
        let columns: Vec<Column> = columns
            .into_iter()
            .map(|mut column| {
                // Only the first output counts; the others are told as not used.
                if matches!(column.role, Role::Output(_)) && std::mem::replace(&mut seen, true) {
                    column.role = Role::Other;
                }
                column
            })
            .collect();
        let unit = |c: &Column| ColumnUnit { factor: c.factor, ..ColumnUnit::default() };
        let units = columns.iter().map(unit).collect();
        let dimension = columns.iter().find_map(|c| if let Role::Output(d) = c.role { d } else { None });
        let travel_dimension =
            columns.iter().find_map(|c| if let Role::Travel(d) = c.role { d } else { None });
        Self {
            columns,
            units,
            points,
            dimension,
            travel_dimension,
            samples: Vec::new(),
            steps: Vec::new(),
            midnight_s: 0.0,
            last_s: None,
            notes: Vec::new(),
        }
    }

    /// Columns with a name.
    pub(super) fn width(&self) -> usize {
        self.columns.len()
    }

    /// Takes one row.
    pub(super) fn take(&mut self, line: usize, row: &[&str]) -> Result<(), Problem> {
        if self.samples.len() >= MOST_SAMPLES {
            return Err(Problem::line(
                line,
                format!(
                    "the log is longer than {MOST_SAMPLES} samples: give a part of it, or every tenth line"
                ),
            ));
        }
        if row.len() > self.columns.len() && self.columns.len() > 1 {
            return Err(Problem::line(
                line,
                format!(
                    "there are more cells than the {} columns that have names: with a decimal comma, part the \
                     columns by semicolons",
                    self.columns.len()
                ),
            ));
        }
        self.note_unit(row);
        let mut sample = Sample { time_s: None, travel: None, reading: Reading::Missing };
        for i in 0..self.columns.len().min(row.len()) {
            let Some(&text) = row.get(i) else { break };
            match self.columns.get(i).map_or(Role::Other, |c| c.role) {
                Role::Time => sample.time_s = self.time(line, i, text)?,
                Role::Travel(_) => sample.travel = self.travel(line, i, text)?,
                Role::Output(_) => sample.reading = self.output(line, i, text)?,
                Role::Unit | Role::Other => {}
            }
        }
        self.samples.push(sample);
        Ok(())
    }

    /// Takes the unit of this row from a column of units.
    fn note_unit(&mut self, row: &[&str]) {
        let Some(at) = self.columns.iter().position(|c| c.role == Role::Unit) else { return };
        let Some(output) = self.columns.iter().position(|c| matches!(c.role, Role::Output(_))) else {
            return;
        };
        let Some(text) = row.get(at).map(|t| t.trim().trim_matches('"')) else { return };
        let Some(unit) = self.units.get_mut(output) else { return };
        if unit.text == text {
            return;
        }
        if let Some((dimension, factor)) = heading::output_unit(text) {
            unit.factor = Some(factor);
            text.clone_into(&mut unit.text);
            self.dimension.get_or_insert(dimension);
        }
    }

    fn name(&self, column: usize) -> String {
        name(&self.columns, column)
    }

    fn figure<'a>(&self, line: usize, column: usize, text: &'a str) -> Result<Cell<'a>, Problem> {
        cell::read(text, self.points).map_err(|bad| {
            let read = excerpt(text);
            let message = match bad {
                BadFigure::Separators => {
                    format!("\"{read}\" has several decimal signs: write it with one and without thousands signs")
                }
                BadFigure::Thousands => format!(
                    "\"{read}\" could mean thousands or decimals, as other figures have a decimal point: write it \
                     with a point, or without the comma"
                ),
                BadFigure::Size => format!("\"{read}\" is larger than anything a meter shows: look at the line"),
            };
            Problem::at(line, self.name(column), message)
        })
    }

    fn output(&mut self, line: usize, column: usize, text: &str) -> Result<Reading, Problem> {
        let (value, step, unit) = match self.figure(line, column, text)? {
            Cell::Missing => return Ok(Reading::Missing),
            // Over-range while measuring a voltage is no open circuit.
            Cell::Open if self.dimension == Some(Dimension::Voltage) => return Ok(Reading::Missing),
            Cell::Open => return Ok(Reading::Open),
            Cell::Figure { value, step, unit } => (value, step, unit),
            Cell::Word(word) => {
                let message = format!(
                    "\"{}\" is no reading: write a figure, leave the cell empty where one is missing, or OL for an \
                     open circuit",
                    excerpt(word)
                );
                return Err(Problem::at(line, self.name(column), message));
            }
        };
        let factor = self.output_factor(line, column, unit, text)?;
        if self.steps.len() < 1000 {
            self.steps.push(step * factor);
        }
        Ok(Reading::Value(value * factor))
    }

    /// SI per unit of an output cell.
    fn output_factor(&mut self, line: usize, column: usize, text: &str, cell: &str) -> Result<f64, Problem> {
        let name = || name(&self.columns, column);
        let Some(unit) = self.units.get_mut(column) else { return Ok(1.0) };
        if !text.is_empty() && text != unit.text {
            let Some((dimension, factor)) = heading::output_unit(text) else {
                let message = format!(
                    "\"{}\" has no unit of resistance or voltage: use Ω, kΩ, MΩ, V or mV, as in 0.52 kΩ",
                    excerpt(cell)
                );
                return Err(Problem::at(line, name(), message));
            };
            if *self.dimension.get_or_insert(dimension) != dimension {
                let message = format!(
                    "\"{}\" is {} among readings of {}: log one quantity at a time",
                    excerpt(cell),
                    dimension.noun(),
                    self.dimension.map_or("", Dimension::name)
                );
                return Err(Problem::at(line, name(), message));
            }
            unit.several |= !unit.text.is_empty() && unit.factor != Some(factor);
            text.clone_into(&mut unit.text);
            unit.factor = Some(factor);
            return Ok(factor);
        }
        match unit.factor {
            Some(_) if text.is_empty() && unit.several => Err(Problem::at(
                line,
                name(),
                format!(
                    "\"{}\" has no unit, and the readings before it have different ones: write the unit behind it",
                    excerpt(cell)
                ),
            )),
            Some(factor) => Ok(factor),
            None if self.dimension == Some(Dimension::Voltage) => {
                unit.factor = Some(1.0);
                self.notes.push("The voltage has no unit; it is taken as volts.".into());
                Ok(1.0)
            }
            None => Err(Problem::at(
                line,
                name(),
                format!(
                    "\"{}\" has no unit, and ohm and kilo-ohm differ a thousandfold: write it behind the first reading \
                     or in the name of the column, such as \"0.52 kΩ\" or \"resistance (kΩ)\"",
                    excerpt(cell)
                ),
            )),
        }
    }

    fn time(&mut self, line: usize, column: usize, text: &str) -> Result<Option<f64>, Problem> {
        if let Some(clock) = cell::clock_s(text) {
            // Past midnight a time of day starts anew.
            let back = |last: f64| clock + self.midnight_s < last - 43_200.0;
            if clock < 86_400.0 && self.last_s.is_some_and(back) {
                self.midnight_s += 86_400.0;
            }
            return self.later(line, column, clock + self.midnight_s);
        }
        let (value, unit) = match self.figure(line, column, text)? {
            Cell::Missing | Cell::Open => return Ok(None),
            Cell::Figure { value, unit, .. } => (value, unit),
            Cell::Word(word) => {
                let message =
                    format!("\"{}\" is no time: write seconds, such as 0.25, or 12:00:01.25", excerpt(word));
                return Err(Problem::at(line, self.name(column), message));
            }
        };
        let named = self.side_factor(column, unit, |u| heading::factor(u, Dimension::Time));
        let Some(factor) = named else {
            let message =
                format!("\"{}\" has no unit of time: use s, ms or min, as in 0.25 s", excerpt(text));
            return Err(Problem::at(line, self.name(column), message));
        };
        if factor.is_nan() {
            self.fix_side(column, 1.0, "The time has no unit; it is taken as seconds.");
            return self.later(line, column, value);
        }
        self.later(line, column, value * factor)
    }

    /// Refuses a time before the last one.
    fn later(&mut self, line: usize, column: usize, time_s: f64) -> Result<Option<f64>, Problem> {
        if let Some(last) = self.last_s.replace(time_s).filter(|last| time_s < *last) {
            let back = quantity::show_value(last - time_s, Dimension::Time, quantity::Units::Metric);
            let message = format!("the time goes back by {back}: keep one run of the logger, in its order");
            return Err(Problem::at(line, self.name(column), message));
        }
        Ok(Some(time_s))
    }

    fn travel(&mut self, line: usize, column: usize, text: &str) -> Result<Option<f64>, Problem> {
        let (value, unit) = match self.figure(line, column, text)? {
            Cell::Missing | Cell::Open => return Ok(None),
            Cell::Figure { value, unit, .. } => (value, unit),
            Cell::Word(word) => {
                let message = format!("\"{}\" is no travel: write a figure, such as 40 %", excerpt(word));
                return Err(Problem::at(line, self.name(column), message));
            }
        };
        if !unit.is_empty() && self.travel_dimension.is_none() {
            self.travel_dimension = heading::travel_unit(unit).map(|u| u.0);
        }
        let dimension = self.travel_dimension;
        let named = self.side_factor(column, unit, |u| dimension.and_then(|d| heading::factor(u, d)));
        let Some(factor) = named else {
            let message =
                format!("\"{}\" has no unit of travel that fits: use %, ° or mm throughout", excerpt(text));
            return Err(Problem::at(line, self.name(column), message));
        };
        if factor.is_nan() {
            self.fix_side(
                column,
                1.0,
                "The travel has no unit; its lowest and highest figure are taken as the ends.",
            );
            return Ok(Some(value));
        }
        Ok(Some(value * factor))
    }

    /// SI per unit of a cell of time or travel: its own unit, else that of the column, else not a number; none for a
    /// unit that does not fit.
    fn side_factor(&mut self, column: usize, text: &str, find: impl Fn(&str) -> Option<f64>) -> Option<f64> {
        let unit = self.units.get_mut(column)?;
        if text.is_empty() {
            return Some(unit.factor.unwrap_or(f64::NAN));
        }
        if text != unit.text {
            unit.factor = Some(find(text)?);
            text.clone_into(&mut unit.text);
        }
        unit.factor
    }

    fn fix_side(&mut self, column: usize, factor: f64, note: &str) {
        if let Some(unit) = self.units.get_mut(column) {
            unit.factor = Some(factor);
            self.notes.push(note.to_owned());
        }
    }

    /// The log, when all rows are taken.
    pub(super) fn finish(self) -> Result<Log, Problem> {
        let Reader { columns, mut samples, mut steps, notes, dimension, travel_dimension, .. } = self;
        let has = |wanted: fn(&Role) -> bool| columns.iter().any(|c| wanted(&c.role));
        let timed = has(|r| *r == Role::Time) && samples.iter().any(|s| s.time_s.is_some());
        let travelled = has(|r| matches!(r, Role::Travel(_))) && samples.iter().any(|s| s.travel.is_some());
        start_at_zero(&mut samples);
        let dimension = dimension.unwrap_or(Dimension::Resistance);
        if dimension == Dimension::Voltage {
            samples
                .iter_mut()
                .filter(|s| s.reading == Reading::Open)
                .for_each(|s| s.reading = Reading::Missing);
        }
        if samples.iter().all(|s| s.reading == Reading::Missing) {
            return Err(Problem::whole(
                "no reading was found in the log: write figures, such as 0.52 kΩ, 0.61, 0.70",
            ));
        }
        steps.sort_by(f64::total_cmp);
        let ignored = |c: &&Column| c.role == Role::Other && !c.name.is_empty();
        Ok(Log {
            dimension,
            timed,
            travelled,
            travel_dimension,
            samples,
            step: steps.get(steps.len() / 2).copied().unwrap_or(0.0),
            notes,
            ignored: columns.iter().filter(ignored).map(|c| excerpt(&c.name)).collect(),
        })
    }
}

/// Counts time from the first sample.
fn start_at_zero(samples: &mut [Sample]) {
    let Some(first) = samples.iter().find_map(|s| s.time_s) else { return };
    for time in samples.iter_mut().filter_map(|s| s.time_s.as_mut()) {
        *time -= first;
    }
}

/// What a column is called in a sentence.
fn name(columns: &[Column], column: usize) -> String {
    match columns.get(column) {
        Some(c) if !c.name.is_empty() => excerpt(&c.name),
        _ => format!("column {}", column + 1),
    }
}
