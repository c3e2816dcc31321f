//! The torque balance of the valve pulley, solved exactly.
//!
//! The net torque falls with valve travel and is made of straight pieces. Its sign at each kink says on which side of
//! that kink the answer lies, so a handful of evaluations names the piece, and the piece is solved in closed form. No
//! iteration. Stretches are solved from their own zero, not as differences of long lengths, so that a stiff cable
//! keeps its full number of digits.

use crate::regime::Regime;
use crate::{Direction, Mechanism, Setting, State};

/// The balance at one setting and servo travel.
struct Balance<'a> {
    regime: &'a Regime,
    /// Wire the servo has wound in past the opening slack, m: the opening stretch with the valve on its pin.
    wound_m: f64,
    /// Wire the servo has paid out plus the closing slack, m: minus the closing stretch with the valve on its pin.
    paid_m: f64,
    /// Valve travel where the opening wire goes slack, rad; everything below stretches it.
    opening_zero_rad: f64,
    /// Valve travel where the closing wire takes up, rad; everything above stretches it.
    closing_zero_rad: f64,
    /// Valve travel where the spring on the closing adjuster goes solid, rad.
    closing_kink_rad: f64,
}

/// Where the valve rests and what stretches its wires there.
struct Place {
    travel_rad: f64,
    opening_stretch_m: f64,
    closing_stretch_m: f64,
    opening_tension_n: f64,
    closing_tension_n: f64,
    moving: bool,
    unrestrained: bool,
}

impl<'a> Balance<'a> {
    fn new(regime: &'a Regime, setting: Setting, servo_travel_rad: f64) -> Self {
        let (opening, closing) = (&regime.opening, &regime.closing);
        let wound_m = opening.servo_radius_m * servo_travel_rad - setting.opening_slack_m;
        let paid_m = closing.servo_radius_m * servo_travel_rad + setting.closing_slack_m;
        Self {
            regime,
            wound_m,
            paid_m,
            opening_zero_rad: wound_m / opening.valve_radius_m,
            closing_zero_rad: paid_m / closing.valve_radius_m,
            closing_kink_rad: (paid_m + closing.kink_m) / closing.valve_radius_m,
        }
    }

    fn opening_stretch_m(&self, travel_rad: f64) -> f64 {
        self.wound_m - self.regime.opening.valve_radius_m * travel_rad
    }

    fn closing_stretch_m(&self, travel_rad: f64) -> f64 {
        self.regime.closing.valve_radius_m * travel_rad - self.paid_m
    }

    /// Net torque on a valve that moves in the regime's direction, N·m, opening positive; never rises with travel.
    fn torque_n_m(&self, travel_rad: f64) -> f64 {
        let (opening, closing) = (&self.regime.opening, &self.regime.closing);
        opening.valve_radius_m * opening.tension_n(self.opening_stretch_m(travel_rad))
            - closing.valve_radius_m * closing.tension_n(self.closing_stretch_m(travel_rad))
            - self.regime.spring_rate_n_m_per_rad * travel_rad
            + self.regime.constant_torque_n_m()
    }

    fn solve(&self) -> Place {
        let end_rad = self.regime.end_rad;
        if self.torque_n_m(0.0) < 0.0 {
            return self.at_stop(0.0);
        }
        if end_rad < f64::INFINITY && self.torque_n_m(end_rad) > 0.0 {
            return self.at_stop(end_rad);
        }
        self.between_stops()
    }

    fn at_stop(&self, travel_rad: f64) -> Place {
        let (opening_stretch_m, closing_stretch_m) =
            (self.opening_stretch_m(travel_rad), self.closing_stretch_m(travel_rad));
        Place {
            travel_rad,
            opening_stretch_m,
            closing_stretch_m,
            opening_tension_n: self.regime.opening.tension_n(opening_stretch_m),
            closing_tension_n: self.regime.closing.tension_n(closing_stretch_m),
            moving: false,
            unrestrained: false,
        }
    }

    fn between_stops(&self) -> Place {
        let (opening, closing) = (&self.regime.opening, &self.regime.closing);
        let pulls_open = opening.acts() && self.torque_n_m(self.opening_zero_rad) < 0.0;
        let pulls_closed = closing.acts() && self.torque_n_m(self.closing_zero_rad) > 0.0;
        let solid =
            pulls_closed && closing.kink_m < f64::INFINITY && self.torque_n_m(self.closing_kink_rad) > 0.0;

        // On this piece: torque = k_o (a - travel) - k_c (b - at b: kept) - rate travel + constant.
        let open_rate =
            if pulls_open { opening.stiffness_n_per_m * opening.valve_radius_m.powi(2) } else { 0.0 };
        let (close_rate, anchor_rad, kept_n_m) = if solid {
            (
                closing.stiffness_beyond_n_per_m * closing.valve_radius_m.powi(2),
                self.closing_kink_rad,
                closing.kink_tension_n * closing.valve_radius_m,
            )
        } else if pulls_closed {
            (closing.stiffness_n_per_m * closing.valve_radius_m.powi(2), self.closing_zero_rad, 0.0)
        } else {
            (0.0, 0.0, 0.0)
        };
        let shaft_rate = self.regime.spring_rate_n_m_per_rad;
        let rate = open_rate + close_rate + shaft_rate;
        if rate == 0.0 {
            return self.indifferent();
        }
        let constant = self.regime.constant_torque_n_m() - kept_n_m;
        let open_at =
            |travel_rad: f64| if pulls_open { open_rate * (self.opening_zero_rad - travel_rad) } else { 0.0 };
        let travel_rad = (open_at(0.0) + close_rate * anchor_rad + constant) / rate;

        let mut place = self.at_stop(travel_rad.clamp(0.0, end_or_far(self.regime.end_rad)));
        place.moving = true;
        if pulls_open {
            let a = self.opening_zero_rad;
            let pull = (close_rate * (a - anchor_rad) + shaft_rate * a - constant) / rate;
            place.opening_stretch_m = opening.valve_radius_m * positive(pull);
            place.opening_tension_n = opening.stiffness_n_per_m * place.opening_stretch_m;
        } else {
            place.opening_tension_n = 0.0;
        }
        if pulls_closed {
            let pull = (open_at(anchor_rad) - shaft_rate * anchor_rad + constant) / rate;
            let stretch_m = closing.valve_radius_m * positive(pull);
            (place.closing_stretch_m, place.closing_tension_n) = if solid {
                (
                    closing.kink_m + stretch_m,
                    closing.kink_tension_n + closing.stiffness_beyond_n_per_m * stretch_m,
                )
            } else {
                (stretch_m, closing.stiffness_n_per_m * stretch_m)
            };
        } else {
            place.closing_tension_n = 0.0;
        }
        place
    }

    /// Nothing elastic acts where the torque vanishes: every place between the wires is a balance. The valve stays
    /// where its last motion left it: rising, where the opening wire has dragged it; falling, where the closing
    /// wire has.
    fn indifferent(&self) -> Place {
        let (opens, closes) = (self.regime.opening.acts(), self.regime.closing.acts());
        let dragged_open = if opens { positive(self.opening_zero_rad) } else { 0.0 };
        let dragged_closed = if closes { self.closing_zero_rad } else { self.regime.end_rad };
        let travel_rad = match self.regime.direction {
            Direction::Rising => dragged_open,
            Direction::Falling if dragged_closed < f64::INFINITY => dragged_closed,
            Direction::Falling => dragged_open,
        };
        let mut place = self.at_stop(travel_rad.clamp(0.0, end_or_far(self.regime.end_rad)));
        place.moving = true;
        // With no closing wire, no rate and no end a torque that opens meets nothing.
        place.unrestrained = self.regime.constant_torque_n_m() > 0.0;
        if opens && self.regime.direction == Direction::Rising {
            place.opening_tension_n = 0.0;
        }
        if closes && self.regime.direction == Direction::Falling {
            place.closing_tension_n = 0.0;
        }
        place
    }

    fn state(&self, servo_travel_rad: f64) -> State {
        let regime = self.regime;
        let place = self.solve();
        let (opening, closing) = (&regime.opening, &regime.closing);
        let spring_torque_n_m =
            regime.spring_at_closed_n_m + regime.spring_rate_n_m_per_rad * place.travel_rad;
        let net_n_m = opening.valve_radius_m * place.opening_tension_n
            - closing.valve_radius_m * place.closing_tension_n
            - spring_torque_n_m
            + regime.gas_torque_n_m;
        let (pin_torque_n_m, end_torque_n_m, friction_torque_n_m) = if place.moving {
            (0.0, 0.0, regime.friction_torque_n_m())
        } else if place.travel_rad <= 0.0 {
            let pin_n_m = positive(-net_n_m - regime.friction_n_m);
            (pin_n_m, 0.0, if pin_n_m > 0.0 { regime.friction_n_m } else { -net_n_m })
        } else {
            let end_n_m = positive(net_n_m - regime.friction_n_m);
            (0.0, end_n_m, if end_n_m > 0.0 { -regime.friction_n_m } else { -net_n_m })
        };
        let opening_tension_servo_n = opening.servo_share * place.opening_tension_n;
        let closing_tension_servo_n = closing.servo_share * place.closing_tension_n;
        let servo_torque_n_m = opening.servo_radius_m * opening_tension_servo_n
            - closing.servo_radius_m * closing_tension_servo_n;
        let load_n_m = servo_torque_n_m.abs();
        let compression_m = regime.adjuster_spring.map(|(rate, travel_m)| {
            let compression_m = place.closing_tension_n / rate;
            if compression_m > travel_m || rate <= 0.0 { travel_m } else { compression_m }
        });
        let loaded = place.closing_tension_n > 0.0;
        State {
            direction: regime.direction,
            servo_travel_rad,
            valve_travel_rad: place.travel_rad,
            opening_stretch_m: place.opening_stretch_m,
            closing_stretch_m: place.closing_stretch_m,
            opening_tension_valve_n: place.opening_tension_n,
            opening_tension_servo_n,
            closing_tension_valve_n: place.closing_tension_n,
            closing_tension_servo_n,
            spring_torque_n_m,
            friction_torque_n_m,
            pin_torque_n_m,
            end_torque_n_m,
            servo_torque_n_m,
            torque_margin: if load_n_m > 0.0 { regime.stall_torque_n_m / load_n_m } else { f64::INFINITY },
            tooth_load_n: regime.last_gear_radius_m.map(|radius_m| load_n_m / radius_m),
            spring_compression_m: compression_m,
            spring_left_m: regime.adjuster_spring.zip(compression_m).map(|((_, travel), used)| travel - used),
            opening_wire_slack: place.opening_tension_n <= 0.0,
            closing_wire_slack: !loaded,
            closing_wire_taut: loaded
                && (regime.adjuster_spring.is_none() || place.closing_stretch_m >= closing.kink_m),
            on_pin: place.travel_rad <= 0.0,
            on_end: place.travel_rad >= regime.end_rad,
            unrestrained: place.unrestrained,
        }
    }
}

/// `x` when above zero, else zero; what is no number stays none.
fn positive(x: f64) -> f64 {
    if x < 0.0 { 0.0 } else { x }
}

/// Upper bound for a clamp: the mechanical end, or none.
fn end_or_far(end_rad: f64) -> f64 {
    if end_rad > 0.0 { end_rad } else { 0.0 }
}

impl Regime {
    /// Where the gear rests with the servo at `servo_travel_rad` (rad from closed park, any value), the friction of
    /// cables and shaft fully developed in this regime's direction.
    pub fn solve(&self, setting: Setting, servo_travel_rad: f64) -> State {
        Balance::new(self, setting, servo_travel_rad).state(servo_travel_rad)
    }
}

impl Mechanism {
    /// Where the gear rests with the servo at `servo_travel_rad` (rad from closed park, any value) having moved in
    /// `direction`. Friction is taken as fully developed in that direction; just after a reversal the truth lies
    /// between the two directions (see [`crate::Sweep`]). Never fails: figures that are no numbers give such a state.
    /// To solve often for one mechanism, keep a [`Regime`].
    pub fn solve(&self, setting: Setting, servo_travel_rad: f64, direction: Direction) -> State {
        Regime::new(self, direction).solve(setting, servo_travel_rad)
    }
}
