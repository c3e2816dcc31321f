//! The setting once more in plain arithmetic, so that a sceptic can check each step with a pocket calculator.

use super::ends::number;
use super::telling::Telling;
use crate::report::Arithmetic;
use crate::setting::target::Proposal;
use engine::model::ValveKind;
use gear::Direction;
use quantity::{Dimension, display_unit};

/// Degrees in one radian, to five digits, as a pocket calculator user writes it.
const DEG: f64 = 180.0 / std::f64::consts::PI;

/// The steps, each with figures and result. The opening slack that follows here leaves out nothing but rounding.
pub(super) fn arithmetic(telling: &Telling<'_>, proposal: &Proposal) -> Vec<Arithmetic> {
    let case = &telling.solution.case;
    let opening = &case.mechanism.opening;
    let full = case.mechanism.solve(proposal.setting, case.full_rad, Direction::Rising);
    let valve_deg = full.valve_travel_rad * DEG;
    let servo_m = opening.servo_radius_m * case.full_rad;
    let valve_m = opening.valve_radius_m * full.valve_travel_rad;
    let stretch_m = full.opening_stretch_m;
    let slack_m = proposal.setting.opening_slack_m;
    let length = |si: f64| telling.length(si);
    let mut lines = vec![
        line(
            "Wire pulled by the servo at full travel",
            format!("{} × {}° ÷ {DEG:.2}", length(opening.servo_radius_m), number(case.full_rad * DEG, 1)),
            length(servo_m),
            "servo pulley radius × travel in radians",
        ),
        lift_line(telling, full.valve_travel_rad),
        line(
            "Wire that the valve pulley takes for flush",
            format!("{} × {}° ÷ {DEG:.2}", length(opening.valve_radius_m), number(valve_deg, 2)),
            length(valve_m),
            "valve pulley radius × pulley angle in radians",
        ),
        line(
            "Pull on the opening wire at flush",
            format!(
                "({} closing torque + {} friction − {} gas) ÷ {}",
                telling.value(
                    full.closing_tension_valve_n * case.mechanism.closing.valve_radius_m
                        + full.spring_torque_n_m,
                    Dimension::Torque
                ),
                telling.value(case.mechanism.shaft_friction_n_m, Dimension::Torque),
                telling.value(case.mechanism.gas_torque_n_m, Dimension::Torque),
                length(opening.valve_radius_m)
            ),
            telling.value(full.opening_tension_valve_n, Dimension::Force),
            "balance of torques on the valve pulley, opening travel",
        ),
        line(
            "Give of opening wire, sheath and mount under that pull",
            format!(
                "{} ÷ {}",
                telling.value(full.opening_tension_valve_n, Dimension::Force),
                telling.value(full.opening_tension_valve_n / stretch_m.max(1e-12), Dimension::Stiffness)
            ),
            length(stretch_m),
            "pull ÷ stiffness of wire, sheath and mount in series, friction along the sheath included",
        ),
        line(
            "Free play that must be left at closed park",
            format!("{} − {} − {}", length(servo_m), length(valve_m), length(stretch_m)),
            length(slack_m),
            "what the servo pulls less what flush needs less what the cable gives",
        ),
    ];
    lines.extend(turn_lines(telling, slack_m));
    lines.extend(effect_lines(telling, proposal));
    lines
}

fn line(what: &str, sum: String, result: String, why: &str) -> Arithmetic {
    Arithmetic { what: what.to_owned(), sum, result, why: why.to_owned() }
}

/// Pulley angle at flush from the valve's own geometry.
fn lift_line(telling: &Telling<'_>, travel_rad: f64) -> Arithmetic {
    let drop = telling.length(telling.solution.case.drop_m);
    let result = format!("{}°", number(travel_rad * DEG, 2));
    let (sum, why) = match &telling.engine.valve.kind {
        ValveKind::Blade { slide_angle, arm, arm_start } => (
            format!(
                "{drop} = {} × cos {}° × [sin({}° + angle) − sin({}°)], solved for the angle",
                telling.length(arm.value),
                number(slide_angle.value * DEG, 1),
                number(arm_start.value * DEG, 1),
                number(arm_start.value * DEG, 1)
            ),
            "arm × rise of its sine, seen along the cylinder axis",
        ),
        ValveKind::Flap { radius, start, ratio } | ValveKind::Drum { radius, start, ratio } => (
            format!(
                "{drop} = {} × [sin({}° + {} × angle) − sin({}°)], solved for the angle",
                telling.length(radius.value),
                number(start.value * DEG, 1),
                number(ratio.value, 3),
                number(start.value * DEG, 1)
            ),
            "edge radius × rise of its sine",
        ),
        ValveKind::Table { .. } => {
            (format!("{drop} read from the measured table"), "measured points of this valve")
        }
    };
    line("Pulley angle at which the edge is flush", sum, result, why)
}

fn turn_lines(telling: &Telling<'_>, slack_m: f64) -> Vec<Arithmetic> {
    let case = &telling.solution.case;
    let (Some(present), Some(turns)) = (telling.solution.present, telling.solution.turns.opening) else {
        return Vec::new();
    };
    let found_m = present.opening_slack_m;
    let mut lines = vec![line(
        "Turns of the opening adjuster",
        format!(
            "({} − {}) ÷ {} a turn",
            telling.length(found_m),
            telling.length(slack_m),
            telling.length(case.opening_pitch_m)
        ),
        format!(
            "{} turns {} = {} flats",
            number(turns.abs(), 2),
            if turns < 0.0 { "in" } else { "out" },
            number(turns.abs() * 6.0, 1)
        ),
        "slack found less slack wanted; out is positive",
    )];
    if let Some(gap) = &telling.engine.found.opening_gap {
        lines.push(line(
            "Gap at the opening adjuster afterwards",
            format!(
                "{} {} {} × {}",
                telling.length(gap.value),
                if turns < 0.0 { "−" } else { "+" },
                number(turns.abs(), 2),
                telling.length(case.opening_pitch_m)
            ),
            telling.length(gap.value + turns * case.opening_pitch_m),
            "gap found and the adjuster's travel",
        ));
    }
    lines
}

/// Play to pulley angle to edge to crank, all local to this valve at flush.
fn effect_lines(telling: &Telling<'_>, proposal: &Proposal) -> Vec<Arithmetic> {
    let case = &telling.solution.case;
    let unit_m = 1e-3;
    let radius_m = case.mechanism.opening.valve_radius_m;
    let full = case.mechanism.solve(proposal.setting, case.full_rad, Direction::Rising);
    let rad = unit_m / radius_m;
    let slope_m_per_rad = case.law.slope_m_per_rad(full.valve_travel_rad);
    let lift_m = slope_m_per_rad * rad;
    let slope = telling.degrees_per_mm(0.0);
    let per_length = display_unit(Dimension::Length, telling.units);
    let per_unit = slope * 1e3 / per_length.per_si;
    vec![
        line(
            "1 mm of play at the wire turns the pulley by",
            format!("{} ÷ {} × {DEG:.2}", telling.length(unit_m), telling.length(radius_m)),
            format!("{}°", number(rad * DEG, 2)),
            "play ÷ pulley radius",
        ),
        line(
            "which moves the edge, near flush, by",
            format!("{}° ÷ {DEG:.2} × {} a radian", number(rad * DEG, 2), telling.length(slope_m_per_rad)),
            telling.length(lift_m),
            "arm here, not a constant: it is smaller away from the square position",
        ),
        line(
            "which moves the port opening, near the roof, by",
            format!("{} × {}° a {}", telling.length(lift_m), number(per_unit, 2), per_length.symbol),
            format!("{}°", number(lift_m * 1e3 * slope, 2)),
            "degrees per length at this height of this port, from the crank geometry",
        ),
    ]
}
