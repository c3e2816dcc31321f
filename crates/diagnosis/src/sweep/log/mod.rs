//! What was logged while the sensor was swept: multimeter log, typed list or table.

mod cell;
mod heading;
mod problem;
mod reader;
mod split;
mod table;

#[cfg(test)]
mod tests;

pub use problem::Problem;

use quantity::Dimension;
use serde::Serialize;

/// Longest log that is read, in samples.
pub const MOST_SAMPLES: usize = 1_000_000;

/// One reading.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Reading {
    /// Output in Ω or V, see [`Log::dimension`]; always finite.
    Value(f64),
    /// The meter showed an open circuit (OL). Only resistance knows it: an overload while measuring a voltage
    /// says nothing of the contact and counts as missing.
    Open,
    /// Nothing was logged, or nothing that is a figure.
    Missing,
}

/// One sample of the log.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Sample {
    /// Time since the first sample, s; none when the log has no time.
    pub time_s: Option<f64>,
    /// Travel as logged, in SI where the log says the unit: rad, m, or a share from 0 to 1.
    pub travel: Option<f64>,
    /// What the sensor gave.
    pub reading: Reading,
}

/// A sweep of the sensor as it was logged, in the order of the log.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Log {
    /// Resistance or voltage.
    pub dimension: Dimension,
    /// Whether the log has times.
    pub timed: bool,
    /// Whether the log has travel.
    pub travelled: bool,
    /// What travel is measured in: an angle, a length or a share of the whole travel; none when not said.
    pub travel_dimension: Option<Dimension>,
    /// The samples; at least one.
    pub samples: Vec<Sample>,
    /// Step of the last digit of a usual reading, in Ω or V; zero when unknown.
    pub step: f64,
    /// What was assumed while reading, one sentence each.
    pub notes: Vec<String>,
    /// Names of columns that were not used.
    pub ignored: Vec<String>,
}

impl Log {
    /// Reads a log from text.
    ///
    /// - **Table**: a line with names of columns in any order (time, resistance or voltage, travel or position, unit),
    ///   units behind the names or in the cells or in a column of their own; separated by comma, semicolon, tab, bar
    ///   or blanks; decimal point or comma. Lines before the names and columns with other names are skipped.
    /// - **List**: readings one after another or one a line; a unit behind the first stands for all that follow.
    /// - **Gaps**: an empty cell, `---`, `n/a` and the like are missing samples; `OL` is an open circuit.
    ///
    /// # Errors
    /// [`Problem`]: one sentence with line and column, and how to mend it. Nothing is guessed where a guess could be
    /// out by a factor of a thousand.
    pub fn read(text: &str) -> Result<Log, Problem> {
        table::read(text)
    }

    /// The same log with every reading multiplied by `factor`: for a unit that was not the one meant, after the user
    /// has said so. Factors that are not finite and positive change nothing.
    pub fn scaled(mut self, factor: f64) -> Log {
        if !(factor.is_finite() && factor > 0.0) {
            return self;
        }
        for sample in &mut self.samples {
            if let Reading::Value(value) = &mut sample.reading {
                *value *= factor;
            }
        }
        self.step *= factor;
        self
    }

    /// The readings that are figures, in order.
    pub fn values(&self) -> impl Iterator<Item = f64> + '_ {
        self.samples.iter().filter_map(|s| if let Reading::Value(v) = s.reading { Some(v) } else { None })
    }

    /// How many samples are missing and how many are open.
    pub fn gaps(&self) -> (usize, usize) {
        let count = |wanted: Reading| self.samples.iter().filter(|s| s.reading == wanted).count();
        (count(Reading::Missing), count(Reading::Open))
    }
}
