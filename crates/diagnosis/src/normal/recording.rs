//! What was read of an engine, phase by phase, from the texts of a job card.
//!
//! Keys are `normal.<phase key>`; `normal.closed` and `normal.open` say what is read at the two ends, so that figures
//! in mm, degrees, kΩ or V become travel; `normal.tolerance` says how far two readings may lie apart.

mod words;

use quantity::{Dimension, Measured};
use serde::Serialize;
use std::collections::BTreeMap;

/// What every key of a recording begins with.
pub const PREFIX: &str = "normal.";
/// How far two readings of the same phase may lie apart when the user says nothing, as a part of the travel: estimate.
pub(super) const USUAL_TOLERANCE: f64 = 0.05;
/// Travel beyond its ends that is still taken for a reading and not for a slip.
const BEYOND: f64 = 0.25;
/// Most readings one after the other in one phase.
const MOST_STEPS: usize = 20;
/// Dimensions a reading may have besides per cent, in the order in which they are tried.
const SCALES: [Dimension; 4] =
    [Dimension::Length, Dimension::Angle, Dimension::Resistance, Dimension::Voltage];

/// A travel with its standard uncertainty, both as a part of the whole way.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Travel {
    /// 0 closed, 1 fully open.
    pub value: f64,
    /// Standard uncertainty.
    pub u: f64,
}

impl Travel {
    /// In per cent with the expanded uncertainty (k = 2), e.g. "35 ± 4 %".
    pub fn shown(&self) -> String {
        let (value, expanded) = (100.0 * self.value, 200.0 * self.u);
        if expanded < 0.05 {
            return format!("{value:.0} %").replace("-0 %", "0 %");
        }
        let decimals = usize::from(expanded < 2.0);
        let value = format!("{value:.decimals$}");
        let value =
            value.strip_prefix('-').filter(|v| v.trim_matches(['0', '.']).is_empty()).unwrap_or(&value);
        format!("{value} ± {expanded:.decimals$} %")
    }
}

/// What was seen in one phase.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Seen {
    /// Stood at this travel.
    Stands(Travel),
    /// Stood at these travels one after the other.
    Passes(Vec<Travel>),
    /// Went to the stop and back.
    Sweeps,
    /// Went from closed towards open.
    Opens,
    /// Went from open towards closed.
    Closes,
    /// Did not move; where it stood was not written.
    Still,
    /// Words that only a reader understands.
    Words,
}

/// What was written for one phase.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SeenPhase {
    /// Key of the phase.
    pub key: String,
    /// The text as written.
    pub written: String,
    /// What it means.
    pub seen: Seen,
}

/// A text that could not be used.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct RecordingProblem {
    /// Key of the text.
    pub key: String,
    /// What is wrong and how to mend it, one or two sentences.
    pub message: String,
}

/// The readings of one visit.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Recording {
    /// What was seen, by phase.
    pub phases: Vec<SeenPhase>,
    /// How far two readings may lie apart, as a part of the travel; none when the user wrote none.
    pub tolerance: Option<f64>,
    /// Texts that could not be used.
    pub problems: Vec<RecordingProblem>,
}

/// What is read at the two ends.
struct Ends {
    closed: Option<Measured>,
    open: Option<Measured>,
}

impl Recording {
    /// Reads the texts of a job card; keys that are not of a recording, and empty texts, are passed over.
    pub fn read(entries: &BTreeMap<String, String>) -> Self {
        let mut recording = Self::default();
        let ends = Ends { closed: recording.end(entries, "closed"), open: recording.end(entries, "open") };
        recording.tolerance = recording.read_tolerance(entries);
        for (key, text) in entries {
            let Some(phase) = key.strip_prefix(PREFIX) else { continue };
            let text = text.trim();
            if text.is_empty() || matches!(phase, "closed" | "open" | "tolerance" | "logic" | "note") {
                continue;
            }
            match seen(text, &ends) {
                Ok(seen) => {
                    recording.phases.push(SeenPhase { key: phase.to_owned(), written: text.to_owned(), seen })
                }
                Err(message) => recording.problems.push(RecordingProblem { key: key.clone(), message }),
            }
        }
        recording
    }

    /// What was seen in this phase.
    pub fn phase(&self, key: &str) -> Option<&SeenPhase> {
        self.phases.iter().find(|p| p.key == key)
    }

    fn end(&mut self, entries: &BTreeMap<String, String>, which: &str) -> Option<Measured> {
        let key = format!("{PREFIX}{which}");
        let text = entries.get(&key).map(|t| t.trim()).filter(|t| !t.is_empty())?;
        let found = SCALES.iter().find_map(|d| quantity::parse(text, *d).ok());
        if found.is_none() {
            let message = format!(
                "\"{text}\" cannot be read as the {which} end. Write what is read there with its unit: mm, °, kΩ or V, such as 9.8 mm."
            );
            self.problems.push(RecordingProblem { key, message });
        }
        found
    }

    fn read_tolerance(&mut self, entries: &BTreeMap<String, String>) -> Option<f64> {
        let key = format!("{PREFIX}tolerance");
        let text = entries.get(&key).map(|t| t.trim()).filter(|t| !t.is_empty())?;
        let part = quantity::parse(text, Dimension::Number).ok().filter(|_| is_share(text)).map(|m| m.value);
        let part = part.filter(|p| (0.001..=0.5).contains(p));
        if part.is_none() {
            let message =
                format!("\"{text}\" is no tolerance. Write a part of the travel from 0.1 % to 50 %.");
            self.problems.push(RecordingProblem { key, message });
        }
        part
    }
}

fn is_share(text: &str) -> bool {
    text.contains('%') || text.contains("percent") || text.contains("per cent")
}

/// What a text means.
fn seen(text: &str, ends: &Ends) -> Result<Seen, String> {
    if let Some(seen) = words::meaning(text) {
        return Ok(seen);
    }
    let steps: Vec<&str> =
        text.split(" then ").flat_map(|t| t.split("->")).flat_map(|t| t.split('→')).collect();
    if steps.len() > MOST_STEPS {
        return Err(format!("There are {} readings in one phase; write at most {MOST_STEPS}.", steps.len()));
    }
    let figures = steps.iter().filter(|s| begins_with_figure(s)).count();
    if figures == 0 {
        return Ok(Seen::Words);
    }
    let mut travels = Vec::with_capacity(steps.len());
    for step in steps {
        let step = step.trim().trim_end_matches(',');
        travels.push(match words::place(step) {
            Some(travel) => travel,
            None => travel(step, ends)?,
        });
    }
    Ok(match travels.as_slice() {
        [one] => Seen::Stands(*one),
        _ => Seen::Passes(travels),
    })
}

fn begins_with_figure(text: &str) -> bool {
    let text = text.trim_start().trim_start_matches(['-', '+', '−', '.', ',']);
    text.starts_with(|c: char| c.is_ascii_digit())
}

/// One figure as a travel.
fn travel(text: &str, ends: &Ends) -> Result<Travel, String> {
    let found = if is_share(text) {
        // "35 ± 3 %" is 35 % with limits of 3 % of the travel, not of the reading: the sign belongs to both figures.
        let bare = text.replace("per cent", "").replace("percent", "").replace('%', "");
        let share = quantity::parse(&bare, Dimension::Number).map_err(|error| error.to_string())?;
        Travel { value: share.value / 100.0, u: share.u / 100.0 }
    } else {
        scaled(text, ends)?
    };
    if !(-BEYOND..=1.0 + BEYOND).contains(&found.value) {
        return Err(format!(
            "\"{text}\" is {:.0} % of the travel; readings lie between 0 % (closed) and 100 % (fully open). Look at the unit and at the two ends.",
            100.0 * found.value
        ));
    }
    Ok(found)
}

/// A figure between the readings of the two ends, with the uncertainty of all three.
fn scaled(text: &str, ends: &Ends) -> Result<Travel, String> {
    let Some(reading) = SCALES.iter().find_map(|d| quantity::parse(text, *d).ok()) else {
        return Err(format!(
            "\"{text}\" has no unit that fits. Write the travel in %, the edge in mm, the pulley in °, the sensor in kΩ or V, or words such as \"closed\"."
        ));
    };
    let dimension = reading.dimension;
    let zero = || Measured::exact(0.0, dimension);
    // Lengths and angles count from closed; a sensor does not, so both its ends are asked for.
    let counts_from_closed = matches!(dimension, Dimension::Length | Dimension::Angle);
    let closed = ends.closed.clone().or_else(|| counts_from_closed.then(zero));
    let (Some(closed), Some(open)) = (closed, ends.open.clone()) else {
        let which = if counts_from_closed { "fully open" } else { "closed and fully open" };
        return Err(format!("\"{text}\" cannot be made a travel: write also what is read when {which}."));
    };
    if closed.dimension != dimension || open.dimension != dimension {
        return Err(format!(
            "\"{text}\" is {}, but the ends were read as {} and {}. Read all three the same way.",
            dimension.noun(),
            closed.dimension.noun(),
            open.dimension.noun()
        ));
    }
    let way = open.value - closed.value;
    let part = (reading.value - closed.value) / way;
    let u = reading.u.hypot((1.0 - part) * closed.u).hypot(part * open.u) / way.abs();
    // Ends that cannot be told apart make every travel meaningless.
    if !(part.is_finite() && u.is_finite()) || way.abs() <= 2.0 * closed.u.hypot(open.u) {
        return Err(
            "The readings closed and fully open cannot be told apart. Read the two ends again.".to_owned()
        );
    }
    Ok(Travel { value: part, u })
}

#[cfg(test)]
mod tests;
