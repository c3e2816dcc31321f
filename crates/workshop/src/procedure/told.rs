//! A comparison as finished texts and numbers, for a page, a sheet or `--json`.

use super::compare::{Comparison, Entry, Pair};
use super::conform;
use super::drivers::{Driver, drivers};
use super::outcome::{Measure, Signs};
use super::run::Scope;
use super::summary::{Histogram, Quantiles};
use super::words::{ToldCheck, ToldDemand, verdict_word};
use crate::setting::demand::Demand;
use evidence::sensitivity::Indices;
use quantity::Units;
use serde::Serialize;
use std::collections::BTreeMap;

/// Bins of the histograms of other measures than the edge.
const BINS: usize = 40;

/// Everything that is told of a comparison; numbers in SI.
#[derive(Debug, Clone, Serialize)]
pub struct Told {
    /// Which engines were drawn.
    pub scope: Scope,
    /// Draws for each procedure.
    pub draws: usize,
    /// Acceptance limit of the edge at full travel, m either side of flush.
    pub flush_limit_m: f64,
    /// What is said of all together, in sentences.
    pub statements: Vec<String>,
    /// How each demand is checked after the work.
    pub checks: Vec<ToldCheck>,
    /// The procedures, best first.
    pub procedures: Vec<ToldProcedure>,
    /// Every pair, by places in `procedures`.
    pub pairs: Vec<Pair>,
    /// What could not be carried out: name and reason.
    pub left_out: Vec<(String, String)>,
}

/// Everything that is told of one procedure; numbers in SI.
#[derive(Debug, Clone, Serialize)]
pub struct ToldProcedure {
    /// Key.
    pub key: String,
    /// Name.
    pub name: String,
    /// What those say who work so.
    pub claim: String,
    /// Where it comes from.
    pub source: String,
    /// Its steps on this gear, in words.
    pub steps: Vec<String>,
    /// One sentence on how it does.
    pub headline: String,
    /// What it does and why.
    pub reasons: Vec<String>,
    /// Share of draws that meet every demand.
    pub all_demands: f64,
    /// Share of draws that meet each demand, by its key.
    pub demands: BTreeMap<&'static str, f64>,
    /// The same with its verdict, and what a check would come to.
    pub conformity: Vec<ToldDemand>,
    /// "pass", "fail" or "cannot tell" of all demands together.
    pub verdict: &'static str,
    /// Share of draws on which a step could not be done.
    pub failed: f64,
    /// Share of draws in which the valve meets its end early, the closing side goes taut, the opening wire is taut at
    /// park, the closing sheath loses its seat, the valve stands off its pin at park.
    pub signs: BTreeMap<&'static str, f64>,
    /// Where each measure lies, by its key.
    pub measures: BTreeMap<&'static str, Option<Quantiles>>,
    /// Edge at full travel, over the range that all procedures share.
    pub edge_histogram: Histogram,
    /// Greatest wire tension, over the range that all procedures share.
    pub tension_histogram: Histogram,
    /// What drives the spread of the edge at full travel, largest first.
    pub drivers: Vec<Driver>,
    /// The same variance-based, first order and total, where it was worked out.
    pub influences: Option<Indices>,
}

impl Signs {
    /// Key for `--json`, in the order of [`Signs::ALL`].
    const KEYS: [&'static str; 5] =
        ["end-met-early", "closing-taut", "opening-taut-at-park", "closing-loose", "off-pin-at-park"];
}

impl Comparison {
    /// Everything that is told of it, in the chosen units.
    pub fn told(&self, units: Units) -> Told {
        let first = self.entries.first();
        Told {
            scope: self.scope,
            draws: first.map_or(0, |entry| entry.summary.draws),
            flush_limit_m: first.map_or(0.0, |entry| entry.run.case().limits.flush_m),
            statements: self.statements(units),
            checks: self.checks_told(units),
            procedures: self.entries.iter().map(|entry| self.tell(entry, units)).collect(),
            pairs: self.pairs.clone(),
            left_out: self
                .left_out
                .iter()
                .map(|(procedure, why)| (procedure.name.clone(), why.to_string()))
                .collect(),
        }
    }

    /// The largest 97.5 % point of the greatest wire tension among the procedures, N.
    fn tension_range_n(&self) -> f64 {
        let tensions = self.entries.iter().filter_map(|entry| entry.summary.quantiles(Measure::WireTension));
        1.1 * tensions.map(|tension| tension.high).fold(1.0, f64::max)
    }

    fn tell(&self, entry: &Entry, units: Units) -> ToldProcedure {
        let (procedure, summary) = (entry.run.procedure(), &entry.summary);
        let verdict = self.verdict(entry, units);
        ToldProcedure {
            key: procedure.key.clone(),
            name: procedure.name.clone(),
            claim: procedure.claim.clone(),
            source: procedure.source.clone(),
            steps: entry.run.steps().iter().map(|step| step.say.clone()).collect(),
            headline: verdict.headline,
            reasons: verdict.reasons,
            all_demands: summary.all_demands,
            demands: Demand::ALL.iter().map(|demand| (demand.key(), summary.demand(*demand))).collect(),
            conformity: self.demands_told(entry, units),
            verdict: verdict_word(conform::verdict(summary.all_demands)),
            failed: summary.failed,
            signs: Signs::KEYS.into_iter().zip(summary.signs).collect(),
            measures: Measure::ALL.iter().map(|of| (of.key(), summary.quantiles(*of))).collect(),
            edge_histogram: self.edge_histogram(entry),
            tension_histogram: Histogram::of(entry.tensions_n(), 0.0, self.tension_range_n(), BINS),
            drivers: drivers(&entry.run, Measure::EdgeAtFull),
            influences: entry.influences.clone(),
        }
    }
}
