//! The setting that meets every demand with as much return preload as the gear stands, or the demands that conflict.

use super::case::Case;
use super::demand::{Demand, Reached};
use gear::{Direction, Setting, Spring};

/// Steps of the closing side that are tried; the edge of the feasible range is then narrowed by bisection.
const STEPS: u32 = 240;

/// A setting and what it reaches.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Proposal {
    /// The slack of both wires.
    pub setting: Setting,
    /// What the gear does with it, at best values.
    pub reached: Reached,
}

/// Why there is no setting.
#[derive(Debug, Clone, PartialEq)]
pub enum NoSetting {
    /// The edge cannot reach flush whatever the adjusters do.
    FlushOutOfReach {
        /// The highest lift the valve has, m.
        highest_m: f64,
    },
    /// Demands exclude each other over the whole range of the closing adjuster.
    Demands(Vec<Missed>),
}

/// A demand that the best compromise misses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Missed {
    /// Which.
    pub demand: Demand,
    /// By how much, positive, in the unit of its margin.
    pub by: f64,
    /// At the setting with the fewest and smallest misses.
    pub at: Proposal,
    /// It is missed at every closing setting, so it conflicts with being flush alone.
    pub everywhere: bool,
}

/// How far each margin must stay above zero, in the order of [`Demand::ALL`], so that reading and turning errors do
/// not carry the setting over a limit.
pub type Guard = [f64; Demand::ALL.len()];

/// No guard.
pub const NO_GUARD: Guard = [0.0; Demand::ALL.len()];

/// Looks for the setting. With a spring on the closing adjuster it is the one with the most preload, with a spring on
/// the valve shaft the one with the least closing slack, that keeps every demand by `guard` (or, failing that, at all).
pub fn propose(case: &Case, guard: Guard) -> Result<Proposal, NoSetting> {
    let Some((taut_m, slack_m)) = closing_range_m(case) else {
        return Err(NoSetting::FlushOutOfReach { highest_m: highest_lift_m(case) });
    };
    let at = |step: f64| {
        let closing_slack_m = taut_m + (slack_m - taut_m) * step / f64::from(STEPS);
        proposal_at(case, closing_slack_m)
    };
    let with = |share: f64| {
        let good = |proposal: &Proposal| {
            Demand::ALL
                .iter()
                .zip(guard)
                .all(|(&demand, guard)| proposal.reached.margin(demand, case) >= share * guard)
        };
        let first = (0..=STEPS).find(|&step| at(f64::from(step)).is_some_and(|proposal| good(&proposal)))?;
        narrow(f64::from(first), &at, &good)
    };
    if let Some(proposal) = with(1.0) {
        return Ok(proposal);
    }
    // The limits lie too close together for the whole guard: take as much of it as there is room for, which puts the
    // setting between the limits instead of on one of them.
    if let Some(mut best) = with(0.0) {
        let (mut room, mut too_much) = (0.0, 1.0);
        for _ in 0..8 {
            let share = 0.5 * (room + too_much);
            match with(share) {
                Some(proposal) => (best, room) = (proposal, share),
                None => too_much = share,
            }
        }
        return Ok(best);
    }
    Err(missed(case, (0..=STEPS).filter_map(|step| at(f64::from(step))).collect()))
}

/// Bisects between the last step that was too taut and the first good one.
fn narrow(
    first_good: f64,
    at: &impl Fn(f64) -> Option<Proposal>,
    good: &impl Fn(&Proposal) -> bool,
) -> Option<Proposal> {
    let (mut low, mut high) = ((first_good - 1.0).max(0.0), first_good);
    for _ in 0..30 {
        let middle = 0.5 * (low + high);
        if at(middle).is_some_and(|proposal| good(&proposal)) {
            high = middle;
        } else {
            low = middle;
        }
    }
    at(high)
}

fn proposal_at(case: &Case, closing_slack_m: f64) -> Option<Proposal> {
    let opening_slack_m = case.opening_slack_for_flush_m(closing_slack_m)?;
    let setting = Setting { opening_slack_m, closing_slack_m };
    Some(Proposal { setting, reached: Reached::of(case, setting) })
}

/// The closing slack from tautest to slackest that is worth trying, m; none when flush is out of reach.
fn closing_range_m(case: &Case) -> Option<(f64, f64)> {
    let travel = case.flush_travel_rad()?;
    if travel > case.mechanism.mechanical_end_rad {
        return None;
    }
    match case.mechanism.spring {
        Spring::ClosingAdjuster { solid_length_m, .. } => {
            let solid = case.closing_slack_for_spring_m(solid_length_m)?;
            Some((solid, 0.0))
        }
        Spring::Shaft { .. } => {
            // The closing wire runs loose when it has as much slack as the pulleys can differ over the whole travel.
            let closing = &case.mechanism.closing;
            let uneven_m = (closing.valve_radius_m * travel - closing.servo_radius_m * case.full_rad).abs();
            Some((-uneven_m, 2.0 * uneven_m + 10.0 * case.limits.closing_slack_m + 5e-3))
        }
    }
}

fn highest_lift_m(case: &Case) -> f64 {
    let end = case.mechanism.mechanical_end_rad.min(case.law.usable_travel_rad());
    case.law.lift_m(end)
}

/// Picks the compromise with the fewest misses and names what it misses.
fn missed(case: &Case, tried: Vec<Proposal>) -> NoSetting {
    let misses = |proposal: &Proposal| {
        Demand::ALL.iter().filter(|&&demand| !proposal.reached.meets(demand, case)).count()
    };
    let depth = |proposal: &Proposal| {
        Demand::ALL.iter().map(|&demand| (-proposal.reached.margin(demand, case)).max(0.0)).sum::<f64>()
    };
    let best = tried
        .iter()
        .copied()
        .min_by(|a, b| misses(a).cmp(&misses(b)).then_with(|| depth(a).total_cmp(&depth(b))));
    let Some(at) = best else {
        return NoSetting::FlushOutOfReach { highest_m: highest_lift_m(case) };
    };
    let everywhere = |demand: Demand| tried.iter().all(|proposal| !proposal.reached.meets(demand, case));
    let list = Demand::ALL
        .into_iter()
        .filter(|&demand| !at.reached.meets(demand, case))
        .map(|demand| Missed {
            demand,
            by: -at.reached.margin(demand, case),
            at,
            everywhere: everywhere(demand),
        })
        .collect();
    NoSetting::Demands(list)
}

/// Spring length at closed park that belongs to a closing slack, m; none with a spring on the shaft.
pub fn spring_length_m(case: &Case, setting: Setting) -> Option<f64> {
    let Spring::ClosingAdjuster { free_length_m, .. } = case.mechanism.spring else {
        return None;
    };
    let state = case.mechanism.solve(setting, 0.0, Direction::Falling);
    state.spring_compression_m.map(|compression| free_length_m - compression)
}
