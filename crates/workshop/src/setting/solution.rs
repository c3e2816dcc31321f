//! The setting computed: present state, proposal, turns and their spread. No words here.

use super::case::Case;
use super::demand::Demand;
use super::present::Sources;
use super::spread::{Spread, margin_spread, spread};
use super::target::{Guard, NO_GUARD, NoSetting, Proposal, propose};
use engine::model::Engine;
use gear::Setting;

/// The turning of both adjusters, in turns out of the bracket (positive takes up slack); none when the present slack
/// is not known.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Turns {
    /// Opening adjuster.
    pub opening: Option<f64>,
    /// Closing adjuster.
    pub closing: Option<f64>,
}

/// Everything that is computed about one engine's setting.
#[derive(Debug, Clone)]
pub struct Solution {
    /// The engine at its best values.
    pub case: Case,
    /// Which readings tell the present state.
    pub sources: Sources,
    /// The present slacks, where readings tell both.
    pub present: Option<Setting>,
    /// Closing slack found, where a reading tells it.
    pub closing_found_m: Option<f64>,
    /// The proposed setting, or why there is none.
    pub proposal: Result<Proposal, NoSetting>,
    /// What to turn.
    pub turns: Turns,
    /// Spread of the results over what is not known exactly.
    pub spread: Spread,
}

impl Solution {
    /// Computes the setting of `engine`. Deterministic: the random draws start from a fixed seed.
    pub fn of(engine: &Engine) -> Self {
        let case = Case::of(engine);
        let sources = Sources::of(&engine.found, &case);
        let closing_found_m = sources.closing_slack_m(&engine.found, &case);
        let (proposal, turns) = settle(engine, &case, sources);
        let present = present(engine, &case, sources, proposal.as_ref().ok());
        let spread = spread(engine, sources, proposal.as_ref().ok(), turns);
        Self { case, sources, present, closing_found_m, proposal, turns, spread }
    }

    /// The proposed setting, where there is one.
    pub fn proposed(&self) -> Option<Setting> {
        self.proposal.as_ref().ok().map(|proposal| proposal.setting)
    }
}

/// Proposes a setting, looks how far its margins spread, and proposes again that far inside the limits.
fn settle(engine: &Engine, case: &Case, sources: Sources) -> (Result<Proposal, NoSetting>, Turns) {
    let mut proposal = propose(case, NO_GUARD);
    let mut turns = turns_to(engine, case, sources, proposal.as_ref().ok());
    if let Ok(first) = &proposal
        && let Some(deviations) = margin_spread(engine, sources, first, turns)
    {
        proposal = propose(case, guard(deviations));
        turns = turns_to(engine, case, sources, proposal.as_ref().ok());
    }
    (proposal, turns)
}

/// Two standard deviations (about 97.7 % on one side) off every limit; flush is met by construction, and its band is
/// what it is.
fn guard(deviations: [f64; Demand::ALL.len()]) -> Guard {
    let mut guard = deviations.map(|deviation| 2.0 * deviation);
    for (slot, demand) in guard.iter_mut().zip(Demand::ALL) {
        if demand == Demand::Flush {
            *slot = 0.0;
        }
    }
    guard
}

/// The present slacks; without a reading of the closing side the opening side is read as if that were set already.
fn present(engine: &Engine, case: &Case, sources: Sources, proposal: Option<&Proposal>) -> Option<Setting> {
    let closing_slack_m = sources
        .closing_slack_m(&engine.found, case)
        .or(proposal.map(|proposal| proposal.setting.closing_slack_m))
        .unwrap_or(0.0);
    let opening_slack_m = sources.opening_slack_m(&engine.found, case, closing_slack_m)?;
    Some(Setting { opening_slack_m, closing_slack_m })
}

fn turns_to(engine: &Engine, case: &Case, sources: Sources, proposal: Option<&Proposal>) -> Turns {
    let Some(proposal) = proposal else {
        return Turns::default();
    };
    let closing_found = sources.closing_slack_m(&engine.found, case);
    Turns {
        opening: present(engine, case, sources, Some(proposal)).map(|present| {
            (present.opening_slack_m - proposal.setting.opening_slack_m) / case.opening_pitch_m
        }),
        closing: closing_found.map(|found| (found - proposal.setting.closing_slack_m) / case.closing_pitch_m),
    }
}
