//! What may be said of a way against its demands, and how often a check after the work would be wrong (JCGM 106:2012).
//!
//! The draws of a way are what is believed of it before anything is read: the share that meets a demand is its
//! probability of conformity (8.2). A check reads the quantity with a stated error and decides with a guard band (8.3);
//! how often that passes what is wrong, and turns down what is right, follows as in 9.5, with the draws in the place
//! of a production.

use super::draw::Draws;
use super::model::Check;
use super::outcome::Measure;
use crate::setting::case::Case;
use crate::setting::demand::Demand;
use evidence::conformity::{Belief, Limits, Verdict};
use quantity::Shape;
use serde::Serialize;

/// A way is said to meet a demand, or to miss it, when at least this share of its draws does.
pub const SURE: f64 = 0.95;

/// One demand on one way.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Judged {
    /// Which demand.
    pub demand: Demand,
    /// Probability of conformity: share of all draws that meet it.
    pub probability: f64,
    /// What that allows to be said without looking.
    pub verdict: Verdict,
    /// What a check would come to; none where nothing is stated that reads it.
    pub decision: Option<Decision>,
}

/// What a check comes to, as shares of the draws on which every step could be done.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Decision {
    /// Standard uncertainty of the reading, SI.
    pub u: f64,
    /// How far inside its limit a reading must lie to be accepted, SI.
    pub guard_band: f64,
    /// False when no reading at all could be accepted: the guard bands leave nothing between the limits.
    pub can_pass: bool,
    /// Accepted: read inside the limit by the guard band or more.
    pub passes: f64,
    /// Read outside the limit by the guard band or more.
    pub fails: f64,
    /// Neither: a better reading is needed.
    pub cannot_tell: f64,
    /// Accepted though the demand is missed.
    pub wrong_acceptance: f64,
    /// Not accepted though the demand is met.
    pub wrong_rejection: f64,
    /// Accepted though missed, when the limit itself decides, without a guard band.
    pub bare_wrong_acceptance: f64,
    /// Not accepted though met, when the limit itself decides.
    pub bare_wrong_rejection: f64,
}

/// The verdict that a probability of conformity allows.
pub fn verdict(probability: f64) -> Verdict {
    if probability >= SURE {
        Verdict::Pass
    } else if probability <= 1.0 - SURE {
        Verdict::Fail
    } else {
        Verdict::CannotTell
    }
}

/// Every demand that this engine makes.
pub(super) fn judge(draws: &Draws, case: &Case, checks: &[Check]) -> Vec<Judged> {
    let all = draws.count().max(1) as f64;
    let one = |(place, demand): (usize, &Demand)| {
        if *demand == Demand::ToothLoad && case.limits.tooth_n.is_none() {
            return None;
        }
        let met = draws.met().iter().filter(|met| **met >> place & 1 == 1).count() as f64;
        let check = checks.iter().find(|check| check.demand == *demand);
        Some(Judged {
            demand: *demand,
            probability: met / all,
            verdict: verdict(met / all),
            decision: check.map(|check| decide(draws, *demand, case, check)),
        })
    };
    Demand::ALL.iter().enumerate().filter_map(one).collect()
}

/// The quantity that is read for a demand, and what limits it: the edge itself for flush, the slack for a valve that
/// shall rest (an edge that stands off shows in it), else what there is to spare.
fn read<'a>(draws: &'a Draws, demand: Demand, case: &Case) -> (&'a [f64], Limits) {
    match demand {
        Demand::Flush => {
            let limit_m = case.limits.flush_m;
            (draws.column(Measure::EdgeAtFull), Limits::between(-limit_m, limit_m))
        }
        Demand::RestsClosed => {
            (draws.column(Measure::OpeningSlack), Limits::at_least(case.limits.opening_slack_m))
        }
        _ => (draws.margins(demand), Limits::at_least(0.0)),
    }
}

fn decide(draws: &Draws, demand: Demand, case: &Case, check: &Check) -> Decision {
    let (values, limits) = read(draws, demand, case);
    let u = check.error.u;
    let guard_band = check.guard * 2.0 * u;
    let (accepted, refused) = (limits.guarded(guard_band), limits.guarded(-guard_band).unwrap_or(limits));
    let gauge = Gauge::of(check);
    let mut sums = [0.0; 6];
    let mut count = 0.0;
    for (&value, &margin) in values.iter().zip(draws.margins(demand)).filter(|(value, _)| !value.is_nan()) {
        let within = if margin >= 0.0 { 1.0 } else { 0.0 };
        let passes = accepted.map_or(0.0, |accepted| gauge.reads_within(accepted, value));
        let bare = gauge.reads_within(limits, value);
        let fails = 1.0 - gauge.reads_within(refused, value);
        let parts = [
            passes,
            fails,
            (1.0 - within) * passes,
            within * (1.0 - passes),
            (1.0 - within) * bare,
            within * (1.0 - bare),
        ];
        sums.iter_mut().zip(parts).for_each(|(sum, part)| *sum += part);
        count += 1.0;
    }
    let [passes, fails, wrong_acceptance, wrong_rejection, bare_wrong_acceptance, bare_wrong_rejection] =
        sums.map(|sum| if count > 0.0 { sum / count } else { 0.0 });
    Decision {
        u,
        guard_band,
        can_pass: accepted.is_some(),
        passes,
        fails,
        cannot_tell: (1.0 - passes - fails).max(0.0),
        wrong_acceptance,
        wrong_rejection,
        bare_wrong_acceptance,
        bare_wrong_rejection,
    }
}

/// How a reading scatters about the true value.
struct Gauge {
    off: f64,
    u: f64,
    belief: Belief,
}

impl Gauge {
    /// Errors beyond so many standard uncertainties do not happen.
    const REACH: f64 = 8.0;

    fn of(check: &Check) -> Self {
        let belief = match check.error.shape {
            Shape::Rectangular => Belief::Rectangular,
            Shape::Normal => Belief::Normal,
        };
        Self { off: check.error.value, u: check.error.u, belief }
    }

    /// Probability that `value` is read within the limits.
    fn reads_within(&self, limits: Limits, value: f64) -> f64 {
        let about = value + self.off;
        let far = |limit: Option<f64>| limit.is_none_or(|limit| (about - limit).abs() > Self::REACH * self.u);
        if far(limits.lower) && far(limits.upper) {
            return limits.probability(about, 0.0);
        }
        limits.probability_of(about, self.u, self.belief)
    }
}

#[cfg(test)]
mod tests;
