//! The same balance solved the slow way: tensions from their own compliance law and bisection on valve travel.
//! Written from the equations in docs/valve-gear.md without a line of the solver, for tests and benchmark alike.

use gear::{CableLine, Direction, Mechanism, Setting, Spring};

/// How the end tension trails along one cable: tension at the servo end over tension at the valve end.
fn servo_share(cable: &CableLine, servo_leads: bool) -> f64 {
    let ratio = (cable.friction * cable.bends_rad).exp();
    if servo_leads { ratio } else { 1.0 / ratio }
}

/// Take-up of wire, sheath and mount for one newton at the valve end.
fn line_compliance(cable: &CableLine, mount_n_per_m: f64, servo_leads: bool) -> f64 {
    let x = cable.friction * cable.bends_rad;
    let leading = if servo_leads { x.exp() } else { 1.0 };
    let mean = if x < 1e-9 { leading } else { leading * (1.0 - (-x).exp()) / x };
    mean / cable.wire_stiffness_n_per_m
        + mean / cable.sheath_stiffness_n_per_m
        + servo_share(cable, servo_leads) / mount_n_per_m
}

/// Valve-end tensions (opening, closing) in N at a valve travel.
pub(crate) fn tensions_n(
    mechanism: &Mechanism,
    setting: Setting,
    servo_rad: f64,
    valve_rad: f64,
    direction: Direction,
) -> (f64, f64) {
    let rising = direction == Direction::Rising;
    let (opening, closing) = (&mechanism.opening, &mechanism.closing);
    let mount = mechanism.mount_stiffness_n_per_m;
    let d_o =
        opening.servo_radius_m * servo_rad - opening.valve_radius_m * valve_rad - setting.opening_slack_m;
    let d_c =
        closing.valve_radius_m * valve_rad - closing.servo_radius_m * servo_rad - setting.closing_slack_m;
    let t_o = d_o.max(0.0) / line_compliance(opening, mount, rising);
    let line = line_compliance(closing, mount, !rising);
    let t_c = match mechanism.spring {
        Spring::Shaft { .. } => d_c.max(0.0) / line,
        Spring::ClosingAdjuster { rate_n_per_m, free_length_m, solid_length_m } => {
            // Whichever is greater: the spring still floating, or solid and the line alone stretching for the rest.
            let floating = d_c / (line + 1.0 / rate_n_per_m);
            let solid = (d_c - (free_length_m - solid_length_m)) / line;
            floating.max(solid).max(0.0)
        }
    };
    (t_o, t_c)
}

/// Net torque in N·m on a valve moving in `direction`, opening positive.
pub(crate) fn net_torque_n_m(
    mechanism: &Mechanism,
    setting: Setting,
    servo_rad: f64,
    valve_rad: f64,
    direction: Direction,
) -> f64 {
    let (t_o, t_c) = tensions_n(mechanism, setting, servo_rad, valve_rad, direction);
    let spring = match mechanism.spring {
        Spring::Shaft { at_closed_n_m, rate_n_m_per_rad } => at_closed_n_m + rate_n_m_per_rad * valve_rad,
        Spring::ClosingAdjuster { .. } => 0.0,
    };
    let friction = match direction {
        Direction::Rising => -mechanism.shaft_friction_n_m,
        Direction::Falling => mechanism.shaft_friction_n_m,
    };
    mechanism.opening.valve_radius_m * t_o - mechanism.closing.valve_radius_m * t_c - spring
        + mechanism.gas_torque_n_m
        + friction
}

/// Valve travel in rad by bisection, to the last bit, between the pin and the mechanical end (or two turns).
pub(crate) fn valve_travel_rad(
    mechanism: &Mechanism,
    setting: Setting,
    servo_rad: f64,
    direction: Direction,
) -> f64 {
    let torque = |valve_rad: f64| net_torque_n_m(mechanism, setting, servo_rad, valve_rad, direction);
    let (mut low, mut high) = (0.0, mechanism.mechanical_end_rad.min(4.0 * std::f64::consts::PI));
    if torque(low) <= 0.0 {
        return low;
    }
    if torque(high) >= 0.0 {
        return high;
    }
    loop {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            return middle;
        }
        if torque(middle) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
}
