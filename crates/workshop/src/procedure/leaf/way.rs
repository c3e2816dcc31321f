//! One way on paper.

use super::SIDE_BY_SIDE;
use crate::procedure::compare::{Comparison, Entry};
use crate::procedure::conform;
use crate::procedure::drivers::drivers;
use crate::procedure::model::{Step, Until, ValveHold};
use crate::procedure::outcome::Measure;
use crate::procedure::words::{ToldDemand, figure_name, percent, verdict_word};
use drawing::Scene;
use quantity::{Dimension, Measured, Units, show, show_with};
use std::f64::consts::TAU;

/// So many drivers are listed.
const DRIVERS: usize = 5;
/// Shares below this are not listed.
const SMALL: f64 = 0.01;

/// One way in finished texts.
#[derive(Debug, Clone, PartialEq)]
pub struct LeafWay {
    /// Letter by which tables call it: A, B ...
    pub letter: String,
    /// Name.
    pub name: String,
    /// What those say who work so.
    pub claim: String,
    /// Where it comes from.
    pub source: String,
    /// Its steps on this gear.
    pub steps: Vec<LeafStep>,
    /// One sentence on how it does.
    pub headline: String,
    /// What it does and why.
    pub reasons: Vec<String>,
    /// Share of draws that meet every demand.
    pub meets_all: String,
    /// "pass", "fail" or "cannot tell" of all demands together.
    pub verdict: &'static str,
    /// Every demand and what a check of it would come to.
    pub demands: Vec<LeafDemand>,
    /// The measures of [`SIDE_BY_SIDE`].
    pub side_by_side: Vec<LeafFigure>,
    /// Every measure.
    pub measures: Vec<LeafFigure>,
    /// What drives the spread of the edge at full travel, largest first.
    pub drivers: Vec<LeafDriver>,
    /// Where its edge stands in all draws: a strip over the scale that all ways share.
    pub hill: Scene,
    /// The valve's edge beside the port roof in the middle draw.
    pub edge: Option<Scene>,
}

/// One step: what is done, and what is stated of hand and reading.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeafStep {
    /// What the mechanic is told.
    pub say: String,
    /// Figures with their spread, each with its name.
    pub stated: Vec<String>,
}

/// One demand on the way: shares as finished texts.
#[derive(Debug, Clone, PartialEq)]
pub struct LeafDemand {
    /// In words.
    pub name: String,
    /// Its limit.
    pub limit: String,
    /// Probability of conformity.
    pub holds: String,
    /// "pass", "fail" or "cannot tell", before anything is read.
    pub verdict: &'static str,
    /// A check passes, fails, cannot tell, passes wrongly, does not pass though right; none where nothing reads it.
    pub check: Option<[String; 5]>,
    /// Worth a sentence: the way does not surely meet it, or a check would leave many right ones unpassed.
    pub notable: bool,
    /// All of it in a sentence or two.
    pub says: String,
}

impl LeafDemand {
    fn of(told: ToldDemand) -> Self {
        const MANY: f64 = 0.05;
        let unpassed = told.decision.is_some_and(|decision| decision.wrong_rejection > MANY);
        let check = told
            .decision
            .map(|d| [d.passes, d.fails, d.cannot_tell, d.wrong_acceptance, d.wrong_rejection].map(percent));
        Self {
            name: told.name,
            limit: told.limit,
            holds: percent(told.probability),
            verdict: told.verdict,
            check,
            notable: told.verdict != "pass" || unpassed,
            says: told.says,
        }
    }
}

/// The middle and the range of one measure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeafFigure {
    /// Name of the measure.
    pub name: &'static str,
    /// The middle draw.
    pub middle: String,
    /// The range that holds nineteen of twenty; empty where there is none.
    pub range: String,
}

/// One figure that drives the spread.
#[derive(Debug, Clone, PartialEq)]
pub struct LeafDriver {
    /// Its name in words.
    pub name: String,
    /// The part of the spread that it makes alone.
    pub alone: String,
    /// The part in which it has any share; none when only the first order was worked out.
    pub with_others: Option<String>,
    /// The larger of both as a number, 0 to 1.
    pub share: f64,
}

impl Comparison {
    pub(super) fn leaf_way(&self, at: usize, entry: &Entry, units: Units) -> LeafWay {
        let procedure = entry.run.procedure();
        let verdict = self.verdict(entry, units);
        LeafWay {
            letter: letter(at),
            name: procedure.name.clone(),
            claim: procedure.claim.clone(),
            source: procedure.source.clone(),
            steps: entry.run.steps().iter().map(|step| leaf_step(step, units)).collect(),
            headline: verdict.headline,
            reasons: verdict.reasons,
            meets_all: percent(entry.summary.all_demands),
            verdict: verdict_word(conform::verdict(entry.summary.all_demands)),
            demands: self.demands_told(entry, units).into_iter().map(LeafDemand::of).collect(),
            side_by_side: SIDE_BY_SIDE.iter().map(|of| leaf_figure(entry, *of, units)).collect(),
            measures: Measure::ALL.iter().map(|of| leaf_figure(entry, *of, units)).collect(),
            drivers: leaf_drivers(entry),
            hill: self.hill_scene(entry),
            edge: self.edge_at_roof_scene(entry, units),
        }
    }
}

/// A to Z, then AA, AB ...
fn letter(at: usize) -> String {
    let last = char::from(b'A' + (at % 26) as u8);
    if at < 26 { last.to_string() } else { format!("{}{last}", letter(at / 26 - 1)) }
}

fn leaf_figure(entry: &Entry, measure: Measure, units: Units) -> LeafFigure {
    let shown = |si: f64| show_with(si, decimals(measure.dimension(), units), measure.dimension(), units);
    match entry.summary.quantiles(measure) {
        Some(q) => LeafFigure {
            name: measure.name(),
            middle: shown(q.median),
            range: between(&shown(q.low), &shown(q.high)),
        },
        None => LeafFigure { name: measure.name(), middle: "no figure".to_owned(), range: String::new() },
    }
}

/// Digits after the point: as many as hands can tell, so that figures of one column can be compared at a glance.
fn decimals(dimension: Dimension, units: Units) -> usize {
    match (dimension, units) {
        (Dimension::Length, Units::Metric) | (Dimension::Torque, _) => 2,
        (Dimension::Length, Units::Inch) => 3,
        (Dimension::Force, Units::Metric) => 0,
        _ => 1,
    }
}

/// "1.0 to 2.0 mm": the unit once.
fn between(low: &str, high: &str) -> String {
    match (low.split_once(' '), high.split_once(' ')) {
        (Some((figure, unit)), Some((_, other))) if unit == other => format!("{figure} to {high}"),
        _ => format!("{low} to {high}"),
    }
}

fn leaf_drivers(entry: &Entry) -> Vec<LeafDriver> {
    let shown = |share: f64| percent(share.clamp(0.0, 1.0));
    let list: Vec<LeafDriver> = match &entry.influences {
        Some(indices) => indices
            .ranked()
            .into_iter()
            .map(|influence| LeafDriver {
                name: figure_name(&influence.name),
                alone: shown(influence.first_order.value),
                with_others: Some(shown(influence.total.value)),
                share: influence.total.value.max(influence.first_order.value).clamp(0.0, 1.0),
            })
            .collect(),
        None => drivers(&entry.run, Measure::EdgeAtFull)
            .into_iter()
            .map(|driver| LeafDriver {
                name: driver.name,
                alone: shown(driver.share),
                with_others: None,
                share: driver.share,
            })
            .collect(),
    };
    list.into_iter().filter(|driver| driver.share >= SMALL).take(DRIVERS).collect()
}

fn leaf_step(step: &Step, units: Units) -> LeafStep {
    let mut stated = Vec::new();
    let mut state = |name: &str, figure: &Measured| {
        if figure.value != 0.0 || figure.u != 0.0 {
            stated.push(format!("{name} {}", show(figure, units)));
        }
    };
    match &step.until {
        Until::Pull(figure) => state("pull of the hand", figure),
        Until::Play(figure) => state("play felt", figure),
        Until::Gap(figure) | Until::EqualGap(figure) => state("gap read", figure),
        Until::Edge(figure) => state("edge above flush as read", figure),
        Until::Mark(figure) => state("mark past its line as read", figure),
        Until::SpringLength(figure) => state("spring length read", figure),
        Until::Lifts | Until::End | Until::CoilsTouch | Until::Left => {}
    }
    state("servo past its place", &step.hold.servo_off);
    let held = match step.hold.valve {
        ValveHold::Flush => "edge held off flush by",
        ValveHold::Mark => "mark held off its line by",
        ValveHold::Pin | ValveHold::End | ValveHold::Free => "valve held off its place by",
    };
    state(held, &step.hold.valve_off);
    state("listed figure against this port", &step.datum);
    if step.back.value != 0.0 || step.back.u != 0.0 {
        let turns = |rad: f64| rad / TAU;
        let (value, band) = (turns(step.back.value), turns(2.0 * step.back.u));
        stated.push(format!("turned back {value:.2} ± {band:.2} turns"));
    }
    LeafStep { say: step.say.clone(), stated }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_ranges_name_their_unit_once() {
        assert_eq!(between("−0.20 mm", "0.01 mm"), "−0.20 to 0.01 mm");
        assert_eq!(between("1.0°", "2.0°"), "1.0° to 2.0°");
    }

    #[test]
    fn exact_letters_go_on_after_z() {
        assert_eq!([0, 25, 26, 51, 52].map(letter), ["A", "Z", "AA", "AZ", "BA"]);
    }
}
