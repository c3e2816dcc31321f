//! The same balance solved the slow way: tensions from their own compliance law and bisection on valve travel.
//! Written from the equations in docs/valve-gear.md without a line of the solver, for tests and benchmark alike.

use gear::{CableLine, Direction, Mechanism, Setting, Spring};

/// The balance of one mechanism moving in one direction.
pub(crate) struct Slow {
    mechanism: Mechanism,
    opening_m_per_n: f64,
    closing_m_per_n: f64,
    friction_n_m: f64,
}

/// Take-up of wire, sheath and mount for one newton at the valve end.
fn line_m_per_n(cable: &CableLine, mount_n_per_m: f64, servo_leads: bool) -> f64 {
    let x = cable.friction * cable.bends_rad;
    let leading = if servo_leads { x.exp() } else { 1.0 };
    let mean = if x < 1e-9 { leading } else { leading * (1.0 - (-x).exp()) / x };
    let servo_share = if servo_leads { x.exp() } else { (-x).exp() };
    mean / cable.wire_stiffness_n_per_m + mean / cable.sheath_stiffness_n_per_m + servo_share / mount_n_per_m
}

impl Slow {
    pub(crate) fn new(mechanism: &Mechanism, direction: Direction) -> Self {
        let rising = direction == Direction::Rising;
        let mount = mechanism.mount_stiffness_n_per_m;
        Self {
            mechanism: *mechanism,
            opening_m_per_n: line_m_per_n(&mechanism.opening, mount, rising),
            closing_m_per_n: line_m_per_n(&mechanism.closing, mount, !rising),
            friction_n_m: if rising { -mechanism.shaft_friction_n_m } else { mechanism.shaft_friction_n_m },
        }
    }

    /// Valve-end tensions (opening, closing) in N at a valve travel.
    pub(crate) fn tensions_n(&self, setting: Setting, servo_rad: f64, valve_rad: f64) -> (f64, f64) {
        let (opening, closing) = (&self.mechanism.opening, &self.mechanism.closing);
        let d_o =
            opening.servo_radius_m * servo_rad - opening.valve_radius_m * valve_rad - setting.opening_slack_m;
        let d_c =
            closing.valve_radius_m * valve_rad - closing.servo_radius_m * servo_rad - setting.closing_slack_m;
        let t_c = match self.mechanism.spring {
            Spring::Shaft { .. } => d_c.max(0.0) / self.closing_m_per_n,
            Spring::ClosingAdjuster { rate_n_per_m, free_length_m, solid_length_m } => {
                // The greater of both: spring still floating, or solid with the line alone stretching for the rest.
                let floating = d_c / (self.closing_m_per_n + 1.0 / rate_n_per_m);
                let solid = (d_c - (free_length_m - solid_length_m)) / self.closing_m_per_n;
                floating.max(solid).max(0.0)
            }
        };
        (d_o.max(0.0) / self.opening_m_per_n, t_c)
    }

    /// Net torque in N·m on the moving valve, opening positive.
    fn net_torque_n_m(&self, setting: Setting, servo_rad: f64, valve_rad: f64) -> f64 {
        let (t_o, t_c) = self.tensions_n(setting, servo_rad, valve_rad);
        let spring = match self.mechanism.spring {
            Spring::Shaft { at_closed_n_m, rate_n_m_per_rad } => at_closed_n_m + rate_n_m_per_rad * valve_rad,
            Spring::ClosingAdjuster { .. } => 0.0,
        };
        self.mechanism.opening.valve_radius_m * t_o - self.mechanism.closing.valve_radius_m * t_c - spring
            + self.mechanism.gas_torque_n_m
            + self.friction_n_m
    }

    /// Valve travel in rad, to the last bit, between the pin and the mechanical end (or two turns).
    pub(crate) fn valve_travel_rad(&self, setting: Setting, servo_rad: f64) -> f64 {
        let torque = |valve_rad: f64| self.net_torque_n_m(setting, servo_rad, valve_rad);
        let (mut low, mut high) = (0.0, self.mechanism.mechanical_end_rad.min(4.0 * std::f64::consts::PI));
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
}
