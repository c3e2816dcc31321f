//! A fit in finished texts, with its numbers for `--json`.

use super::readings::{Readings, ServoAt, Unknown};
use super::solve::{Estimate, Fitted};
use crate::form::full_label;
use crate::report::Figure;
use gear::Direction;
use quantity::{Dimension, Measured, Shape, Units, show, show_value};
use serde::Serialize;
use std::collections::BTreeMap;

/// Correlation from which two unknowns are mentioned together.
const TIED: f64 = 0.9;
/// Two figures differ when they lie further apart than this many standard uncertainties of the difference.
const APART: f64 = 2.0;

/// Everything that is told of a fit.
#[derive(Debug, Clone, Serialize)]
pub struct Told {
    /// One sentence.
    pub headline: String,
    /// The unknowns.
    pub estimates: Vec<ToldEstimate>,
    /// Correlation of each with each, in their order.
    pub correlation: Vec<Vec<f64>>,
    /// What must be kept in mind, a sentence each.
    pub warnings: Vec<String>,
    /// How well model and readings agree.
    pub agreement: String,
    /// Sum of the squares of residual over uncertainty.
    pub chi_squared: Option<f64>,
    /// Readings less unknowns.
    pub degrees_of_freedom: usize,
    /// Probability of so large a sum or a larger one by chance.
    pub chi_squared_above: Option<f64>,
    /// The readings with what the gear says.
    pub rows: Vec<ToldRow>,
}

/// One unknown, told.
#[derive(Debug, Clone, Serialize)]
pub struct ToldEstimate {
    /// Key in the file of readings.
    pub key: &'static str,
    /// Name.
    pub name: String,
    /// What was found, ± for about 95 %, the rest of the gear included.
    pub found: Figure,
    /// Standard uncertainty from the readings alone, SI.
    pub readings_alone: f64,
    /// What the engine file says; none where it says nothing.
    pub before: Option<String>,
    /// How the two compare.
    pub compared: String,
    /// Line to enter into the engine file; none where there is no place for it.
    pub enter: Option<String>,
    /// Key of the engine file that takes it.
    pub enter_key: Option<&'static str>,
    /// Text that it takes.
    pub enter_text: Option<String>,
}

/// One reading, told.
#[derive(Debug, Clone, Serialize)]
pub struct ToldRow {
    /// Where the servo stood.
    pub servo: String,
    /// "rising" or "falling".
    pub way: &'static str,
    /// Gap; none where the adjuster stood as found.
    pub gap: Option<String>,
    /// What was read.
    pub read: String,
    /// What the gear says.
    pub says: String,
    /// Reading less that.
    pub off: String,
    /// The same over its standard uncertainty.
    pub off_over_u: f64,
}

impl Fitted {
    /// Everything that is told of it, in the chosen units.
    pub fn told(&self, readings: &Readings, units: Units) -> Told {
        let estimates: Vec<ToldEstimate> = self.estimates.iter().map(|one| estimate(one, units)).collect();
        let named: Vec<String> =
            estimates.iter().map(|one| format!("{} {}", one.name, one.found.text)).collect();
        Told {
            headline: format!("From {} readings: {}.", readings.rows.len(), named.join("; ")),
            correlation: self.correlation.clone(),
            warnings: self.warnings(units),
            agreement: self.agreement(),
            chi_squared: self.chi_squared,
            degrees_of_freedom: self.degrees_of_freedom,
            chi_squared_above: self.chi_squared_above,
            rows: self.rows(readings, units),
            estimates,
        }
    }

    fn agreement(&self) -> String {
        match (self.chi_squared, self.chi_squared_above) {
            (Some(sum), Some(above)) if self.degrees_of_freedom > 0 => format!(
                "Squares of how far the readings lie off, each in its own uncertainty, add up to {sum:.1}; about {} is to be expected. If \
                 all is as stated, so much or more comes about {} times in a hundred.",
                self.degrees_of_freedom,
                shown_chance(above)
            ),
            _ => "There are no more readings than unknowns: whether the gear follows the model cannot be seen. Take more."
                .to_owned(),
        }
    }

    fn warnings(&self, units: Units) -> Vec<String> {
        let mut said: Vec<String> = Vec::new();
        if let Some(confusion) = &self.confusion {
            let parts: Vec<String> = confusion
                .parts
                .iter()
                .map(|part| {
                    let dimension = self
                        .estimates
                        .iter()
                        .find(|one| one.unknown.name() == part.name)
                        .map_or(Dimension::Number, |one| one.dimension);
                    let sign = if part.change < 0.0 { "less" } else { "more" };
                    format!("{} by {} {sign}", part.name, show_value(part.change.abs(), dimension, units))
                })
                .collect();
            said.push(format!(
                "The readings hardly tell {} apart: they fit almost as well with {}. Measure one of them by other means, or take \
                 readings that part them: with another gap at the adjuster, both ways, over the whole travel.",
                confusion.names(),
                parts.join(" and ")
            ));
        } else {
            said.extend(self.tied());
        }
        said.extend(self.doubts.iter().map(|doubt| sentence(&doubt.to_string())));
        for key in &self.not_followed {
            let name = full_label(&BTreeMap::new(), key);
            said.push(format!(
                "What the uncertainty of \"{name}\" adds could not be found; it is left out of the \u{b1}."
            ));
        }
        said
    }

    /// Unknowns that move together, short of being mistaken for each other.
    fn tied(&self) -> Vec<String> {
        let mut said = Vec::new();
        for (i, row) in self.correlation.iter().enumerate() {
            for (j, value) in row.iter().enumerate().take(i).filter(|(_, value)| value.abs() >= TIED) {
                let name =
                    |at: usize| self.estimates.get(at).map(|one| one.unknown.name()).unwrap_or_default();
                let way =
                    if *value > 0.0 { "up and down together" } else { "one up when the other goes down" };
                said.push(format!(
                    "'{}' and '{}' go {way} (correlation {value:.2}): each is less sure than the two together.",
                    name(j),
                    name(i)
                ));
            }
        }
        said
    }

    fn rows(&self, readings: &Readings, units: Units) -> Vec<ToldRow> {
        let own = readings.rows.iter().zip(&self.predicted).zip(&self.residuals).zip(&self.u_rows);
        own.map(|(((row, says), off), u)| {
            let figure = row.seen.figure();
            let value = |si: f64| show_value(si, figure.dimension, units);
            ToldRow {
                servo: match &row.servo {
                    ServoAt::Travel(figure) | ServoAt::Sensor(figure) => {
                        show_value(figure.value, figure.dimension, units)
                    }
                },
                way: if row.way == Direction::Rising { "rising" } else { "falling" },
                gap: row.gap.as_ref().map(|gap| show_value(gap.value, Dimension::Length, units)),
                read: show(figure, units),
                says: value(*says),
                off: value(*off),
                off_over_u: off / u,
            }
        })
        .collect()
    }
}

fn shown_chance(share: f64) -> String {
    match 100.0 * share {
        percent if percent < 1.0 => "less than 1".to_owned(),
        percent if percent > 99.0 => "more than 99".to_owned(),
        percent => format!("{percent:.0}"),
    }
}

/// With a capital first letter and a full stop.
fn sentence(text: &str) -> String {
    format!("{}.", crate::form::upper(text.trim_end_matches('.')))
}

fn estimate(one: &Estimate, units: Units) -> ToldEstimate {
    let found = measured(one);
    let enter_key = match one.unknown {
        Unknown::Figure(key) => Some(key),
        Unknown::OpeningSlack if one.value >= 0.0 => Some("found.opening_play"),
        Unknown::OpeningSlack | Unknown::MarkZero => None,
    };
    let enter_text = enter_key.map(|_| format!("{} (k=2)", show(&found, Units::Metric)));
    ToldEstimate {
        key: one.unknown.key(),
        name: one.unknown.name(),
        found: Figure::of(&found, units),
        readings_alone: one.u_readings,
        before: one.before.as_ref().map(|before| show(before, units)),
        compared: compared(one, units),
        enter: enter_key.zip(enter_text.as_ref()).map(|(key, text)| format!("{key} = \"{text}\"")),
        enter_key,
        enter_text,
    }
}

fn measured(one: &Estimate) -> Measured {
    Measured { value: one.value, u: one.u, shape: Shape::Normal, dimension: one.dimension, written: None }
}

fn compared(one: &Estimate, units: Units) -> String {
    let Some(before) = &one.before else { return "The engine file says nothing of it.".to_owned() };
    let (apart, u) = (one.value - before.value, one.u.hypot(before.u));
    let apart_by = Measured { value: apart.abs(), u, ..measured(one) };
    let by = show(&apart_by, units);
    let side = if apart < 0.0 { "below" } else { "above" };
    if apart.abs() > APART * u {
        format!("{by} {side} what the engine file says, more than both can be off: one of them is wrong.")
    } else if one.u < 0.8 * before.u {
        "Agrees with the engine file, and is known better than there: enter it.".to_owned()
    } else if one.u > 1.25 * before.u {
        "Agrees with the engine file, which knows it better: leave that.".to_owned()
    } else {
        "Agrees with the engine file.".to_owned()
    }
}
