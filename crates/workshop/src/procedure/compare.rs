//! Procedures side by side: who meets the demands, and where the quarrel is about nothing.

use super::conform::{Judged, judge};
use super::draw::Draws;
use super::execute::NotDone;
use super::model::{Procedure, Procedures};
use super::outcome::{ALL_MET, Measure};
use super::run::{Run, Scope};
use super::summary::{Histogram, Summary};
use engine::model::Engine;
use evidence::sensitivity::Indices;
use std::ops::Range;

/// Two procedures agree when, on the same gear, their edges at full travel lie no further apart than the acceptance
/// limit in at least this share of the draws.
pub const AGREE_SHARE: f64 = 0.95;

/// Bins of the histograms of a comparison.
const BINS: usize = 60;

/// One procedure with its draws.
#[derive(Debug, Clone)]
pub struct Entry {
    /// The procedure, prepared.
    pub run: Run,
    /// What its draws say.
    pub summary: Summary,
    /// What drives the spread of its edge at full travel, variance-based; none until somebody works it out
    /// ([`Run::influences`] for [`Measure::EdgeAtFull`]).
    pub influences: Option<Indices>,
    /// What may be said of it against each demand, before and after a check.
    pub judged: Vec<Judged>,
    /// Edge at full travel of every draw, m, in the order of the draws.
    edges_m: Vec<f64>,
    /// Whether every demand is met, draw by draw.
    met: Vec<bool>,
    /// Greatest wire tension of every draw, N.
    tensions_n: Vec<f64>,
}

impl Entry {
    /// Sums up the draws of a run.
    pub fn of(run: Run, draws: &Draws) -> Self {
        Self {
            judged: judge(draws, run.case(), run.checks()),
            run,
            summary: Summary::of(draws),
            influences: None,
            edges_m: draws.column(Measure::EdgeAtFull).to_vec(),
            met: draws.met().iter().map(|met| *met == ALL_MET).collect(),
            tensions_n: draws.column(Measure::WireTension).to_vec(),
        }
    }

    /// Key of the procedure.
    pub fn key(&self) -> &str {
        &self.run.procedure().key
    }

    /// Edge at full travel of every draw, m; not a number where the draw failed.
    pub fn edges_m(&self) -> &[f64] {
        &self.edges_m
    }

    /// Greatest wire tension of every draw, N; not a number where the draw failed.
    pub fn tensions_n(&self) -> &[f64] {
        &self.tensions_n
    }
}

/// How two procedures compare on the same gears.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Pair {
    /// Place of the first in [`Comparison::entries`].
    pub first: usize,
    /// Place of the second.
    pub second: usize,
    /// Share of draws in which their edges at full travel differ by no more than the acceptance limit.
    pub close: f64,
    /// Share of draws in which both meet every demand or both miss one.
    pub same_verdict: f64,
    /// Median of how far the first stands above the second, m; not a number when most draws failed.
    pub apart_m: f64,
    /// Acceptance limit of the edge, m.
    pub limit_m: f64,
}

impl Pair {
    /// The two aim at the same place: what parts them is how well it is felt and read.
    pub fn same_aim(&self) -> bool {
        self.apart_m.abs() <= self.limit_m
    }

    /// The two agree within the acceptance band.
    pub fn agrees(&self) -> bool {
        self.close >= AGREE_SHARE
    }
}

/// Several procedures on one engine.
#[derive(Debug, Clone)]
pub struct Comparison {
    /// Which engines were drawn.
    pub scope: Scope,
    /// The procedures, best first.
    pub entries: Vec<Entry>,
    /// Every pair of them, in the order of the entries.
    pub pairs: Vec<Pair>,
    /// Those that cannot be carried out on this engine, and why.
    pub left_out: Vec<(Procedure, NotDone)>,
}

impl Comparison {
    /// Prepares every procedure. What cannot be carried out comes second, with the reason.
    pub fn prepare(
        engine: &Engine,
        procedures: &Procedures,
        scope: Scope,
        seed: u64,
    ) -> (Vec<Run>, Vec<(Procedure, NotDone)>) {
        let (mut runs, mut left_out) = (Vec::new(), Vec::new());
        for procedure in &procedures.procedures {
            match Run::new(engine, procedures, procedure, scope, seed) {
                Ok(run) => runs.push(run),
                Err(why) => left_out.push((procedure.clone(), why)),
            }
        }
        (runs, left_out)
    }

    /// Draws every procedure, one after the other on the calling thread. The program, which has threads, uses
    /// [`Comparison::prepare`], [`Run::draw`], [`Draws::join`], [`Entry::of`] and [`Comparison::rank`].
    pub fn of(engine: &Engine, procedures: &Procedures, scope: Scope, range: Range<u64>, seed: u64) -> Self {
        let (runs, left_out) = Self::prepare(engine, procedures, scope, seed);
        let entries = runs
            .into_iter()
            .map(|run| {
                let draws = run.draw(range.clone());
                Entry::of(run, &draws)
            })
            .collect();
        Self::rank(scope, entries, left_out)
    }

    /// Puts the entries in order: first the share of draws that meet every demand, then how near flush the middle
    /// half of the draws stays.
    pub fn rank(scope: Scope, mut entries: Vec<Entry>, left_out: Vec<(Procedure, NotDone)>) -> Self {
        let off_m = |entry: &Entry| {
            entry
                .summary
                .quantiles(Measure::EdgeAtFull)
                .map_or(f64::INFINITY, |edge| edge.quarter.abs().max(edge.three_quarters.abs()))
        };
        entries.sort_by(|a, b| {
            let by_share = b.summary.all_demands.total_cmp(&a.summary.all_demands);
            by_share.then(off_m(a).total_cmp(&off_m(b))).then(a.key().cmp(b.key()))
        });
        let mut pairs = Vec::new();
        for (first, a) in entries.iter().enumerate() {
            for (second, b) in entries.iter().enumerate().skip(first + 1) {
                pairs.push(pair(first, second, a, b));
            }
        }
        Self { scope, entries, pairs, left_out }
    }

    /// The entry of a procedure.
    pub fn find(&self, key: &str) -> Option<&Entry> {
        self.entries.iter().find(|entry| entry.key() == key)
    }

    /// How two entries compare.
    pub fn pair(&self, first: usize, second: usize) -> Option<&Pair> {
        let (low, high) = (first.min(second), first.max(second));
        self.pairs.iter().find(|pair| pair.first == low && pair.second == high)
    }

    /// Sets of entries in which every one agrees with every other, each as large as it can be, largest first; an entry
    /// may stand in several.
    pub fn circles(&self) -> Vec<Vec<usize>> {
        self.circles_by(Pair::agrees)
    }

    /// The same for those that [aim at the same place](Pair::same_aim).
    pub fn circles_of_aim(&self) -> Vec<Vec<usize>> {
        self.circles_by(Pair::same_aim)
    }

    fn circles_by(&self, like: impl Fn(&Pair) -> bool) -> Vec<Vec<usize>> {
        let agrees = |a: usize, b: usize| self.pair(a, b).is_some_and(&like);
        let mut circles: Vec<Vec<usize>> = Vec::new();
        for start in 0..self.entries.len() {
            let mut circle = vec![start];
            for other in 0..self.entries.len() {
                if other != start && circle.iter().all(|&member| agrees(member, other)) {
                    circle.push(other);
                }
            }
            circle.sort_unstable();
            let held = circles.iter().any(|held| circle.iter().all(|member| held.contains(member)));
            if circle.len() > 1 && !held {
                circles.push(circle);
            }
        }
        circles.sort_by_key(|circle| std::cmp::Reverse(circle.len()));
        circles
    }

    /// Range of edges that shows every procedure: from the lowest 2.5 % to the highest, and the acceptance band, m.
    pub fn edge_range_m(&self) -> (f64, f64) {
        let limit_m = self.entries.first().map_or(0.0, |entry| entry.run.case().limits.flush_m);
        let edges = || self.entries.iter().filter_map(|entry| entry.summary.quantiles(Measure::EdgeAtFull));
        let low = edges().map(|edge| edge.low).fold(-2.0 * limit_m, f64::min);
        let high = edges().map(|edge| edge.high).fold(2.0 * limit_m, f64::max);
        let room = 0.05 * (high - low);
        (low - room, high + room)
    }

    /// Histogram of an entry's edge at full travel over [`Comparison::edge_range_m`].
    pub fn edge_histogram(&self, entry: &Entry) -> Histogram {
        let (low, high) = self.edge_range_m();
        Histogram::of(&entry.edges_m, low, high, BINS)
    }
}

fn pair(first: usize, second: usize, a: &Entry, b: &Entry) -> Pair {
    let limit_m = a.run.case().limits.flush_m;
    let count = a.edges_m.len().min(b.edges_m.len()).max(1) as f64;
    // A draw on which either failed has a distance that is no number: it is not close.
    let mut apart: Vec<f64> = a.edges_m.iter().zip(&b.edges_m).map(|(a, b)| a - b).collect();
    let close = apart.iter().filter(|apart| apart.abs() <= limit_m).count() as f64 / count;
    let same = a.met.iter().zip(&b.met).filter(|(a, b)| a == b).count() as f64 / count;
    let middle = apart.len() / 2;
    let apart_m =
        if apart.is_empty() { f64::NAN } else { *apart.select_nth_unstable_by(middle, f64::total_cmp).1 };
    Pair { first, second, close, same_verdict: same, apart_m, limit_m }
}
