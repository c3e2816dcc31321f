//! Faults named from the present state.

use super::telling::Telling;
use crate::report::Finding;
use crate::setting::demand::Reached;
use crate::setting::present::OpeningFrom;
use gear::{Direction, Setting};
use quantity::{Dimension, Measured};

/// A fault is named from this probability on.
const LIKELY: f64 = 0.5;

/// The faults that the readings show, the serious ones first.
pub(super) fn findings(telling: &Telling<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    findings.extend(open_end(telling));
    findings.extend(closed_end(telling));
    if let Some(present) = telling.solution.present {
        findings.extend(loads(telling, present));
    }
    findings.extend(taut_closing(telling));
    findings.extend(actuator_ends(telling));
    findings.extend(readings_disagree(telling));
    findings.sort_by_key(|finding| !finding.serious);
    findings
}

fn open_end(telling: &Telling<'_>) -> Option<Finding> {
    let full = telling.solution.spread.found_full.as_ref()?;
    if full.within > LIKELY {
        return None;
    }
    let by = telling.band(full).text;
    let angle = (full.best * 1e3 * telling.degrees_per_mm(0.0)).abs();
    let probability = Some(1.0 - full.within);
    Some(if full.best > 0.0 {
        Finding {
            name: "Over-travel".to_owned(),
            text: format!(
                "At full actuator travel the edge stands {by} above flush ({angle:.1}° of crank if the port went on). \
                 The port roof stays where it is, so nothing is gained: the blade leaves a step and a pocket above \
                 the roof, spoils the flow, and may meet its mechanical end with the servo pushing on."
            ),
            probability,
            serious: true,
        }
    } else {
        Finding {
            name: "Short of flush".to_owned(),
            text: format!(
                "At full actuator travel the edge stays {} below flush: the port opens {angle:.1}° of crank late, \
                 which costs power at high speed.",
                telling.figure(-full.best, full.u, Dimension::Length).text
            ),
            probability,
            serious: false,
        }
    })
}

fn closed_end(telling: &Telling<'_>) -> Option<Finding> {
    let closed = telling.solution.spread.found_closed.as_ref()?;
    let starts_open = Finding {
        name: "Valve starts open".to_owned(),
        text: format!(
            "With the actuator at closed park the edge stands {} above its closed position: the valve does not rest \
             on its stop pin, and torque at low speed is lost.",
            telling.band(closed).text
        ),
        probability: Some(1.0 - closed.within),
        serious: true,
    };
    if closed.within < LIKELY {
        return Some(starts_open);
    }
    let present = telling.solution.present?;
    let reached = Reached::of(&telling.solution.case, present);
    let needed = telling.solution.case.limits.opening_slack_m;
    (reached.opening_slack_m < needed).then(|| Finding {
        name: "No free play at the opening cable".to_owned(),
        text: format!(
            "The opening wire has {} of slack at closed park; {} is wanted. Heat or wear will lift the valve off its \
             stop pin, so that it starts open.",
            telling.length(reached.opening_slack_m),
            telling.length(needed)
        ),
        probability: None,
        serious: false,
    })
}

fn taut_closing(telling: &Telling<'_>) -> Option<Finding> {
    let closing_slack_m = telling.solution.closing_found_m?;
    let case = &telling.solution.case;
    let opening_slack_m = telling.solution.present.map_or(5e-3, |present| present.opening_slack_m);
    let reached = Reached::of(case, Setting { opening_slack_m, closing_slack_m });
    if reached.closing_free_m > 0.0 {
        return None;
    }
    let text = if case.spring_on_adjuster {
        "The spring on the closing adjuster is pressed solid somewhere in the travel: from there on the closing wire \
         is taut and the servo pulls against itself."
            .to_owned()
    } else {
        format!(
            "The closing wire runs out of slack by {} somewhere in the travel: opening and closing cable pull against \
             each other and strain the servo.",
            telling.amount(reached.closing_free_m)
        )
    };
    Some(Finding { name: "Taut closing cable".to_owned(), text, probability: None, serious: true })
}

fn loads(telling: &Telling<'_>, present: Setting) -> Vec<Finding> {
    let case = &telling.solution.case;
    let reached = Reached::of(case, present);
    let mut found = Vec::new();
    if reached.torque_margin < case.limits.torque_margin {
        found.push(Finding {
            name: "Servo overloaded".to_owned(),
            text: format!(
                "The servo has {:.1} times the torque that it needs; {:.1} times is wanted.",
                reached.torque_margin, case.limits.torque_margin
            ),
            probability: None,
            serious: reached.torque_margin < 1.0,
        });
    }
    if reached.tension_n > case.limits.tension_n {
        found.push(Finding {
            name: "Wire overloaded".to_owned(),
            text: format!(
                "A wire carries {}; {} is allowed.",
                telling.value(reached.tension_n, Dimension::Force),
                telling.value(case.limits.tension_n, Dimension::Force)
            ),
            probability: None,
            serious: true,
        });
    }
    if !reached.meets(crate::setting::demand::Demand::Reseats, case) {
        found.push(Finding {
            name: "Valve does not come back".to_owned(),
            text: "The return spring and the closing cable do not bring the valve back onto its stop pin against \
                   the friction when the servo returns."
                .to_owned(),
            probability: None,
            serious: true,
        });
    }
    found
}

/// The sensor says that the actuator does not reach an end.
fn actuator_ends(telling: &Telling<'_>) -> Vec<Finding> {
    let (servo, found) = (&telling.engine.servo, &telling.engine.found);
    let pairs = [
        ("closed park", servo.sensor_closed.as_ref().zip(found.sensor_closed.as_ref())),
        ("full travel", servo.sensor_open.as_ref().zip(found.sensor_open.as_ref())),
    ];
    pairs
        .into_iter()
        .filter_map(|(end, pair)| pair.map(|(wanted, read)| (end, wanted, read)))
        .filter(|(_, wanted, read)| differ(wanted, read))
        .map(|(end, wanted, read)| Finding {
            name: "Actuator not at its end".to_owned(),
            text: format!(
                "At {end} the sensor reads {}; {} belongs to that end. Find out first why the actuator does not get \
                 there: the adjusters cannot mend that.",
                quantity::show(read, telling.units),
                quantity::show(wanted, telling.units)
            ),
            probability: None,
            serious: true,
        })
        .collect()
}

fn differ(a: &Measured, b: &Measured) -> bool {
    (a.value - b.value).abs() > 2.0 * a.u.hypot(b.u)
}

/// Edge and free play tell the same slack in two ways; when they do not agree, something is not as described.
fn readings_disagree(telling: &Telling<'_>) -> Option<Finding> {
    let solution = telling.solution;
    if solution.sources.opening != OpeningFrom::Edge {
        return None;
    }
    let play = telling.engine.found.opening_play.as_ref()?;
    let present = solution.present?;
    let by_edge_m = present.opening_slack_m.max(0.0);
    // The spread of the slack that the geometry predicts from the edge is that of the proposed slack.
    let u = solution.spread.opening_slack.as_ref().map_or(0.0, |band| band.u).hypot(play.u);
    if (by_edge_m - play.value).abs() <= 2.0 * u {
        return None;
    }
    let state = solution.case.mechanism.solve(present, solution.case.full_rad, Direction::Rising);
    Some(Finding {
        name: "Readings do not agree".to_owned(),
        text: format!(
            "The edge at full travel means {} of free play at the opening cable, but {} was felt (they may differ by \
             {}). One of them is off, the actuator does not reach its ends, or a pulley radius or the arm is not as \
             described; the pulley would have to turn {} from its stop pin.",
            telling.length(by_edge_m),
            quantity::show(play, telling.units),
            telling.length(2.0 * u),
            telling.value(state.valve_travel_rad, Dimension::Angle)
        ),
        probability: None,
        serious: false,
    })
}
