//! Two visits or two builds side by side: what changed, and what that means for the valve.

mod answers;
mod rows;

pub use answers::EndChange;
pub use rows::Change;

use crate::report::{Drift, Turn};
use quantity::Units;
use serde::Serialize;
use std::collections::BTreeMap;

/// Two sets of fields side by side; a is the earlier, b the later one.
#[derive(Debug, Clone, Serialize)]
pub struct Comparison {
    /// Every field that is not the same, in the order of the engine file; ports are matched by name.
    pub rows: Vec<Change>,
    /// How many fields are the same to the letter.
    pub unchanged: usize,
    /// The valve edge at both ends as found, when both can be worked out: closed first, then fully open.
    pub ends: Vec<EndChange>,
    /// How far b's readings are from the return values (its own, or else those of a).
    pub drift: Vec<Drift>,
    /// What to turn in b.
    pub turns: Vec<Turn>,
    /// The whole in a few sentences.
    pub words: Vec<String>,
}

/// Compares two sets of fields. Every pair of maps is answered.
pub fn compare(a: &BTreeMap<String, String>, b: &BTreeMap<String, String>, units: Units) -> Comparison {
    let a = rows::with_numbers_of(a, b);
    let (rows, unchanged) = rows::rows(&a, b, units);
    let answers = answers::answers(&a, b, units);
    let mut words = vec![counted(&rows, unchanged)];
    words.extend(answers.words);
    Comparison { rows, unchanged, ends: answers.ends, drift: answers.drift, turns: answers.turns, words }
}

fn counted(rows: &[Change], unchanged: usize) -> String {
    if rows.is_empty() {
        return format!("Nothing changed: all {unchanged} entries are the same to the letter.");
    }
    let real = rows.iter().filter(|row| row.real == Some(true)).count();
    let within = rows.iter().filter(|row| row.real == Some(false)).count();
    format!(
        "{} of {} entries differ: {real} by more than their limits allow, {within} by less, {} in words or because one \
         side has none.",
        rows.len(),
        rows.len() + unchanged,
        rows.len() - real - within
    )
}

#[cfg(test)]
mod tests;
