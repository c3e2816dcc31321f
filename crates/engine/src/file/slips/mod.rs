//! Slips of the trade, each found by one rule and answered with a question. Nothing is mended here.

mod chamfer;
mod copied;
mod crowded;
mod datum;
mod dead_centre;
mod duration;
mod gates;
mod pipe;
mod reach;
mod rod;
mod spread;
mod spring;
mod swapped;
mod timing;
mod usual;

use super::build::Tables;
use super::problem::Question;
use super::sure::{Sure, as_listed};
use super::table::Table;
use crate::model::Engine;
use crate::ports::CrownPath;
use quantity::{Dimension, Units};

/// What the rules look at.
pub(super) struct Case<'a> {
    pub(super) tables: Tables<'a>,
    pub(super) engine: &'a Engine,
    pub(super) path: CrownPath,
}

/// Collects questions: one for a key, none for a confirmed one.
pub(super) struct Asked<'a> {
    sure: &'a Sure,
    questions: Vec<Question>,
}

impl Asked<'_> {
    /// Asks about a key: what was read and why it is odd, and what was likely meant.
    fn ask(&mut self, table: &Table, key: &str, text: impl Into<String>, likely: impl Into<String>) {
        let full = table.key(key);
        if self.sure.holds(&full) || self.questions.iter().any(|question| question.key == full) {
            return;
        }
        let confirm = format!(
            "Mend it, or add \"{}\" to the list sure at the top of the file if it is right.",
            as_listed(&full)
        );
        self.questions.push(Question {
            line: table.line_of(key).or(table.line),
            key: full,
            text: text.into(),
            likely: likely.into(),
            confirm,
        });
    }
}

impl Asked<'_> {
    /// True when a question about one of these keys may explain what a later rule finds.
    fn has_asked(&self, keys: &[&str]) -> bool {
        self.questions.iter().any(|question| keys.iter().any(|key| question.key.starts_with(key)))
    }
}

/// All questions about a file, in the order of its lines. The rules that explain most come first: one question for
/// a key is enough.
pub(super) fn questions(case: &Case<'_>, sure: &Sure) -> Vec<Question> {
    let mut asked = Asked { sure, questions: Vec::new() };
    let rules = [
        usual::ask,
        datum::ask,
        dead_centre::ask,
        duration::ask,
        timing::ask,
        chamfer::ask,
        crowded::ask,
        rod::ask,
        reach::ask,
        spring::ask,
        swapped::ask,
        copied::ask,
        gates::ask,
        pipe::ask,
        spread::ask,
    ];
    for rule in rules {
        rule(case, &mut asked);
    }
    asked.questions.sort_by_key(|question| question.line.unwrap_or(usize::MAX));
    asked.questions
}

/// The text of a key's figure as it was written, in quotes.
fn written(table: &Table, key: &str) -> String {
    let text = table.figure(key).and_then(|figure| figure.written);
    format!("'{}'", text.unwrap_or_default())
}

fn mm(length_m: f64) -> String {
    quantity::show_value(length_m, Dimension::Length, Units::Metric)
}

fn degrees(angle_rad: f64) -> String {
    quantity::show_value(angle_rad, Dimension::Angle, Units::Metric)
}
