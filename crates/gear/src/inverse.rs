//! The balance read backwards: which servo travel, which slack.

use crate::regime::Regime;
use crate::{Direction, Mechanism, Setting};

/// Why a wanted state has no setting.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum InverseError {
    /// The wanted valve travel is off the valve's range.
    #[error(
        "valve travel {wanted_deg:.2}° cannot be reached: it must lie between the stop pin (0°) and the mechanical end ({end_deg:.2}°); check the flush travel and the mechanical end"
    )]
    OffRange {
        /// Wanted travel, degrees.
        wanted_deg: f64,
        /// Mechanical end, degrees (infinite without one).
        end_deg: f64,
    },
    /// The opening wire would have to push.
    #[error(
        "valve travel {wanted_deg:.2}° is not decided by the opening wire: {excess_n_m:.3} N·m open the valve without it; check gas torque, friction and return spring"
    )]
    NoPull {
        /// Wanted travel, degrees.
        wanted_deg: f64,
        /// Torque left over that opens, N·m.
        excess_n_m: f64,
    },
    /// A tension below zero was asked for.
    #[error("{cable} tension of {tension_n:.1} N cannot be: a wire only pulls; ask for 0 N or more")]
    Pushing {
        /// Which cable, with its article.
        cable: &'static str,
        /// The tension asked for, N.
        tension_n: f64,
    },
    /// The spring cannot have the wanted length.
    #[error(
        "spring length {length_mm:.2} mm cannot be: it must lie between solid ({solid_mm:.2} mm) and free ({free_mm:.2} mm); measure the spring again"
    )]
    SpringLength {
        /// Wanted length, mm.
        length_mm: f64,
        /// Solid length, mm.
        solid_mm: f64,
        /// Free length, mm.
        free_mm: f64,
    },
    /// A spring length was asked of a gear whose return spring sits on the valve shaft.
    #[error(
        "this gear has no spring on the closing adjuster: its return spring sits on the valve shaft; set the closing wire by its slack"
    )]
    NoAdjusterSpring,
    /// The cable cannot pull at all.
    #[error("the {cable} cable cannot pull: its radii and stiffnesses must all be above zero")]
    DeadCable {
        /// Which cable.
        cable: &'static str,
    },
}

impl Regime {
    /// Servo travel, rad from closed park, at which a valve moving in this direction stands at `valve_travel_rad`;
    /// it may lie outside the servo's range. Where a range of travels does, rising gives its upper and falling its
    /// lower end: the travel at which the valve moves on. `None` when no servo travel puts it there.
    pub fn servo_travel_for(&self, setting: Setting, valve_travel_rad: f64) -> Option<f64> {
        let (opening, closing) = (&self.opening, &self.closing);
        let wound_m = opening.valve_radius_m * valve_travel_rad + setting.opening_slack_m;
        let paid_m = closing.valve_radius_m * valve_travel_rad - setting.closing_slack_m;
        let constant = self.constant_torque_n_m() - self.spring_rate_n_m_per_rad * valve_travel_rad;
        let torque = |servo_rad: f64| {
            opening.valve_radius_m * opening.tension_n(opening.servo_radius_m * servo_rad - wound_m)
                - closing.valve_radius_m * closing.tension_n(paid_m - closing.servo_radius_m * servo_rad)
                + constant
        };
        // Servo travels from which the opening wire is stretched, and up to which the closing wire is, or is solid.
        let taut_from = wound_m / opening.servo_radius_m;
        let taut_to = paid_m / closing.servo_radius_m;
        let solid_to = (paid_m - closing.kink_m) / closing.servo_radius_m;
        let pulls_open = opening.acts() && torque(taut_from) < 0.0;
        let pulls_closed = closing.acts() && torque(taut_to) > 0.0;
        let solid = pulls_closed && closing.kink_m < f64::INFINITY && torque(solid_to) > 0.0;
        let couple = |stiffness: f64, servo_m: f64, valve_m: f64| stiffness * servo_m * valve_m;
        let open_rate = if pulls_open {
            couple(opening.stiffness_n_per_m, opening.servo_radius_m, opening.valve_radius_m)
        } else {
            0.0
        };
        let (close_rate, anchor, kept) = if solid {
            let rate =
                couple(closing.stiffness_beyond_n_per_m, closing.servo_radius_m, closing.valve_radius_m);
            (rate, solid_to, closing.kink_tension_n * closing.valve_radius_m)
        } else if pulls_closed {
            (couple(closing.stiffness_n_per_m, closing.servo_radius_m, closing.valve_radius_m), taut_to, 0.0)
        } else {
            (0.0, 0.0, 0.0)
        };
        let rate = open_rate + close_rate;
        if rate > 0.0 {
            let from_open = if pulls_open { open_rate * taut_from } else { 0.0 };
            return Some((from_open + close_rate * anchor - (constant - kept)) / rate);
        }
        if constant != 0.0 {
            return None;
        }
        match self.direction {
            Direction::Rising => opening.acts().then_some(taut_from),
            Direction::Falling => closing.acts().then_some(taut_to),
        }
    }

    /// Opening slack (as in [`Setting`], m) with which the valve stands at `valve_travel_rad` when the servo, moving
    /// in this direction, is at `servo_travel_rad`. For the stop pin it is the slack at which the valve just lifts.
    pub fn opening_slack_for(
        &self,
        closing_slack_m: f64,
        valve_travel_rad: f64,
        servo_travel_rad: f64,
    ) -> Result<f64, InverseError> {
        let wanted_deg = valve_travel_rad.to_degrees();
        if !(valve_travel_rad >= 0.0 && valve_travel_rad <= self.end_rad) {
            return Err(InverseError::OffRange { wanted_deg, end_deg: self.end_rad.to_degrees() });
        }
        let (opening, closing) = (&self.opening, &self.closing);
        if !opening.acts() {
            return Err(InverseError::DeadCable { cable: "opening" });
        }
        let closing_stretch_m = closing.valve_radius_m * valve_travel_rad
            - closing.servo_radius_m * servo_travel_rad
            - closing_slack_m;
        let needed_n_m = closing.valve_radius_m * closing.tension_n(closing_stretch_m)
            + self.spring_rate_n_m_per_rad * valve_travel_rad
            - self.constant_torque_n_m();
        if needed_n_m < 0.0 {
            return Err(InverseError::NoPull { wanted_deg, excess_n_m: -needed_n_m });
        }
        let stretch_m = opening.stretch_m(needed_n_m / opening.valve_radius_m);
        Ok(opening.servo_radius_m * servo_travel_rad - opening.valve_radius_m * valve_travel_rad - stretch_m)
    }

    /// Opening slack (as in [`Setting`], m) with which the opening wire pulls the valve pulley with `tension_n` while
    /// servo and valve are held at the given travels. Zero tension gives the slack at which the wire just takes up.
    /// Of this regime only the cable counts: when an adjuster is turned, the wire's valve end leads, as in falling.
    pub fn opening_slack_for_tension(
        &self,
        tension_n: f64,
        valve_travel_rad: f64,
        servo_travel_rad: f64,
    ) -> Result<f64, InverseError> {
        let opening = &self.opening;
        if !opening.acts() {
            return Err(InverseError::DeadCable { cable: "opening" });
        }
        if tension_n.is_nan() || tension_n < 0.0 {
            return Err(InverseError::Pushing { cable: "an opening", tension_n });
        }
        let stretch_m = if tension_n == 0.0 { 0.0 } else { opening.stretch_m(tension_n) };
        Ok(opening.servo_radius_m * servo_travel_rad - opening.valve_radius_m * valve_travel_rad - stretch_m)
    }

    /// Closing slack (as in [`Setting`], m) with which the closing wire pulls the valve pulley with `tension_n` while
    /// servo and valve stand at the given travels. Zero tension gives the slack at which the wire just takes up.
    pub fn closing_slack_for(
        &self,
        tension_n: f64,
        valve_travel_rad: f64,
        servo_travel_rad: f64,
    ) -> Result<f64, InverseError> {
        let closing = &self.closing;
        if !closing.acts() {
            return Err(InverseError::DeadCable { cable: "closing" });
        }
        if tension_n.is_nan() || tension_n < 0.0 {
            return Err(InverseError::Pushing { cable: "a closing", tension_n });
        }
        let stretch_m = if tension_n == 0.0 { 0.0 } else { closing.stretch_m(tension_n) };
        Ok(closing.valve_radius_m * valve_travel_rad - closing.servo_radius_m * servo_travel_rad - stretch_m)
    }
}

impl Mechanism {
    /// See [`Regime::opening_slack_for`].
    pub fn opening_slack_for(
        &self,
        closing_slack_m: f64,
        valve_travel_rad: f64,
        servo_travel_rad: f64,
        direction: Direction,
    ) -> Result<f64, InverseError> {
        Regime::new(self, direction).opening_slack_for(closing_slack_m, valve_travel_rad, servo_travel_rad)
    }

    /// See [`Regime::closing_slack_for`].
    pub fn closing_slack_for(
        &self,
        tension_n: f64,
        valve_travel_rad: f64,
        servo_travel_rad: f64,
        direction: Direction,
    ) -> Result<f64, InverseError> {
        Regime::new(self, direction).closing_slack_for(tension_n, valve_travel_rad, servo_travel_rad)
    }

    /// Closing slack (as in [`Setting`], m) with which the spring on the closing adjuster has the length `length_m`
    /// while servo and valve stand at the given travels. At its free length it is the slack at which the spring is
    /// just touched, at its solid length that at which its coils just meet.
    pub fn closing_slack_for_spring_length(
        &self,
        length_m: f64,
        valve_travel_rad: f64,
        servo_travel_rad: f64,
        direction: Direction,
    ) -> Result<f64, InverseError> {
        let crate::Spring::ClosingAdjuster { rate_n_per_m, free_length_m, solid_length_m } = self.spring
        else {
            return Err(InverseError::NoAdjusterSpring);
        };
        if !(length_m >= solid_length_m && length_m <= free_length_m) {
            return Err(InverseError::SpringLength {
                length_mm: length_m * 1e3,
                solid_mm: solid_length_m * 1e3,
                free_mm: free_length_m * 1e3,
            });
        }
        let tension_n = rate_n_per_m * (free_length_m - length_m);
        self.closing_slack_for(tension_n, valve_travel_rad, servo_travel_rad, direction)
    }

    /// Servo travel at which the valve leaves its stop pin in rising travel, rad from closed park; zero or less when
    /// it does not rest on the pin at closed park. `None` when nothing lifts it.
    pub fn lost_motion_rad(&self, setting: Setting) -> Option<f64> {
        Regime::new(self, Direction::Rising).servo_travel_for(setting, 0.0)
    }

    /// Servo travel, rad from closed park, at which the falling valve comes to rest on its stop pin; below zero when
    /// it never does. `None` when nothing closes it.
    pub fn reseat_rad(&self, setting: Setting) -> Option<f64> {
        Regime::new(self, Direction::Falling).servo_travel_for(setting, 0.0)
    }

    /// Servo travel, rad, that is lost at the open end: how far the servo must come back from full before the valve
    /// begins to close. `None` when nothing closes it.
    pub fn play_at_full_rad(&self, setting: Setting) -> Option<f64> {
        let full_rad = self.servo_travel_rad;
        let open_rad = self.solve(setting, full_rad, Direction::Rising).valve_travel_rad;
        let begins_rad = Regime::new(self, Direction::Falling).servo_travel_for(setting, open_rad)?;
        Some(if begins_rad < full_rad { full_rad - begins_rad } else { 0.0 })
    }

    /// How far the valve stands above its rising place when the servo comes to the same travel falling, rad.
    pub fn band_rad(&self, setting: Setting, servo_travel_rad: f64) -> f64 {
        self.solve(setting, servo_travel_rad, Direction::Falling).valve_travel_rad
            - self.solve(setting, servo_travel_rad, Direction::Rising).valve_travel_rad
    }

    /// Valve travel past `flush_travel_rad` with the servo at full, rising, rad; negative when it stays short.
    pub fn over_travel_rad(&self, setting: Setting, flush_travel_rad: f64) -> f64 {
        self.solve(setting, self.servo_travel_rad, Direction::Rising).valve_travel_rad - flush_travel_rad
    }
}
