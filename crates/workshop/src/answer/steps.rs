//! The steps of the work in order: which adjuster, which way, how far, and what must be seen after each.

use super::telling::Telling;
use crate::report::{Figure, Seen, Step, Turn};
use crate::setting::target::{Proposal, spring_length_m};
use engine::model::Cable;
use gear::Adjuster;
use quantity::Dimension;

/// A nut is set to half a flat at best; see `setting::spread`.
const HALF_FLAT_TURNS: f64 = 1.0 / 12.0;

/// Which cable, named by its effect.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    Opening,
    Closing,
}

impl Side {
    pub(super) fn name(self) -> &'static str {
        match self {
            Self::Opening => "opening",
            Self::Closing => "closing",
        }
    }

    fn cable<'a>(self, telling: &Telling<'a>) -> &'a Cable {
        match self {
            Self::Opening => &telling.engine.gear.opening,
            Self::Closing => &telling.engine.gear.closing,
        }
    }
}

/// The steps for a proposal.
pub(super) fn steps(telling: &Telling<'_>, proposal: &Proposal) -> Vec<Step> {
    let mut steps = vec![record(telling), loosen(telling)];
    // The side that must give way first goes first, so that wires never fight each other on the way.
    let opening_first = telling.solution.turns.opening.is_some_and(|turns| turns < 0.0);
    let opening = opening(telling, proposal);
    let closing = closing(telling, proposal);
    if opening_first {
        steps.extend([opening, closing]);
    } else {
        steps.extend([closing, opening]);
    }
    steps.push(prove_full(telling, proposal));
    steps.push(prove_closed(telling, proposal));
    steps.push(lock(telling));
    steps.push(write_down());
    steps
}

fn seen(what: &str, figure: Option<Figure>, how: &str) -> Seen {
    Seen { what: what.to_owned(), figure, how: how.to_owned() }
}

fn step(title: &str, action: String, turn: Option<Turn>, see: Vec<Seen>, cautions: &[&str]) -> Step {
    Step {
        title: title.to_owned(),
        action,
        turn,
        see,
        cautions: cautions.iter().map(|&caution| caution.to_owned()).collect(),
    }
}

fn record(telling: &Telling<'_>) -> Step {
    let found = &telling.engine.found;
    let mut missing = Vec::new();
    for (name, known) in [
        ("gap at both adjusters", found.opening_gap.is_some() && found.closing_gap.is_some()),
        (
            "exposed thread at both adjusters",
            found.opening_thread.is_some() && found.closing_thread.is_some(),
        ),
        ("sensor at both ends", found.sensor_closed.is_some() && found.sensor_open.is_some()),
        ("edge at full travel", found.edge_above_flush.is_some()),
        ("free play and where it was felt", found.opening_play.is_some() && found.play_felt.is_some()),
    ] {
        if !known {
            missing.push(name);
        }
    }
    let action = if missing.is_empty() {
        "The state as found is on record below: with it you can always go back. Scratch or paint a mark across each \
         adjuster and its nut before the first turn."
            .to_owned()
    } else {
        format!(
            "Write down what is still missing, so that you can go back: {}. Scratch or paint a mark across each \
             adjuster and its nut before the first turn.",
            missing.join(", ")
        )
    };
    let action = format!("{action}{}", way_back(telling));
    step("Keep the state as found", action, None, Vec::new(), &[])
}

/// The turns that undo the setting, where turns are given.
fn way_back(telling: &Telling<'_>) -> String {
    let turns =
        [(Side::Opening, telling.solution.turns.opening), (Side::Closing, telling.solution.turns.closing)];
    let back: Vec<String> = turns
        .into_iter()
        .filter_map(|(side, turns)| Some(turn_of(telling, side, -turns?)))
        .filter(|turn| turn.flats >= 0.25)
        .map(|turn| {
            format!("{} adjuster {:.1} flats {} ({})", turn.cable, turn.flats, turn.effect, turn.direction)
        })
        .collect();
    if back.is_empty() {
        String::new()
    } else {
        format!(" The way back after the setting: {}.", back.join(", "))
    }
}

fn loosen(telling: &Telling<'_>) -> Step {
    let sensor = telling.engine.servo.sensor_closed.as_ref();
    let see = sensor
        .map(|reading| {
            seen(
                "Sensor at closed park",
                Some(Figure::of(reading, telling.units)),
                "Meter on the sensor pins only, plug off the controller.",
            )
        })
        .into_iter()
        .collect();
    step(
        "Park the actuator, loosen the lock nuts",
        "Bring the actuator to closed park. Ignition off, battery disconnected. Loosen the lock nuts of both \
         adjusters while holding the adjusters."
            .to_owned(),
        None,
        see,
        &["Fingers clear of pulley, blade and spring: the valve snaps shut when a wire comes free."],
    )
}

fn opening(telling: &Telling<'_>, proposal: &Proposal) -> Step {
    let turns = telling.solution.turns.opening;
    let turn = turns.map(|turns| turn_of(telling, Side::Opening, turns));
    let mut see = Vec::new();
    if let Some(figure) = gap_after(telling, Side::Opening) {
        see.push(seen(
            "Gap between pulley and sheath end, opening cable",
            Some(figure),
            "Calliper or gauge rod.",
        ));
    }
    if let Some(figure) = thread_after(telling, Side::Opening) {
        see.push(seen("Exposed thread, opening adjuster", Some(figure), "Depth rod of the calliper."));
    }
    let slack_m = proposal.setting.opening_slack_m;
    let u = telling.solution.spread.opening_slack.as_ref().map_or(0.0, |band| band.u);
    see.push(seen(
        "Free play along the opening wire, at closed park",
        Some(telling.figure(slack_m, u, Dimension::Length)),
        "Move the sheath end along the wire with two fingers; sideways play is no measure.",
    ));
    let radius_m = telling.engine.gear.opening.valve_radius.value;
    see.push(seen(
        "The same as play of the valve pulley in the opening direction",
        Some(telling.figure(slack_m / radius_m, u / radius_m, Dimension::Angle)),
        "Only where the pulley can be turned by hand against the spring.",
    ));
    let action = match &turn {
        Some(turn) => turn.text.clone(),
        None => "No reading tells how the opening adjuster stands now. Drive or hold the actuator at full travel and \
                 screw the opening adjuster out until the edge stands flush with the port roof, coming from below; \
                 then park and check the free play."
            .to_owned(),
    };
    step("Opening cable", action, turn, see, &["Never push the blade past the port roof by force."])
}

fn closing(telling: &Telling<'_>, proposal: &Proposal) -> Step {
    let turn = telling.solution.turns.closing.map(|turns| turn_of(telling, Side::Closing, turns));
    let mut see = Vec::new();
    if let Some(figure) = gap_after(telling, Side::Closing) {
        see.push(seen(
            "Gap between pulley and sheath end, closing cable",
            Some(figure),
            "Calliper or gauge rod.",
        ));
    }
    if let Some(figure) = thread_after(telling, Side::Closing) {
        see.push(seen("Exposed thread, closing adjuster", Some(figure), "Depth rod of the calliper."));
    }
    let half_flat_m = telling.solution.case.closing_pitch_m * HALF_FLAT_TURNS / 3f64.sqrt();
    let goal = match spring_length_m(&telling.solution.case, proposal.setting) {
        Some(length_m) => {
            let read = telling.engine.found.spring_length.as_ref().map_or(0.0, |reading| reading.u);
            let figure = telling.figure(length_m, half_flat_m.hypot(read), Dimension::Length);
            let goal = format!("until the spring on it is {} long", figure.text);
            see.push(seen(
                "Length of the spring on the closing adjuster, at closed park",
                Some(figure),
                "Between its seats, valve on its stop pin.",
            ));
            see.push(seen(
                "Closing sheath",
                None,
                "It sits firmly in its seat and cannot be lifted out by hand anywhere in the travel.",
            ));
            goal
        }
        None => {
            let slack_m = proposal.setting.closing_slack_m;
            let figure = telling.figure(slack_m, half_flat_m, Dimension::Length);
            let goal = format!("until the closing wire has {} of free play at closed park", figure.text);
            see.push(seen(
                "Free play along the closing wire, at closed park",
                Some(figure),
                "It must never run out anywhere in the travel.",
            ));
            goal
        }
    };
    let action = match &turn {
        Some(turn) => turn.text.clone(),
        None => format!("No reading tells how the closing adjuster stands now: turn it {goal}."),
    };
    step("Closing cable", action, turn, see, &[])
}

fn prove_full(telling: &Telling<'_>, proposal: &Proposal) -> Step {
    let case = &telling.solution.case;
    let spread = &telling.solution.spread;
    let mut see = vec![seen(
        "Edge above flush at full travel (minus: below)",
        spread.proposed_full.as_ref().map(|band| telling.band(band)),
        "From inside the port with a light, a straight edge or a depth gauge on the port roof; the actuator must have \
         arrived rising.",
    )];
    if let Some(reading) = &telling.engine.servo.sensor_open {
        see.push(seen(
            "Sensor at full travel",
            Some(Figure::of(reading, telling.units)),
            "As at closed park.",
        ));
    }
    let per_flat_m = case.edge_per_slack(proposal.setting) * case.opening_pitch_m / 6.0;
    let action = format!(
        "Drive the actuator to full travel and look at the edge. One flat of the opening adjuster moves it {} here: \
         out raises it, in lowers it. Trim until it is flush within {}.",
        telling.length(per_flat_m),
        telling.amount(case.limits.flush_m)
    );
    step(
        "Prove the open end",
        action,
        None,
        see,
        &[
            "If the servo is driven from outside: unplugged from the controller, fused lead, motor pins only, pulses of \
             one second at most, never held against a stop.",
        ],
    )
}

fn prove_closed(telling: &Telling<'_>, proposal: &Proposal) -> Step {
    let case = &telling.solution.case;
    let lost_rad = case.mechanism.lost_motion_rad(proposal.setting).unwrap_or(0.0);
    let mut see = vec![
        seen(
            "Edge above its closed position",
            telling.solution.spread.proposed_closed.as_ref().map(|band| telling.band(band)),
            "The pulley rests on its stop pin; it can be pressed no further closed.",
        ),
        seen(
            "Actuator travel before the valve begins to move",
            Some(telling.figure(lost_rad, 0.0, Dimension::Angle)),
            "Rising, from closed park: the lost motion that keeps the valve closed below the opening speed.",
        ),
    ];
    if case.park_rad > 0.0 {
        see.push(seen(
            "Still closed at the end of the park range",
            Some(telling.figure(case.park_rad, 0.0, Dimension::Angle)),
            "The largest actuator travel below the opening speed.",
        ));
    }
    step(
        "Prove the closed end",
        "Bring the actuator back to closed park and cycle it three times through its whole travel; then look again at \
         both ends."
            .to_owned(),
        None,
        see,
        &[],
    )
}

fn lock(telling: &Telling<'_>) -> Step {
    let mut cautions = vec!["A nut that takes its adjuster along shifts the setting: hold the adjuster."];
    if telling.engine.servo.works_oil_pump {
        cautions.push(
            "The servo's pulley also works the oil pump: re-check the pump's marks by the maker's manual.",
        );
    }
    step(
        "Lock and look again",
        "Hold each adjuster, tighten its lock nut, and read both ends once more: locking can shift the edge by a \
         fraction of a flat."
            .to_owned(),
        None,
        Vec::new(),
        &cautions,
    )
}

fn write_down() -> Step {
    step(
        "Write down the return values",
        "Read gaps, exposed threads, spring length, mark and sensor as they now are and keep them with the engine: \
         after the next top-end job they bring this setting back."
            .to_owned(),
        None,
        Vec::new(),
        &[],
    )
}

/// How an adjuster is turned.
pub(super) fn turn_of(telling: &Telling<'_>, side: Side, turns: f64) -> Turn {
    let adjuster = Adjuster::of(side.cable(telling));
    let turn = adjuster.turn_between(turns * adjuster.pitch_m, 0.0);
    let clockwise = turn.clockwise_from_head;
    let u = match (side, &telling.solution.spread.opening_move) {
        (Side::Opening, Some(needed)) => needed.u / adjuster.pitch_m,
        _ => HALF_FLAT_TURNS / 3f64.sqrt(),
    };
    let (direction, effect) = (
        if clockwise { "clockwise" } else { "anticlockwise" },
        if turns > 0.0 { "out of its bracket" } else { "into its bracket" },
    );
    let seen_from = telling.engine.gear.adjuster_seen_from.clone();
    let figure = turns_figure(turns, u);
    let flats = turn.flats_out.abs();
    let name = side.name();
    let text = if flats < 0.25 {
        format!("Leave the {name} adjuster as it is: it is within a quarter of a flat of where it must be.")
    } else {
        let consequence = match (side, turns > 0.0) {
            (_, true) => "the gap grows and slack is taken up",
            (_, false) => "the gap shrinks and the wire gets slack",
        };
        format!(
            "Screw the {name} adjuster {effect}: {} turns ({flats:.1} flats of the nut), {direction} seen from \
             {seen_from}; {consequence}.",
            figure.text.trim_end_matches(" turns")
        )
    };
    Turn {
        cable: name.to_owned(),
        turns: figure,
        flats,
        direction: direction.to_owned(),
        clockwise,
        seen_from,
        effect: effect.to_owned(),
        text,
    }
}

/// Turns, unsigned in words, signed (out positive) in the value; the spread is for about 95 %.
fn turns_figure(turns: f64, u: f64) -> Figure {
    Figure {
        text: format!("{:.2} ± {:.2} turns", turns.abs(), 2.0 * u),
        value: turns * std::f64::consts::TAU,
        standard_uncertainty: u * std::f64::consts::TAU,
        dimension: Dimension::Angle,
    }
}

/// Gap after the turn, where it was read before.
pub(super) fn gap_after(telling: &Telling<'_>, side: Side) -> Option<Figure> {
    let found = &telling.engine.found;
    let reading = match side {
        Side::Opening => &found.opening_gap,
        Side::Closing => &found.closing_gap,
    };
    moved(telling, side, reading.as_ref()?)
}

/// Exposed thread after the turn, where it was read before.
pub(super) fn thread_after(telling: &Telling<'_>, side: Side) -> Option<Figure> {
    let found = &telling.engine.found;
    let reading = match side {
        Side::Opening => &found.opening_thread,
        Side::Closing => &found.closing_thread,
    };
    moved(telling, side, reading.as_ref()?)
}

fn moved(telling: &Telling<'_>, side: Side, reading: &quantity::Measured) -> Option<Figure> {
    let (turns, pitch_m) = match side {
        Side::Opening => (telling.solution.turns.opening?, telling.solution.case.opening_pitch_m),
        Side::Closing => (telling.solution.turns.closing?, telling.solution.case.closing_pitch_m),
    };
    let hand_m = HALF_FLAT_TURNS * pitch_m / 3f64.sqrt();
    Some(telling.figure(reading.value + turns * pitch_m, reading.u.hypot(hand_m), Dimension::Length))
}
