//! The gear moving in one direction: all compliance and friction folded into a few straight lines.

use crate::cable::{capstan_ratio, compliance, mean_of_exponential};
use crate::{CableLine, Direction, Mechanism, Spring};

/// No cable is stiffer than this, N/m: a "rigid" one stays solvable and stretches by a picometre per newton.
const RIGID_N_PER_M: f64 = 1e12;

/// Tension at the valve end as a function of take-up: straight up to `kink_m`, straight and stiffer from there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Pull {
    pub(crate) servo_radius_m: f64,
    pub(crate) valve_radius_m: f64,
    /// Servo-end tension over valve-end tension.
    pub(crate) servo_share: f64,
    pub(crate) stiffness_n_per_m: f64,
    /// Take-up at which a spring in the line goes solid, m; infinite without one.
    pub(crate) kink_m: f64,
    /// Tension there, N.
    pub(crate) kink_tension_n: f64,
    /// Stiffness beyond, N/m.
    pub(crate) stiffness_beyond_n_per_m: f64,
}

impl Pull {
    fn new(cable: &CableLine, mount_n_per_m: f64, servo_leads: bool) -> Self {
        let x = cable.friction_exponent();
        let y = if servo_leads { x } else { -x };
        let servo_share = capstan_ratio(y);
        let along = compliance(cable.wire_stiffness_n_per_m) + compliance(cable.sheath_stiffness_n_per_m);
        let stiffness =
            stiffness_of(along * mean_of_exponential(y) + servo_share * compliance(mount_n_per_m), cable);
        Self {
            servo_radius_m: cable.servo_radius_m,
            valve_radius_m: cable.valve_radius_m,
            servo_share,
            stiffness_n_per_m: stiffness,
            kink_m: f64::INFINITY,
            kink_tension_n: 0.0,
            stiffness_beyond_n_per_m: stiffness,
        }
    }

    fn with_spring(self, rate_n_per_m: f64, travel_m: f64) -> Self {
        let travel_m = if travel_m < 0.0 { 0.0 } else { travel_m };
        if self.stiffness_n_per_m <= 0.0 {
            return self;
        }
        let line = 1.0 / self.stiffness_n_per_m;
        let with = line + compliance(rate_n_per_m);
        let kink_tension_n = if rate_n_per_m > 0.0 { rate_n_per_m * travel_m } else { 0.0 };
        Self {
            stiffness_n_per_m: 1.0 / with,
            kink_m: kink_tension_n * line + travel_m,
            kink_tension_n,
            stiffness_beyond_n_per_m: self.stiffness_n_per_m,
            ..self
        }
    }

    /// Valve-end tension at a take-up, N.
    pub(crate) fn tension_n(&self, stretch_m: f64) -> f64 {
        if stretch_m <= 0.0 {
            0.0
        } else if stretch_m <= self.kink_m {
            self.stiffness_n_per_m * stretch_m
        } else {
            self.kink_tension_n + self.stiffness_beyond_n_per_m * (stretch_m - self.kink_m)
        }
    }

    /// Take-up at which the valve-end tension is `tension_n` (0 or more), m.
    pub(crate) fn stretch_m(&self, tension_n: f64) -> f64 {
        if self.kink_m.is_infinite() || tension_n <= self.kink_tension_n && self.stiffness_n_per_m > 0.0 {
            tension_n / self.stiffness_n_per_m
        } else {
            self.kink_m + (tension_n - self.kink_tension_n) / self.stiffness_beyond_n_per_m
        }
    }

    /// Whether this cable can pull at all.
    pub(crate) fn acts(&self) -> bool {
        self.stiffness_beyond_n_per_m > 0.0
    }
}

/// Stiffness of a line of given compliance; zero when it or a pulley cannot pull.
fn stiffness_of(compliance_m_per_n: f64, cable: &CableLine) -> f64 {
    if cable.servo_radius_m <= 0.0 || cable.valve_radius_m <= 0.0 {
        0.0
    } else if compliance_m_per_n < 1.0 / RIGID_N_PER_M {
        RIGID_N_PER_M
    } else {
        1.0 / compliance_m_per_n
    }
}

/// A mechanism moving in one direction, prepared for solving: make it once to solve many settings or travels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Regime {
    pub(crate) direction: Direction,
    pub(crate) opening: Pull,
    pub(crate) closing: Pull,
    /// Rate of the adjuster spring, N/m, and its travel to solid, m.
    pub(crate) adjuster_spring: Option<(f64, f64)>,
    pub(crate) spring_at_closed_n_m: f64,
    pub(crate) spring_rate_n_m_per_rad: f64,
    pub(crate) gas_torque_n_m: f64,
    /// Friction torque limit, never negative.
    pub(crate) friction_n_m: f64,
    pub(crate) end_rad: f64,
    pub(crate) stall_torque_n_m: f64,
    pub(crate) last_gear_radius_m: Option<f64>,
}

impl Regime {
    /// Folds compliance and friction of `mechanism` for travel in `direction`.
    pub fn new(mechanism: &Mechanism, direction: Direction) -> Self {
        let rising = direction == Direction::Rising;
        let mount = mechanism.mount_stiffness_n_per_m;
        let opening = Pull::new(&mechanism.opening, mount, rising);
        let mut closing = Pull::new(&mechanism.closing, mount, !rising);
        let (mut adjuster_spring, mut at_closed, mut rate) = (None, 0.0, 0.0);
        match mechanism.spring {
            Spring::Shaft { at_closed_n_m, rate_n_m_per_rad } => {
                at_closed = at_closed_n_m;
                rate = if rate_n_m_per_rad < 0.0 { 0.0 } else { rate_n_m_per_rad };
            }
            Spring::ClosingAdjuster { rate_n_per_m, free_length_m, solid_length_m } => {
                closing = closing.with_spring(rate_n_per_m, free_length_m - solid_length_m);
                adjuster_spring = Some((rate_n_per_m, free_length_m - solid_length_m));
            }
        }
        let friction = mechanism.shaft_friction_n_m;
        Self {
            direction,
            opening,
            closing,
            adjuster_spring,
            spring_at_closed_n_m: at_closed,
            spring_rate_n_m_per_rad: rate,
            gas_torque_n_m: mechanism.gas_torque_n_m,
            friction_n_m: if friction < 0.0 { 0.0 } else { friction },
            end_rad: mechanism.mechanical_end_rad,
            stall_torque_n_m: mechanism.stall_torque_n_m,
            last_gear_radius_m: mechanism.last_gear_radius_m,
        }
    }

    /// Direction of travel.
    pub fn direction(&self) -> Direction {
        self.direction
    }

    /// Stiffness of the opening cable as the valve pulley feels it, N/m.
    pub fn opening_stiffness_n_per_m(&self) -> f64 {
        self.opening.stiffness_n_per_m
    }

    /// Stiffness of the closing cable as the valve pulley feels it (spring floating, where there is one), N/m.
    pub fn closing_stiffness_n_per_m(&self) -> f64 {
        self.closing.stiffness_n_per_m
    }

    /// Friction torque in the direction it acts on a moving valve, N·m, opening positive.
    pub(crate) fn friction_torque_n_m(&self) -> f64 {
        match self.direction {
            Direction::Rising => -self.friction_n_m,
            Direction::Falling => self.friction_n_m,
        }
    }

    /// The torques on a moving valve that do not depend on any angle, N·m, opening positive.
    pub(crate) fn constant_torque_n_m(&self) -> f64 {
        self.gas_torque_n_m + self.friction_torque_n_m() - self.spring_at_closed_n_m
    }
}
