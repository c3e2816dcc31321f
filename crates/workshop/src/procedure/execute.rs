//! A procedure carried out on one drawn gear: where the adjusters end up.

use super::figures::{Drawn, Known, Name};
use super::model::{Hold, ServoHold, Side, Step, Until, ValveHold};
use crate::setting::case::Case;
use gear::{Setting, Spring};
use quantity::Measured;
use std::f64::consts::TAU;

/// Why a procedure cannot be carried out on an engine.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum NotDone {
    /// No step is meant for this gear's return spring.
    #[error("none of its steps is meant for a return spring {0}; add steps for it to the procedure")]
    OtherSpring(&'static str),
    /// The valve has no mechanical end.
    #[error(
        "it uses the valve's mechanical end, which is not given; measure valve.mechanical_end at the pulley, from the stop pin"
    )]
    NoEnd,
    /// The edge cannot be brought where the procedure wants it.
    #[error(
        "the valve does not reach the height it wants; check valve.closed_drop, the valve's own figures and valve.mechanical_end"
    )]
    OutOfReach,
    /// The gap cannot be told from slack.
    #[error(
        "it sets a gap at the {0} adjuster; what this engine makes of a gap follows from found.{0}_gap together with a reading of the same cable's slack (found.edge_above_flush or found.{0}_play; found.spring_length on the closing side)"
    )]
    NoGap(&'static str),
    /// There is no mark.
    #[error(
        "it uses the witness mark; give gear.mark_radius, and read found.mark_at_full with found.edge_above_flush so that the line's place is known"
    )]
    NoMark,
    /// The present slack is not known.
    #[error(
        "it leaves an adjuster as found, but no reading tells the slack as found; read found.edge_above_flush and found.spring_length or found.closing_play"
    )]
    NoPresent,
    /// The valve moves without the opening wire.
    #[error(
        "the opening wire would have to push: the valve stands there without it; check gear.gas_torque, gear.shaft_friction and the return spring"
    )]
    NoPull,
    /// A cable cannot pull.
    #[error("a cable of this gear cannot pull; its radii and stiffnesses must be above zero")]
    DeadCable,
}

impl NotDone {
    /// Whether the readings and figures at hand allow the steps at all.
    pub(super) fn check(steps: &[&Step], case: &Case, known: &Known) -> Result<(), Self> {
        for step in steps {
            let end = step.hold.valve == ValveHold::End || step.until == Until::End;
            if end && !case.mechanism.mechanical_end_rad.is_finite() {
                return Err(Self::NoEnd);
            }
            let mark = step.hold.valve == ValveHold::Mark || matches!(step.until, Until::Mark(_));
            if mark && known.line_rad.is_none() {
                return Err(Self::NoMark);
            }
            let equal = matches!(step.until, Until::EqualGap(_));
            for (side, sum) in [(Side::Opening, known.opening_m), (Side::Closing, known.closing_m)] {
                let needed = equal || (matches!(step.until, Until::Gap(_)) && step.turn == side);
                if needed && sum.is_none() {
                    return Err(Self::NoGap(side.name()));
                }
            }
            if step.until == Until::Left && known.left.is_none() {
                return Err(Self::NoPresent);
            }
        }
        Ok(())
    }
}

/// Whether the steps use what was read of the engine at hand.
pub(super) fn needs_known(steps: &[&Step]) -> bool {
    steps.iter().any(|step| {
        step.hold.valve == ValveHold::Mark
            || matches!(step.until, Until::Mark(_) | Until::Gap(_) | Until::EqualGap(_) | Until::Left)
    })
}

/// Carries the steps out in their order, asking `take` for everything the hand does or reads.
pub(super) fn carry_out(
    steps: &[&Step],
    drawn: &Drawn,
    take: &mut impl FnMut(Name, &Measured) -> f64,
) -> Result<Setting, NotDone> {
    let mut setting = Setting { opening_slack_m: drawn.home_slack_m, closing_slack_m: drawn.home_slack_m };
    for (at, step) in steps.iter().enumerate() {
        // Every figure is asked for before anything can fail, so that the next step finds its own.
        let place = Place {
            servo_off_rad: take(Name::Step(at, "place of the servo"), &step.hold.servo_off),
            valve_off: take(Name::Step(at, "place of the valve"), &step.hold.valve_off),
        };
        let figure = match &step.until {
            Until::Pull(figure) => take(Name::Step(at, "pull of the hand"), figure),
            Until::Play(figure) => take(Name::Step(at, "play felt"), figure),
            Until::Gap(figure) | Until::EqualGap(figure) => take(Name::Step(at, "gap read"), figure),
            Until::Edge(figure) => take(Name::Step(at, "edge read"), figure),
            Until::Mark(figure) => take(Name::Step(at, "mark read"), figure),
            Until::SpringLength(figure) => take(Name::Step(at, "spring length read"), figure),
            Until::Lifts | Until::End | Until::CoilsTouch | Until::Left => 0.0,
        };
        let datum_m = take(Name::Step(at, "listed figure"), &step.datum);
        let back_rad = take(Name::Step(at, "turns back"), &step.back);
        let reached_m = drawn.turn(step, place, figure, datum_m, setting)?;
        let touched = step.until != Until::Left;
        let (slack, pitch_m, nut_m) = match step.turn {
            Side::Opening => (&mut setting.opening_slack_m, drawn.case.opening_pitch_m, drawn.opening_nut_m),
            Side::Closing => (&mut setting.closing_slack_m, drawn.case.closing_pitch_m, drawn.closing_nut_m),
        };
        // A lock nut that was not loosened draws nothing.
        *slack = reached_m + back_rad / TAU * pitch_m - if touched { nut_m } else { 0.0 };
    }
    Ok(setting)
}

/// How far off the servo and the valve are held.
#[derive(Clone, Copy)]
struct Place {
    servo_off_rad: f64,
    valve_off: f64,
}

impl Drawn {
    /// Slack of the turned cable when the turning ends, before it is turned back, m.
    fn turn(
        &self,
        step: &Step,
        place: Place,
        figure: f64,
        datum_m: f64,
        now: Setting,
    ) -> Result<f64, NotDone> {
        let servo_rad = match step.hold.servo {
            ServoHold::Park => place.servo_off_rad,
            ServoHold::Full => self.case.full_rad + place.servo_off_rad,
        };
        let end_rad = self.case.mechanism.mechanical_end_rad;
        let held = |hold: &Hold| self.held_rad(hold, place.valve_off);
        let brings = |valve_rad: f64| {
            self.rising.opening_slack_for(now.closing_slack_m, valve_rad, servo_rad).map_err(why_not)
        };
        match &step.until {
            Until::Pull(_) => self.slack_for_pull(step.turn, positive(figure), held(&step.hold)?, servo_rad),
            Until::Play(_) => {
                let taken_m = self.slack_for_pull(step.turn, 0.0, held(&step.hold)?, servo_rad)?;
                Ok(taken_m + positive(figure))
            }
            Until::Gap(_) => {
                let sum_m = match step.turn {
                    Side::Opening => self.known.opening_m,
                    Side::Closing => self.known.closing_m,
                };
                Ok(sum_m.ok_or(NotDone::NoGap(step.turn.name()))? - figure)
            }
            Until::EqualGap(_) => {
                let opening_m = self.known.opening_m.ok_or(NotDone::NoGap("opening"))?;
                let closing_m = self.known.closing_m.ok_or(NotDone::NoGap("closing"))?;
                Ok(match step.turn {
                    Side::Closing => closing_m - (opening_m - now.opening_slack_m) - figure,
                    Side::Opening => opening_m - (closing_m - now.closing_slack_m) - figure,
                })
            }
            Until::Edge(_) => brings(self.travel_rad(self.case.drop_m + figure + datum_m)?),
            Until::Mark(_) => brings(self.marked_rad(figure)?),
            Until::Lifts => brings(0.0),
            Until::End if end_rad.is_finite() => brings(end_rad),
            Until::End => Err(NotDone::NoEnd),
            Until::SpringLength(_) | Until::CoilsTouch => {
                let Spring::ClosingAdjuster { rate_n_per_m, free_length_m, solid_length_m } =
                    self.case.mechanism.spring
                else {
                    return Err(NotDone::OtherSpring("on the shaft"));
                };
                let length_m = if step.until == Until::CoilsTouch { solid_length_m } else { figure };
                let pressed_m = positive(free_length_m - length_m.max(solid_length_m));
                self.slack_for_pull(Side::Closing, rate_n_per_m * pressed_m, held(&step.hold)?, servo_rad)
            }
            Until::Left => {
                let left = self.known.left.ok_or(NotDone::NoPresent)?;
                Ok(if step.turn == Side::Opening { left.opening_slack_m } else { left.closing_slack_m })
            }
        }
    }

    /// Slack with which a wire pulls with `tension_n` at its valve end, m. The adjuster that is turned stands there,
    /// so that end leads and friction along the sheath keeps the rest back.
    fn slack_for_pull(
        &self,
        side: Side,
        tension_n: f64,
        valve_rad: f64,
        servo_rad: f64,
    ) -> Result<f64, NotDone> {
        match side {
            Side::Opening => self.falling.opening_slack_for_tension(tension_n, valve_rad, servo_rad),
            Side::Closing => self.rising.closing_slack_for(tension_n, valve_rad, servo_rad),
        }
        .map_err(why_not)
    }

    /// Valve travel at which the valve is held, rad.
    fn held_rad(&self, hold: &Hold, off: f64) -> Result<f64, NotDone> {
        let end_rad = self.case.mechanism.mechanical_end_rad;
        let travel_rad = match hold.valve {
            ValveHold::Pin | ValveHold::Free => off,
            ValveHold::End if end_rad.is_finite() => end_rad + off,
            ValveHold::End => return Err(NotDone::NoEnd),
            ValveHold::Flush => self.travel_rad(self.case.drop_m + off)?,
            ValveHold::Mark => self.marked_rad(off)?,
        };
        Ok(travel_rad.clamp(0.0, end_rad.max(0.0)))
    }

    fn travel_rad(&self, lift_m: f64) -> Result<f64, NotDone> {
        self.case.law.travel_rad(lift_m).ok_or(NotDone::OutOfReach)
    }

    /// Valve travel with the witness mark `past_m` past its line, rad.
    fn marked_rad(&self, past_m: f64) -> Result<f64, NotDone> {
        Ok(self.known.line_rad.ok_or(NotDone::NoMark)? + past_m / self.mark_radius_m)
    }
}

/// `x` when above zero, else zero; what is no number stays none.
fn positive(x: f64) -> f64 {
    if x < 0.0 { 0.0 } else { x }
}

fn why_not(error: gear::InverseError) -> NotDone {
    use gear::InverseError::{DeadCable, NoAdjusterSpring, NoPull, OffRange, Pushing, SpringLength};
    match error {
        OffRange { .. } => NotDone::OutOfReach,
        NoPull { .. } | Pushing { .. } | SpringLength { .. } | NoAdjusterSpring => NotDone::NoPull,
        DeadCable { .. } => NotDone::DeadCable,
    }
}
