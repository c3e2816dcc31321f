//! Demands and checks in words.

use super::{Teller, in_words, percent};
use crate::form::upper;
use crate::procedure::compare::{Comparison, Entry};
use crate::procedure::conform::{Decision, Judged};
use crate::procedure::model::Check;
use crate::setting::demand::Demand;
use engine::model::{Engine, Limit};
use evidence::conformity::Verdict;
use quantity::{Dimension, Units, show_with};
use serde::Serialize;

/// One demand on one way, told.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ToldDemand {
    /// Key.
    pub key: &'static str,
    /// In words.
    pub name: String,
    /// The limit, in words.
    pub limit: String,
    /// Probability of conformity, 0 to 1.
    pub probability: f64,
    /// "pass", "fail" or "cannot tell", before anything is read.
    pub verdict: &'static str,
    /// What a check would come to; none where nothing reads it.
    pub decision: Option<Decision>,
    /// All of it in a sentence or two.
    pub says: String,
}

/// How a demand is checked, told.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ToldCheck {
    /// Key of the demand.
    pub key: &'static str,
    /// The demand in words.
    pub name: String,
    /// What it is read with.
    pub by: String,
    /// Limits of error of the reading (about 95 %).
    pub error: String,
    /// How far inside the limit a reading must lie.
    pub guard_band: String,
    /// When a reading is accepted, in words.
    pub accept: String,
    /// Where the error comes from.
    pub source: String,
}

impl Comparison {
    /// Every demand on an entry, and what a check of it would come to.
    pub fn demands_told(&self, entry: &Entry, units: Units) -> Vec<ToldDemand> {
        entry.judged.iter().map(|judged| told(entry, judged, units)).collect()
    }

    /// How each demand is checked.
    pub fn checks_told(&self, units: Units) -> Vec<ToldCheck> {
        let Some(entry) = self.entries.first() else { return Vec::new() };
        let demanded = |check: &&Check| entry.judged.iter().any(|judged| judged.demand == check.demand);
        entry
            .run
            .checks()
            .iter()
            .filter(demanded)
            .map(|check| told_check(entry.run.engine(), check, units))
            .collect()
    }
}

/// "pass", "fail" or "cannot tell".
pub(in crate::procedure) fn verdict_word(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Pass => "pass",
        Verdict::Fail => "fail",
        Verdict::CannotTell => "cannot tell",
    }
}

fn told(entry: &Entry, judged: &Judged, units: Units) -> ToldDemand {
    let demand = judged.demand;
    let check = entry.run.checks().iter().find(|check| check.demand == demand);
    let mut says = match judged.verdict {
        Verdict::Pass => format!("Holds in {} of the draws: this way meets it.", percent(judged.probability)),
        Verdict::Fail => {
            format!("Holds in {} of the draws: this way misses it.", percent(judged.probability))
        }
        Verdict::CannotTell => {
            format!("Holds in {} of the draws: without a check nobody can tell.", percent(judged.probability))
        }
    };
    match check.zip(judged.decision) {
        Some((check, decision)) => says.push_str(&decision_in_words(check, &decision, units)),
        None => says.push_str(" No reading is stated that checks it; it follows from the others."),
    }
    ToldDemand {
        key: demand.key(),
        name: upper(in_words(demand)),
        limit: limit(entry.run.engine(), demand, units),
        probability: judged.probability,
        verdict: verdict_word(judged.verdict),
        decision: judged.decision,
        says,
    }
}

fn decision_in_words(check: &Check, decision: &Decision, units: Units) -> String {
    if !decision.can_pass {
        return format!(
            " Read with {}, nothing could pass: the reading is too coarse for this limit. Read it better.",
            check.by
        );
    }
    let tell = Teller { units };
    let guard = amount(tell, check, decision.guard_band);
    format!(
        " Checked with {}, a reading passes when it lies inside the limit by {guard}: then {} pass, {} fail, and {} cannot be \
         told. {} pass wrongly and {} are turned down or left open though they are right; with no guard band it would be {} \
         and {}.",
        check.by,
        percent(decision.passes),
        percent(decision.fails),
        percent(decision.cannot_tell),
        upper(&percent(decision.wrong_acceptance)),
        percent(decision.wrong_rejection),
        percent(decision.bare_wrong_acceptance),
        percent(decision.bare_wrong_rejection)
    )
}

/// A guard band or an error with its unit.
fn amount(tell: Teller, check: &Check, si: f64) -> String {
    use Dimension::{Angle, Force, Length};
    let dimension = check.demand.dimension();
    match dimension {
        Length => tell.length(si),
        Angle => tell.angle(si),
        Force => show_with(si, 1, Force, tell.units),
        _ => show_with(si, 2, dimension, tell.units),
    }
}

fn told_check(engine: &Engine, check: &Check, units: Units) -> ToldCheck {
    let tell = Teller { units };
    let guard_m = check.guard * 2.0 * check.error.u;
    let guard_band = amount(tell, check, guard_m);
    ToldCheck {
        key: check.demand.key(),
        name: upper(in_words(check.demand)),
        by: check.by.clone(),
        error: format!("±{}", amount(tell, check, 2.0 * check.error.u)),
        accept: match check.demand {
            Demand::Flush if engine.limits.flush.value.value >= guard_m => {
                format!("read within ±{} of flush", tell.length(engine.limits.flush.value.value - guard_m))
            }
            Demand::Flush => "never: the reading is too coarse".to_owned(),
            _ => format!("read inside the limit by {guard_band}"),
        },
        guard_band,
        source: check.source.clone(),
    }
}

/// The limit of a demand in a few words.
fn limit(engine: &Engine, demand: Demand, units: Units) -> String {
    let limits = &engine.limits;
    let tell = Teller { units };
    let shown = |limit: &Limit| match limit.value.dimension {
        Dimension::Length => tell.length(limit.value.value),
        Dimension::Force => tell.force(limit.value.value),
        dimension => show_with(limit.value.value, 1, dimension, units),
    };
    match demand {
        Demand::RestsClosed => {
            format!(
                "slack at least {}, edge within {} of closed",
                shown(&limits.opening_slack),
                shown(&limits.closed)
            )
        }
        Demand::Flush => format!("within ±{} of flush", shown(&limits.flush)),
        Demand::Reseats => "on the pin before the servo is in its park range".to_owned(),
        Demand::ClosingFree => format!("at least {} left", shown(&limits.closing_slack)),
        Demand::Seated => format!("at least {}", shown(&limits.seat_tension)),
        Demand::WireTension => format!("at most {}", shown(&limits.wire_tension)),
        Demand::TorqueMargin => {
            format!("stall torque at least {} times the load", shown(&limits.torque_margin))
        }
        Demand::ToothLoad => {
            limits.tooth_load.as_ref().map(|one| format!("at most {}", shown(one))).unwrap_or_default()
        }
    }
}
