//! How far the results may be off: the same computation over random draws of everything that was measured
//! (JCGM 101:2008, propagation of distributions), and the share of each figure (JCGM 100:2008, first order).

use super::case::{Bounds, Case};
use super::demand::{Demand, Reached};
use super::present::{OpeningFrom, Sources};
use super::solution::Turns;
use super::target::Proposal;
use engine::model::Engine;
use evidence::Input;
use evidence::propagation::{Bettered, Budget, Method, Sample, first_order, monte_carlo_many, what_if};
use gear::Setting;
use quantity::Measured;
use std::cell::RefCell;

/// Draws of the whole gear; the ends of a 95 % interval are then good to about 2 % of its width.
const DRAWS: usize = 4_000;
/// Draws to find how far a margin spreads: good to about 5 %.
const DRAWS_FOR_GUARD: usize = 500;
/// Fixed, so that the same file gives the same figures.
const SEED: u64 = 0x706f_7274;
/// A nut is set to within half a flat of the hexagon.
const HALF_FLAT_TURNS: f64 = 1.0 / 12.0;
/// Free play of a wire felt by hand, set without a reading to go by: common practice, no source.
const PLAY_BY_HAND_M: f64 = 0.2e-3;

/// A result with its spread, SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// At best values.
    pub best: f64,
    /// Standard deviation of the draws.
    pub u: f64,
    /// Lower end of the 95 % interval.
    pub low: f64,
    /// Upper end.
    pub high: f64,
    /// Share of draws inside the acceptance limits; 1 where there are none.
    pub within: f64,
}

/// One line of the uncertainty budget.
#[derive(Debug, Clone, PartialEq)]
pub struct Share {
    /// Key of the figure.
    pub key: String,
    /// What its standard uncertainty adds to the result's, in the result's SI unit, never negative.
    pub contribution: f64,
}

/// Everything with a spread.
#[derive(Debug, Clone, Default)]
pub struct Spread {
    /// Edge above flush at full travel as found.
    pub found_full: Option<Band>,
    /// Edge above its closed position as found.
    pub found_closed: Option<Band>,
    /// Edge above flush at full travel as proposed.
    pub proposed_full: Option<Band>,
    /// Edge above its closed position as proposed.
    pub proposed_closed: Option<Band>,
    /// How far the opening adjuster must move out to bring the edge flush, m.
    pub opening_move: Option<Band>,
    /// How far the edge moves by the proposed turns, m.
    pub edge_move: Option<Band>,
    /// Opening slack as proposed, at closed park, m.
    pub opening_slack: Option<Band>,
    /// Share of draws in which each demand is met, in the order of [`Demand::ALL`].
    pub demands: Option<[f64; Demand::ALL.len()]>,
    /// What each figure adds to the proposed edge at full travel, largest first.
    pub budget: Vec<Share>,
    /// Draws that could not be solved (geometry out of range), as a share.
    pub failed: f64,
}

/// Stands for a margin without bound (no load at all), which a sample cannot hold.
const UNBOUNDED: f64 = 1e9;

/// Places of the results of one draw; the margins of the demands follow from `DEMANDS` on.
mod place {
    pub(super) const FOUND_FULL: usize = 0;
    pub(super) const FOUND_CLOSED: usize = 1;
    pub(super) const PROPOSED_FULL: usize = 2;
    pub(super) const PROPOSED_CLOSED: usize = 3;
    pub(super) const OPENING_MOVE: usize = 4;
    pub(super) const EDGE_MOVE: usize = 5;
    pub(super) const OPENING_SLACK: usize = 6;
    pub(super) const DEMANDS: usize = 7;
}
const RESULTS: usize = place::DEMANDS + Demand::ALL.len();

/// Results of one draw; `None` where the readings or the proposal do not tell.
type Results = [Option<f64>; RESULTS];

/// The error a hand makes at both adjusters: limits ±1, in half flats (turns counted) or in [`PLAY_BY_HAND_M`].
#[derive(Clone, Copy)]
struct Hand {
    opening: f64,
    closing: f64,
}

struct Context<'a> {
    sources: Sources,
    proposal: Option<&'a Proposal>,
    turns: Turns,
}

/// Runs the draws and the budget.
pub fn spread(engine: &Engine, sources: Sources, proposal: Option<&Proposal>, turns: Turns) -> Spread {
    let run = Run::new(engine, sources, proposal, turns);
    let Some(best) = run.best() else {
        return Spread { failed: 1.0, ..Spread::default() };
    };
    let budget = first_order(&run.inputs, |values| run.results_at(values)?[place::PROPOSED_FULL]);
    Spread {
        budget: best[place::PROPOSED_FULL].and(budget.ok()).map(Share::of).unwrap_or_default(),
        ..summarise(&best, &run.samples(DRAWS), &run.limits)
    }
}

/// What the band of the proposed edge at full travel becomes when one figure is known better, the whole computation run
/// again for each; the one that helps most first. Empty without a proposal.
pub fn edge_bettered(
    engine: &Engine,
    sources: Sources,
    proposal: Option<&Proposal>,
    turns: Turns,
) -> Vec<Bettered> {
    let run = Run::new(engine, sources, proposal, turns);
    let edge = |values: &[f64]| run.results_at(values)?[place::PROPOSED_FULL];
    what_if(&run.inputs, None, Method::FirstOrder, 0.95, edge).unwrap_or_default()
}

/// Standard deviation of each demand's margin round a proposal, in the order of [`Demand::ALL`]; none without one.
pub fn margin_spread(
    engine: &Engine,
    sources: Sources,
    proposal: &Proposal,
    turns: Turns,
) -> Option<[f64; Demand::ALL.len()]> {
    let samples = Run::new(engine, sources, Some(proposal), turns).samples(DRAWS_FOR_GUARD);
    let mut deviations = [0.0; Demand::ALL.len()];
    for (slot, sample) in deviations.iter_mut().zip(samples.get(place::DEMANDS..)?) {
        *slot = sample.standard_deviation();
    }
    Some(deviations)
}

/// One engine made ready to be drawn again and again.
struct Run<'a> {
    context: Context<'a>,
    drawn: RefCell<Engine>,
    inputs: Vec<Input>,
    limits: Bounds,
}

impl<'a> Run<'a> {
    fn new(engine: &Engine, sources: Sources, proposal: Option<&'a Proposal>, turns: Turns) -> Self {
        let mut stripped = engine.clone();
        stripped.for_each_figure(&mut |_, figure| figure.written = None);
        let inputs = inputs_of(&mut stripped);
        let limits = Case::of(&stripped).limits;
        Self { context: Context { sources, proposal, turns }, drawn: RefCell::new(stripped), inputs, limits }
    }

    fn best(&self) -> Option<Results> {
        let values: Vec<f64> = self.inputs.iter().map(|input| input.value).collect();
        self.results_at(&values)
    }

    fn results_at(&self, values: &[f64]) -> Option<Results> {
        let mut engine = self.drawn.borrow_mut();
        let hand = set_figures(&mut engine, values);
        self.context.results(&Case::of(&engine), &engine, hand)
    }

    fn samples(&self, draws: usize) -> Vec<Sample> {
        monte_carlo_many(&self.inputs, RESULTS, draws, SEED, |values, out| {
            let Some(results) = self.results_at(values) else {
                return false;
            };
            for (slot, result) in out.iter_mut().zip(results) {
                *slot = result.unwrap_or(0.0);
            }
            true
        })
        .unwrap_or_default()
    }
}

impl Context<'_> {
    /// The whole computation for one set of figures; none when they make no working gear.
    fn results(&self, case: &Case, engine: &Engine, hand: Hand) -> Option<Results> {
        let found = &engine.found;
        let closing_found = self.sources.closing_slack_m(found, case);
        let target = self.proposal.map(|proposal| proposal.setting);
        let closing_known = closing_found.or(target.map(|target| target.closing_slack_m)).unwrap_or(0.0);
        let opening_found = self.sources.opening_slack_m(found, case, closing_known);
        if self.sources.opening == OpeningFrom::Edge && opening_found.is_none() {
            return None;
        }
        let present =
            opening_found.map(|opening_slack_m| Setting { opening_slack_m, closing_slack_m: closing_known });
        let mut results = [None; RESULTS];
        results[place::FOUND_FULL] = reading(found.edge_above_flush.as_ref())
            .or(present.map(|present| case.edge_above_flush_m(present)));
        results[place::FOUND_CLOSED] = reading(found.edge_above_closed.as_ref())
            .or(present.map(|present| case.edge_above_closed_m(present)));
        if let Some(target) = target {
            let setting = self.after_turning(case, target, opening_found, closing_found, hand);
            let reached = Reached::of(case, setting);
            let edge_m = reached.edge_above_flush_m;
            let needed_m = case.opening_slack_for_flush_m(setting.closing_slack_m);
            results[place::PROPOSED_FULL] = Some(edge_m);
            results[place::PROPOSED_CLOSED] = Some(reached.edge_above_closed_m);
            results[place::OPENING_SLACK] = Some(setting.opening_slack_m);
            results[place::OPENING_MOVE] = opening_found.zip(needed_m).map(|(found, needed)| found - needed);
            results[place::EDGE_MOVE] = results[place::FOUND_FULL].map(|found| edge_m - found);
            for (demand, slot) in Demand::ALL.into_iter().zip(&mut results[place::DEMANDS..]) {
                *slot = Some(reached.margin(demand, case).min(UNBOUNDED));
            }
        }
        Some(results)
    }

    /// Where the slacks end up when the proposed turns are made by a hand that errs; without turns the target is set
    /// by feel.
    fn after_turning(
        &self,
        case: &Case,
        target: Setting,
        opening_found: Option<f64>,
        closing_found: Option<f64>,
        hand: Hand,
    ) -> Setting {
        let after = |found: Option<f64>, turns: Option<f64>, pitch_m: f64, target_m: f64, error: f64| match (
            found, turns,
        ) {
            (Some(found), Some(turns)) => found - (turns + error * HALF_FLAT_TURNS) * pitch_m,
            _ => target_m + error * PLAY_BY_HAND_M,
        };
        let (opening_m, closing_m) = (case.opening_pitch_m, case.closing_pitch_m);
        let Turns { opening, closing } = self.turns;
        Setting {
            opening_slack_m: after(opening_found, opening, opening_m, target.opening_slack_m, hand.opening),
            closing_slack_m: after(closing_found, closing, closing_m, target.closing_slack_m, hand.closing),
        }
    }
}

fn reading(figure: Option<&Measured>) -> Option<f64> {
    figure.map(|figure| figure.value)
}

/// The figures with their spread, and the two errors of the hand as the last two inputs.
fn inputs_of(engine: &mut Engine) -> Vec<Input> {
    let mut inputs = Vec::new();
    engine.for_each_figure(&mut |key, figure| inputs.push(Input::measured(key, figure)));
    inputs.push(Input::within("turning the opening adjuster", 0.0, 1.0));
    inputs.push(Input::within("turning the closing adjuster", 0.0, 1.0));
    inputs
}

fn set_figures(engine: &mut Engine, values: &[f64]) -> Hand {
    let mut next = values.iter().copied();
    engine.for_each_figure(&mut |_, figure| {
        if let Some(value) = next.next() {
            figure.value = value;
        }
    });
    Hand { opening: next.next().unwrap_or(0.0), closing: next.next().unwrap_or(0.0) }
}

fn summarise(best: &Results, samples: &[Sample], limits: &Bounds) -> Spread {
    let (low, high) = (f64::NEG_INFINITY, f64::INFINITY);
    let band = |at: usize, low: f64, high: f64| Band::of(best[at]?, samples.get(at)?, low, high);
    let mut demands = [0.0; Demand::ALL.len()];
    for (share, sample) in demands.iter_mut().zip(samples.iter().skip(place::DEMANDS)) {
        // A margin of zero meets its demand.
        *share = 1.0 - sample.share_up_to(-1e-12);
    }
    Spread {
        found_full: band(place::FOUND_FULL, -limits.flush_m, limits.flush_m),
        found_closed: band(place::FOUND_CLOSED, low, limits.closed_m),
        proposed_full: band(place::PROPOSED_FULL, -limits.flush_m, limits.flush_m),
        proposed_closed: band(place::PROPOSED_CLOSED, low, limits.closed_m),
        opening_move: band(place::OPENING_MOVE, low, high),
        edge_move: band(place::EDGE_MOVE, low, high),
        opening_slack: band(place::OPENING_SLACK, low, high),
        demands: best[place::DEMANDS].map(|_| demands),
        budget: Vec::new(),
        failed: samples.first().map_or(1.0, |sample| sample.failed() as f64 / DRAWS as f64),
    }
}

impl Band {
    fn of(best: f64, sample: &Sample, low: f64, high: f64) -> Option<Self> {
        // The limits belong to the acceptance band; a hair of rounding must not put a value on the limit outside.
        let within = sample.share_up_to(high) - sample.share_up_to(low - 1e-12);
        let interval = sample.symmetric(0.95)?;
        Some(Self { best, u: sample.standard_deviation(), low: interval.low, high: interval.high, within })
    }
}

impl Share {
    /// The lines of a first-order budget that count, the largest first.
    pub fn of(budget: Budget) -> Vec<Self> {
        let least = budget.u * 1e-4;
        let mut shares: Vec<Self> = budget
            .contributions
            .into_iter()
            .map(|part| Self { key: part.name, contribution: part.u.abs() })
            .filter(|share| share.contribution > least)
            .collect();
        shares.sort_by(|a, b| b.contribution.total_cmp(&a.contribution));
        shares
    }
}
