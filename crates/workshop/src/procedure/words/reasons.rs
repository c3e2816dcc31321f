//! What one procedure does, and why.

use super::{Teller, Verdict, in_words, percent};
use crate::procedure::compare::{Comparison, Entry};
use crate::procedure::drivers::drivers;
use crate::procedure::model::{Side, Until, ValveHold};
use crate::procedure::outcome::{Measure, Signs};
use crate::setting::demand::Demand;
use quantity::Units;

/// A procedure is said to do something when at least this share of its draws does.
const MOSTLY: f64 = 0.5;
/// What happens in fewer draws than this is not worth a sentence.
const SELDOM: f64 = 0.05;

impl Comparison {
    /// What is said of an entry.
    pub fn verdict(&self, entry: &Entry, units: Units) -> Verdict {
        let tell = Teller { units };
        let mut reasons = Vec::new();
        reasons.extend(edge_at_full(entry, tell));
        reasons.extend(hangs_on(entry));
        reasons.extend(at_rest(entry, tell));
        reasons.extend(strain(entry, tell));
        reasons.extend(seat(entry, tell));
        reasons.extend(missed_demands(entry));
        reasons.extend(not_done(entry));
        let procedure = entry.run.procedure();
        Verdict {
            key: procedure.key.clone(),
            name: procedure.name.clone(),
            headline: headline(entry, tell),
            reasons,
        }
    }
}

fn headline(entry: &Entry, tell: Teller) -> String {
    let share = percent(entry.summary.all_demands);
    let edge = entry.summary.quantiles(Measure::EdgeAtFull);
    let Some(edge) = edge else {
        return "It could not be carried out on any draw.".to_owned();
    };
    format!(
        "Meets every demand in {share} of the draws; the edge comes to stand {}, from {} to {} in 95 % of them.",
        beside_flush(edge.median, tell),
        tell.length(edge.low),
        tell.length(edge.high)
    )
}

/// "0.45 mm above flush".
fn beside_flush(edge_m: f64, tell: Teller) -> String {
    let side = if edge_m < 0.0 { "below" } else { "above" };
    format!("{} {side} flush", tell.length(edge_m.abs()))
}

fn edge_at_full(entry: &Entry, tell: Teller) -> Option<String> {
    let edge = entry.summary.quantiles(Measure::EdgeAtFull)?;
    let limit_m = entry.run.case().limits.flush_m;
    let what = if edge.median > limit_m {
        "It over-travels"
    } else if edge.median < -limit_m {
        "It stays short"
    } else if edge.low < -limit_m || edge.high > limit_m {
        "It aims right but spreads past the acceptance band"
    } else {
        return None;
    };
    let why = datum_reason(entry, tell).unwrap_or_default();
    Some(
        format!("{what}: {} in the middle of the draws. {why}", beside_flush(edge.median, tell))
            .trim_end()
            .to_owned(),
    )
}

/// What the spread of the edge hangs on, where it spreads past the acceptance band.
fn hangs_on(entry: &Entry) -> Option<String> {
    let edge = entry.summary.quantiles(Measure::EdgeAtFull)?;
    if edge.high - edge.low < 2.0 * entry.run.case().limits.flush_m {
        return None;
    }
    let drivers = drivers(&entry.run, Measure::EdgeAtFull);
    let listed: Vec<String> = drivers
        .iter()
        .take(3)
        .filter(|driver| driver.share > SELDOM)
        .map(|driver| format!("{} ({})", driver.name, percent(driver.share)))
        .collect();
    (!listed.is_empty()).then(|| format!("The spread of its edge hangs on: {}.", listed.join(", ")))
}

/// Why the opening wire does not rest at park: what the servo gives back is less than what was taken up.
pub(super) fn rest_reason(entry: &Entry, tell: Teller) -> Option<String> {
    let case = entry.run.case();
    let opening = &case.mechanism.opening;
    let back_rad = case.full_rad * opening.servo_radius_m / opening.valve_radius_m;
    let end_rad = case.mechanism.mechanical_end_rad;
    let step = entry.run.procedure().last_step(Side::Opening, case.spring_on_adjuster)?;
    let uses_end = step.hold.valve == ValveHold::End || step.until == Until::End;
    (uses_end && end_rad > back_rad).then(|| {
        format!(
            "It was taken up with the valve pulley at {}, and the servo gives back only {}.",
            tell.angle(end_rad),
            tell.angle(back_rad)
        )
    })
}

/// Why the edge comes where it does: what the opening adjuster was set against.
pub(super) fn datum_reason(entry: &Entry, tell: Teller) -> Option<String> {
    let case = entry.run.case();
    let flush_rad = case.flush_travel_rad()?;
    let sprung = case.spring_on_adjuster;
    let step = entry.run.procedure().last_step(Side::Opening, sprung)?;
    let end_rad = case.mechanism.mechanical_end_rad;
    let uses_end = step.hold.valve == ValveHold::End || step.until == Until::End;
    if uses_end && end_rad.is_finite() {
        return Some(format!(
            "The valve's mechanical end lies {} of pulley past flush, and the wire is taken up there: the stop is made to \
             save the valve, not to place its edge.",
            tell.angle(end_rad - flush_rad)
        ));
    }
    let at_closed = match step.until {
        Until::Lifts => true,
        Until::Pull(_) | Until::Play(_) => step.hold.valve == ValveHold::Pin,
        _ => false,
    };
    if at_closed {
        let opening = &case.mechanism.opening;
        let winds_rad = case.full_rad * opening.servo_radius_m / opening.valve_radius_m;
        return Some(format!(
            "It is set at the closed end. From there the servo turns the valve pulley by {} less play and give, while flush \
             lies at {}: what is over at the open end was never looked at.",
            tell.angle(winds_rad),
            tell.angle(flush_rad)
        ));
    }
    match step.until {
        Until::Gap(_) => Some(
            "A gap copies the lengths of wire, sheath and bracket of the engine it was found on; it says nothing of this \
             port."
                .to_owned(),
        ),
        Until::EqualGap(_) => Some("Bare wire tells how far an adjuster is out, not where the valve is.".to_owned()),
        Until::Pull(_) if step.hold.valve == ValveHold::Flush => sinks(entry, tell),
        _ => None,
    }
}

/// A valve held level with little pull sinks when the return pulls at it.
fn sinks(entry: &Entry, tell: Teller) -> Option<String> {
    let edge = entry.summary.quantiles(Measure::EdgeAtFull)?;
    let tension = entry.summary.quantiles(Measure::WireTension)?;
    (edge.median < 0.0).then(|| {
        format!(
            "The wire was taken up with hardly a pull while the hand held the valve; under the return's load, up to {}, wire, \
             sheath and mount give way and the valve sinks by {}. Read the edge once more with the servo pulling.",
            tell.force(tension.median),
            tell.length(-edge.median)
        )
    })
}

fn at_rest(entry: &Entry, tell: Teller) -> Option<String> {
    let summary = &entry.summary;
    let rest = summary.quantiles(Measure::RestTension)?;
    let off = summary.sign(Signs::OFF_PIN);
    if off >= MOSTLY {
        let edge = summary.quantiles(Measure::EdgeAtClosed)?;
        return Some(format!(
            "The valve does not close: with the servo parked the edge stands {} above its closed position in the middle of \
             the draws, and the opening wire pulls with {} all the time.",
            tell.length(edge.median),
            tell.force(rest.median)
        ));
    }
    let taut = summary.sign(Signs::OPENING_TAUT_AT_PARK);
    (taut > SELDOM).then(|| {
        format!(
            "In {} of the draws the opening wire is still taut with the servo parked: it never rests.",
            percent(taut)
        )
    })
}

fn strain(entry: &Entry, tell: Teller) -> Option<String> {
    let summary = &entry.summary;
    let tension = summary.quantiles(Measure::WireTension)?;
    let mut said = Vec::new();
    let on_end = summary.sign(Signs::ON_END);
    if on_end > SELDOM {
        said.push(format!(
            "In {} of the draws the valve meets its mechanical end before the servo has finished, and the servo stretches the \
             wire for the rest.",
            percent(on_end)
        ));
    }
    let taut = summary.sign(Signs::CLOSING_TAUT);
    let closing = if entry.run.case().spring_on_adjuster {
        "the coils of the return spring touch and the closing wire goes taut"
    } else {
        "the closing wire pulls against the opening one"
    };
    if taut > SELDOM {
        said.push(format!("In {} of the draws {closing}.", percent(taut)));
    }
    let over = 1.0 - summary.demand(Demand::WireTension);
    if over > 0.005 {
        said.push(format!(
            "Wire tension passes its limit in {} of the draws (95 % of them stay below {}).",
            percent(over),
            tell.value(tension.high, Measure::WireTension)
        ));
    }
    let margin = summary.quantiles(Measure::BucklingMargin)?;
    if margin.low < 1.0 {
        said.push(format!(
            "The longest unguided stretch of sheath could bow out (margin down to {:.1}); it must lie in a guide.",
            margin.low
        ));
    }
    (!said.is_empty()).then(|| said.join(" "))
}

fn seat(entry: &Entry, tell: Teller) -> Option<String> {
    let loose = entry.summary.sign(Signs::CLOSING_LOOSE);
    if loose > SELDOM {
        let slack = entry.summary.quantiles(Measure::ClosingSlack)?;
        return Some(format!(
            "The closing sheath loses its seat in {} of the draws, by up to {}: it rattles and can jump out.",
            percent(loose),
            tell.length(slack.high.max(0.0))
        ));
    }
    None
}

/// Demands that most of the misses come from.
fn missed_demands(entry: &Entry) -> Option<String> {
    let names: Vec<String> = Demand::ALL
        .into_iter()
        .map(|demand| (1.0 - entry.summary.demand(demand), demand))
        .filter(|(missed, _)| *missed > SELDOM)
        .map(|(missed, demand)| format!("{} ({})", in_words(demand), percent(missed)))
        .collect();
    (!names.is_empty())
        .then(|| format!("Demands missed, with their share of the draws: {}.", names.join(", ")))
}

fn not_done(entry: &Entry) -> Option<String> {
    let failed = entry.summary.failed;
    (failed > 0.0).then(|| {
        format!(
            "On {} of the drawn gears a step could not be done; they count as missing every demand and are left out of all \
             other figures.",
            percent(failed)
        )
    })
}
