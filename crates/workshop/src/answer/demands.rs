//! The demands on the setting, what meets them, and what conflicts.

use super::telling::{Telling, percent};
use crate::report::{Conflict, Demand as Told};
use crate::setting::demand::{Demand, Reached};
use crate::setting::target::{Missed, NoSetting};
use engine::model::Limit;
use quantity::Dimension;

/// Every demand with what the proposal reaches; empty without a proposal.
pub(super) fn demands(telling: &Telling<'_>) -> Vec<Told> {
    let Ok(proposal) = &telling.solution.proposal else {
        return Vec::new();
    };
    let shares = telling.solution.spread.demands.unwrap_or([0.0; Demand::ALL.len()]);
    Demand::ALL
        .into_iter()
        .zip(shares)
        .filter(|(demand, _)| *demand != Demand::ToothLoad || telling.solution.case.limits.tooth_n.is_some())
        .map(|(demand, probability)| Told {
            key: demand.key().to_owned(),
            name: name(telling, demand).to_owned(),
            required: required(telling, demand),
            reached: format!(
                "{} (met in {} of draws{})",
                reached(telling, demand, &proposal.reached),
                percent(probability),
                if probability < super::ends::SURE { ": cannot tell" } else { "" }
            ),
            probability,
            met: proposal.reached.meets(demand, &telling.solution.case),
        })
        .collect()
}

fn name(telling: &Telling<'_>, demand: Demand) -> &'static str {
    let sprung = telling.solution.case.spring_on_adjuster;
    match demand {
        Demand::RestsClosed => "rests on its stop pin below the opening speed",
        Demand::Flush => "flush at full actuator travel, rising",
        Demand::Reseats => "comes back onto its stop pin",
        Demand::ClosingFree if sprung => "closing spring never pressed solid",
        Demand::ClosingFree => "closing wire never taut",
        Demand::Seated if sprung => "closing sheath always seated",
        Demand::Seated => "opening sheath seated at full travel",
        Demand::WireTension => "wire tension",
        Demand::TorqueMargin => "servo torque to spare",
        Demand::ToothLoad => "tooth load of the servo's last gear",
    }
}

fn required(telling: &Telling<'_>, demand: Demand) -> String {
    let limits = &telling.engine.limits;
    let at_least =
        |limit: &Limit, dimension| format!("at least {} ({})", shown(telling, limit, dimension), limit.from);
    let at_most =
        |limit: &Limit, dimension| format!("at most {} ({})", shown(telling, limit, dimension), limit.from);
    match demand {
        Demand::RestsClosed => format!(
            "opening slack {} up to the end of the park range",
            at_least(&limits.opening_slack, Dimension::Length)
        ),
        Demand::Flush => {
            format!("within ±{} ({})", shown(telling, &limits.flush, Dimension::Length), limits.flush.from)
        }
        Demand::Reseats => "back on the pin before the servo reaches the park range".to_owned(),
        Demand::ClosingFree => at_least(&limits.closing_slack, Dimension::Length),
        Demand::Seated => at_least(&limits.seat_tension, Dimension::Force),
        Demand::WireTension => at_most(&limits.wire_tension, Dimension::Force),
        Demand::TorqueMargin => format!(
            "stall torque at least {:.1} times the load ({})",
            limits.torque_margin.value.value, limits.torque_margin.from
        ),
        Demand::ToothLoad => {
            limits.tooth_load.as_ref().map(|limit| at_most(limit, Dimension::Force)).unwrap_or_default()
        }
    }
}

fn shown(telling: &Telling<'_>, limit: &Limit, dimension: Dimension) -> String {
    telling.value(limit.value.value, dimension)
}

fn reached(telling: &Telling<'_>, demand: Demand, reached: &Reached) -> String {
    match demand {
        Demand::RestsClosed => format!("{} of slack", telling.length(reached.opening_slack_m)),
        Demand::Flush => telling.length(reached.edge_above_flush_m),
        Demand::Reseats => {
            format!("at {} of actuator travel", telling.value(reached.reseat_rad, Dimension::Angle))
        }
        Demand::ClosingFree => telling.length(reached.closing_free_m),
        Demand::Seated => telling.value(reached.seat_n, Dimension::Force),
        Demand::WireTension => telling.value(reached.tension_n, Dimension::Force),
        Demand::TorqueMargin => format!("{:.1} times", reached.torque_margin),
        Demand::ToothLoad => telling.value(reached.tooth_n, Dimension::Force),
    }
}

/// What no setting meets, by how much, and which part would have to change.
pub(super) fn conflicts(telling: &Telling<'_>) -> Vec<Conflict> {
    match &telling.solution.proposal {
        Ok(_) => Vec::new(),
        Err(NoSetting::FlushOutOfReach { highest_m }) => vec![Conflict {
            between: vec![name(telling, Demand::Flush).to_owned(), "the valve's own travel".to_owned()],
            by: format!("{} of lift", telling.amount(telling.solution.case.drop_m - highest_m)),
            change: format!(
                "The valve lifts {} at most, but the port roof lies {} above its closed edge. Check arm, stop pin and \
                 mechanical end; a longer arm or a valve that closes less deep would be needed.",
                telling.length(*highest_m),
                telling.length(telling.solution.case.drop_m)
            ),
        }],
        Err(NoSetting::Demands(missed)) => missed.iter().map(|missed| conflict(telling, missed)).collect(),
    }
}

fn conflict(telling: &Telling<'_>, missed: &Missed) -> Conflict {
    let other =
        if missed.everywhere { name(telling, Demand::Flush) } else { opponent(telling, missed.demand) };
    Conflict {
        between: vec![name(telling, missed.demand).to_owned(), other.to_owned()],
        by: by(telling, missed),
        change: change(telling, missed),
    }
}

/// The demand on the other side of the range in which the closing adjuster can go.
fn opponent(telling: &Telling<'_>, demand: Demand) -> &'static str {
    match demand {
        Demand::Seated | Demand::Reseats => name(telling, Demand::ClosingFree),
        _ if telling.solution.case.spring_on_adjuster => name(telling, Demand::Seated),
        _ => name(telling, Demand::Flush),
    }
}

fn by(telling: &Telling<'_>, missed: &Missed) -> String {
    match missed.demand {
        Demand::RestsClosed | Demand::Flush | Demand::ClosingFree => telling.amount(missed.by),
        Demand::Reseats => telling.value(missed.by, Dimension::Angle),
        Demand::Seated | Demand::WireTension | Demand::ToothLoad => {
            telling.value(missed.by, Dimension::Force)
        }
        Demand::TorqueMargin => format!("{:.1} times the load", missed.by),
    }
}

/// Which part would have to change, and to what, by the plain geometry of the gear.
fn change(telling: &Telling<'_>, missed: &Missed) -> String {
    let case = &telling.solution.case;
    let opening = &case.mechanism.opening;
    match missed.demand {
        Demand::RestsClosed => {
            let flush_rad = case.flush_travel_rad().unwrap_or(1.0);
            let valve_radius_m = opening.valve_radius_m - missed.by / flush_rad;
            let servo_radius_m = opening.servo_radius_m + missed.by / (case.full_rad - case.park_rad).max(1e-6);
            let travel_rad = case.full_rad + missed.by / opening.servo_radius_m;
            format!(
                "The servo's travel is too short for this valve: any one of a valve pulley radius of {} instead of {}, \
                 a servo pulley radius of {} instead of {}, or a servo travel of {} instead of {} would give the slack.",
                telling.length(valve_radius_m),
                telling.length(opening.valve_radius_m),
                telling.length(servo_radius_m),
                telling.length(opening.servo_radius_m),
                telling.value(travel_rad, Dimension::Angle),
                telling.value(case.full_rad, Dimension::Angle)
            )
        }
        Demand::Flush => "Check the valve's travel: arm, stop pin, mechanical end.".to_owned(),
        Demand::ClosingFree if case.spring_on_adjuster => format!(
            "The spring on the closing adjuster needs {} more travel between its length under load and solid: a spring \
             with fewer coils or thinner wire.",
            telling.amount(missed.by)
        ),
        Demand::ClosingFree => "Servo and valve pulley pay the closing wire out unequally: the closing grooves must have \
             the same ratio of radii as the opening ones."
            .to_owned(),
        Demand::Seated => format!(
            "The return spring is too weak or too short: it must pull {} more at its slackest point.",
            telling.value(missed.by, Dimension::Force)
        ),
        Demand::Reseats => "Friction is too high for this spring: clean and free valve, shaft and cables (carbon, bent \
             shaft, kinked sheath) before anything else; else a stronger return spring."
            .to_owned(),
        Demand::WireTension | Demand::TorqueMargin | Demand::ToothLoad => "The load is too high: look for friction in \
             valve, shaft and sheaths first (carbon, tight bends, dry wires); else a weaker return spring or a servo \
             with more torque."
            .to_owned(),
    }
}
