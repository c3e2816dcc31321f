//! One engine, best values or one random draw, reduced to what the setting needs.

use engine::model::{Engine, Limits, ReturnSpring};
use engine::valve_law::ValveLaw;
use gear::{Direction, Mechanism, Setting};

/// Valve gear, valve and limits of one engine in SI numbers.
#[derive(Debug, Clone)]
pub struct Case {
    /// Valve gear and servo.
    pub mechanism: Mechanism,
    /// Pulley angle to edge height.
    pub law: ValveLaw,
    /// Closed valve edge below the port roof, m: the lift at which the edge is flush.
    pub drop_m: f64,
    /// Full servo travel, rad.
    pub full_rad: f64,
    /// Largest servo travel below the opening speed, rad.
    pub park_rad: f64,
    /// Acceptance limits.
    pub limits: Bounds,
    /// The return spring sits on the closing adjuster.
    pub spring_on_adjuster: bool,
    /// Axial travel of one turn of the opening adjuster, m.
    pub opening_pitch_m: f64,
    /// Axial travel of one turn of the closing adjuster, m.
    pub closing_pitch_m: f64,
}

/// Acceptance limits as plain SI numbers; see [`Limits`].
#[derive(Debug, Clone, Copy)]
pub struct Bounds {
    /// Edge at full travel off flush at most, m.
    pub flush_m: f64,
    /// Edge above its closed position at most, m.
    pub closed_m: f64,
    /// Least opening slack at park, m.
    pub opening_slack_m: f64,
    /// Least closing slack, or spring travel left before solid, m.
    pub closing_slack_m: f64,
    /// Least tension that seats a sheath, N.
    pub seat_n: f64,
    /// Largest wire tension, N.
    pub tension_n: f64,
    /// Least stall torque over load.
    pub torque_margin: f64,
    /// Largest tooth load, N.
    pub tooth_n: Option<f64>,
}

impl Bounds {
    fn of(limits: &Limits) -> Self {
        Self {
            flush_m: limits.flush.value.value,
            closed_m: limits.closed.value.value,
            opening_slack_m: limits.opening_slack.value.value,
            closing_slack_m: limits.closing_slack.value.value,
            seat_n: limits.seat_tension.value.value,
            tension_n: limits.wire_tension.value.value,
            torque_margin: limits.torque_margin.value.value,
            tooth_n: limits.tooth_load.as_ref().map(|limit| limit.value.value),
        }
    }
}

impl Case {
    /// The values that `engine` holds.
    pub fn of(engine: &Engine) -> Self {
        Self {
            mechanism: Mechanism::of(engine),
            law: ValveLaw::of(&engine.valve),
            drop_m: engine.valve.closed_drop.value,
            full_rad: engine.servo.travel.value,
            park_rad: engine.schedule.park_travel.value,
            limits: Bounds::of(&engine.limits),
            spring_on_adjuster: matches!(engine.gear.spring, ReturnSpring::ClosingAdjuster { .. }),
            opening_pitch_m: engine.gear.opening.thread.pitch.value,
            closing_pitch_m: engine.gear.closing.thread.pitch.value,
        }
    }

    /// Valve edge above its closed position, m, with the servo at `servo_rad`.
    pub fn lift_m(&self, setting: Setting, servo_rad: f64, direction: Direction) -> f64 {
        self.law.lift_m(self.mechanism.solve(setting, servo_rad, direction).valve_travel_rad)
    }

    /// Valve edge above flush at full travel, rising, m; negative below.
    pub fn edge_above_flush_m(&self, setting: Setting) -> f64 {
        self.lift_m(setting, self.full_rad, Direction::Rising) - self.drop_m
    }

    /// Valve edge above its closed position at the end of the park range, rising, m.
    pub fn edge_above_closed_m(&self, setting: Setting) -> f64 {
        self.lift_m(setting, self.park_rad, Direction::Rising)
    }

    /// Pulley travel at which the edge is flush, rad; none when the valve never gets there.
    pub fn flush_travel_rad(&self) -> Option<f64> {
        self.law.travel_rad(self.drop_m)
    }

    /// Opening slack that brings the edge flush at full travel in rising travel, with this closing slack.
    pub fn opening_slack_for_flush_m(&self, closing_slack_m: f64) -> Option<f64> {
        self.opening_slack_for_lift_m(closing_slack_m, self.drop_m)
    }

    /// Opening slack with which the edge stands at `lift_m` at full travel, rising.
    pub fn opening_slack_for_lift_m(&self, closing_slack_m: f64, lift_m: f64) -> Option<f64> {
        let travel = self.law.travel_rad(lift_m)?;
        self.mechanism.opening_slack_for(closing_slack_m, travel, self.full_rad, Direction::Rising).ok()
    }

    /// Closing slack that belongs to a length of the spring on the closing adjuster, at closed park after closing, m.
    pub fn closing_slack_for_spring_m(&self, spring_length_m: f64) -> Option<f64> {
        self.mechanism.closing_slack_for_spring_length(spring_length_m, 0.0, 0.0, Direction::Falling).ok()
    }

    /// Millimetres of edge per millimetre of opening wire at full travel, by a small step of the slack.
    pub fn edge_per_slack(&self, setting: Setting) -> f64 {
        const STEP_M: f64 = 2e-5;
        let at = |delta: f64| {
            self.edge_above_flush_m(Setting { opening_slack_m: setting.opening_slack_m + delta, ..setting })
        };
        (at(-STEP_M) - at(STEP_M)) / (2.0 * STEP_M)
    }
}
