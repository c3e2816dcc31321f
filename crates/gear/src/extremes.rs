//! Exact extremes over the whole servo travel.
//!
//! Every force and place is a piecewise linear function of servo travel, so each extreme lies at a kink or at an end.
//! The kinks are found in closed form.

use crate::regime::Regime;
use crate::{Direction, Mechanism, Setting};
use serde::Serialize;

/// Extremes over a cycle of the servo from closed park to full and back. Just after it turns round, while the valve
/// stands still, forces lie between those of the two directions at the ends of that stretch, so it adds no extreme.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Extremes {
    /// Greatest tension anywhere in the opening wire, N.
    pub opening_tension_max_n: f64,
    /// Greatest tension anywhere in the closing wire, N.
    pub closing_tension_max_n: f64,
    /// Least tension of the closing wire at the valve end, N: what keeps a spring on its adjuster seated.
    pub closing_tension_min_n: f64,
    /// Least slack of the closing wire, m; negative when it is stretched somewhere.
    pub closing_slack_min_m: f64,
    /// Greatest slack of the closing wire, m; negative when it is stretched everywhere.
    pub closing_slack_max_m: f64,
    /// Least travel left to the spring on the closing adjuster before its coils touch, m.
    pub spring_left_min_m: Option<f64>,
    /// Greatest magnitude of the servo torque, N·m.
    pub servo_torque_max_n_m: f64,
    /// Least torque margin.
    pub torque_margin_min: f64,
    /// Greatest tooth load, N.
    pub tooth_load_max_n: Option<f64>,
    /// Greatest valve travel in rising travel, rad.
    pub valve_travel_max_rad: f64,
    /// The closing wire is taut somewhere on the way.
    pub closing_wire_taut: bool,
    /// The closing wire is slack somewhere on the way.
    pub closing_wire_slack: bool,
}

impl Regime {
    /// Servo travels between `from_rad` and `to_rad` at which the straight pieces meet, with both ends, unsorted; some
    /// may be no kink at all.
    pub fn kinks_rad(&self, setting: Setting, from_rad: f64, to_rad: f64) -> Vec<f64> {
        let (opening, closing) = (self.opening, self.closing);
        let wound_m = move |servo: f64| opening.servo_radius_m * servo - setting.opening_slack_m;
        let paid_m = move |servo: f64| closing.servo_radius_m * servo + setting.closing_slack_m;
        let (constant, rate) = (self.constant_torque_n_m(), self.spring_rate_n_m_per_rad);
        let pull_n_m = move |servo: f64, valve: f64| {
            opening.valve_radius_m
                * opening.stiffness_n_per_m
                * (wound_m(servo) - opening.valve_radius_m * valve)
        };
        let float_n_m = move |servo: f64, valve: f64| {
            closing.valve_radius_m
                * closing.stiffness_n_per_m
                * (closing.valve_radius_m * valve - paid_m(servo))
        };
        let solid_n_m = move |servo: f64, valve: f64| {
            let beyond_m = closing.valve_radius_m * valve - paid_m(servo) - closing.kink_m;
            closing.valve_radius_m * (closing.kink_tension_n + closing.stiffness_beyond_n_per_m * beyond_m)
        };
        let opening_zero = move |servo: f64| wound_m(servo) / opening.valve_radius_m;
        let closing_zero = move |servo: f64| paid_m(servo) / closing.valve_radius_m;
        let closing_kink = move |servo: f64| (paid_m(servo) + closing.kink_m) / closing.valve_radius_m;
        let held_n_m = move |valve: f64| rate * valve - constant;
        let kink_n_m = closing.valve_radius_m * closing.kink_tension_n;

        let mut at = vec![from_rad, to_rad];
        // A wire takes up, lets go or goes solid while the valve moves.
        at.extend(root(|s| pull_n_m(s, closing_zero(s)) - held_n_m(closing_zero(s))));
        at.extend(root(|s| pull_n_m(s, closing_kink(s)) - held_n_m(closing_kink(s)) - kink_n_m));
        at.extend(root(|s| float_n_m(s, opening_zero(s)) + held_n_m(opening_zero(s))));
        at.extend(root(|s| solid_n_m(s, opening_zero(s)) + held_n_m(opening_zero(s))));
        at.extend(root(|s| held_n_m(opening_zero(s))));
        at.extend(root(|s| held_n_m(closing_zero(s))));
        // The valve meets or leaves a stop, and wires change state while it stands there.
        for stop in [0.0, self.end_rad] {
            at.extend(self.servo_travel_for(setting, stop));
            at.extend(root(|s| opening_zero(s) - stop));
            at.extend(root(|s| closing_zero(s) - stop));
            at.extend(root(|s| closing_kink(s) - stop));
        }
        at.retain(|servo| (from_rad..=to_rad).contains(servo));
        at
    }
}

impl Regime {
    /// Servo travel at which the valve begins to move in this direction after the servo turned round at `turn_rad`,
    /// where the motion `before` had brought the valve; within 0 ..= `full_rad`.
    pub(crate) fn moves_from_rad(
        &self,
        before: &Regime,
        setting: Setting,
        turn_rad: f64,
        full_rad: f64,
    ) -> f64 {
        let brought_rad = before.solve(setting, turn_rad).valve_travel_rad;
        if self.solve(setting, turn_rad).valve_travel_rad == brought_rad {
            return turn_rad;
        }
        match self.servo_travel_for(setting, brought_rad) {
            Some(servo) if servo < 0.0 => 0.0,
            Some(servo) if servo > full_rad => full_rad,
            Some(servo) => servo,
            None => turn_rad,
        }
    }
}

/// Root of a straight line, from two of its points.
fn root(line: impl Fn(f64) -> f64) -> Option<f64> {
    let (at_zero, at_one) = (line(0.0), line(1.0));
    let root = -at_zero / (at_one - at_zero);
    root.is_finite().then_some(root)
}

impl Mechanism {
    /// Extremes of loads and slack over the whole servo travel, up and back; exact, not sampled.
    pub fn extremes(&self, setting: Setting) -> Extremes {
        let (up, down) = (Regime::new(self, Direction::Rising), Regime::new(self, Direction::Falling));
        Extremes::between(&up, &down, setting, self.servo_travel_rad)
    }
}

impl Extremes {
    /// The same from regimes that are at hand: rising, falling, full servo travel in rad.
    pub fn between(up: &Regime, down: &Regime, setting: Setting, full_rad: f64) -> Self {
        let mut worst = Extremes {
            opening_tension_max_n: 0.0,
            closing_tension_max_n: 0.0,
            closing_tension_min_n: f64::INFINITY,
            closing_slack_min_m: f64::INFINITY,
            closing_slack_max_m: f64::NEG_INFINITY,
            spring_left_min_m: None,
            servo_torque_max_n_m: 0.0,
            torque_margin_min: f64::INFINITY,
            tooth_load_max_n: None,
            valve_travel_max_rad: 0.0,
            closing_wire_taut: false,
            closing_wire_slack: false,
        };
        let moves_down_rad = down.moves_from_rad(up, setting, full_rad, full_rad);
        let moves_up_rad = up.moves_from_rad(down, setting, 0.0, full_rad);
        for servo in up.kinks_rad(setting, moves_up_rad, full_rad) {
            worst.take(&up.solve(setting, servo));
        }
        for servo in down.kinks_rad(setting, 0.0, moves_down_rad) {
            worst.take(&down.solve(setting, servo));
        }
        worst
    }
}

impl Extremes {
    fn take(&mut self, state: &crate::State) {
        let opening_n = state.opening_tension_valve_n.max(state.opening_tension_servo_n);
        let closing_n = state.closing_tension_valve_n.max(state.closing_tension_servo_n);
        self.opening_tension_max_n = self.opening_tension_max_n.max(opening_n);
        self.closing_tension_max_n = self.closing_tension_max_n.max(closing_n);
        self.closing_tension_min_n = self.closing_tension_min_n.min(state.closing_tension_valve_n);
        self.closing_slack_min_m = self.closing_slack_min_m.min(-state.closing_stretch_m);
        self.closing_slack_max_m = self.closing_slack_max_m.max(-state.closing_stretch_m);
        if let Some(left_m) = state.spring_left_m {
            self.spring_left_min_m = Some(self.spring_left_min_m.map_or(left_m, |least| least.min(left_m)));
        }
        self.servo_torque_max_n_m = self.servo_torque_max_n_m.max(state.servo_torque_n_m.abs());
        self.torque_margin_min = self.torque_margin_min.min(state.torque_margin);
        if let Some(load_n) = state.tooth_load_n {
            self.tooth_load_max_n = Some(self.tooth_load_max_n.map_or(load_n, |most| most.max(load_n)));
        }
        if state.direction == Direction::Rising {
            self.valve_travel_max_rad = self.valve_travel_max_rad.max(state.valve_travel_rad);
        }
        self.closing_wire_taut |= state.closing_wire_taut;
        self.closing_wire_slack |= state.closing_wire_slack;
    }
}
