//! Torque by speed for one setting.

use super::commanded_rad;
use crate::Answer;
use crate::setting::case::Case;
use gas::map::Grid;
use gear::{Direction, Setting};
use serde::Serialize;

/// Torque at one speed with one setting, SI.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SettingPoint {
    /// Engine speed, rad/s.
    pub speed_rad_s: f64,
    /// Servo travel commanded there, rad from closed park.
    pub servo_rad: f64,
    /// Valve edge above its closed position, m.
    pub lift_m: f64,
    /// Its standard uncertainty, m.
    pub lift_u_m: f64,
    /// Torque, N m; none beside points that did not settle.
    pub torque_n_m: Option<f64>,
    /// Least and most torque over the lift's 95 % interval, N m.
    pub band_n_m: Option<(f64, f64)>,
    /// The lift lies beyond the lifts of the map and the last one was taken.
    pub held: bool,
}

/// The opening adjuster turned from the setting that is looked at.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Turned {
    /// Turns of the opening adjuster; positive out of the bracket, which takes up slack.
    pub turns: f64,
    /// Torque by speed then.
    pub points: Vec<SettingPoint>,
    /// What it adds to the torque at each speed, N m, in the order of `points`.
    pub gains_n_m: Vec<Option<f64>>,
}

/// Uncertainty of the edge from its two ends.
#[derive(Debug, Clone, Copy)]
struct EdgeU {
    closed_m: f64,
    full_m: f64,
}

impl EdgeU {
    fn of(answer: &Answer) -> Self {
        let spread = &answer.solution().spread;
        let closed = spread.proposed_closed.or(spread.found_closed);
        let full = spread.proposed_full.or(spread.found_full);
        Self { closed_m: closed.map_or(0.0, |band| band.u), full_m: full.map_or(0.0, |band| band.u) }
    }

    /// Straight between the ends: no source, and cautious where the servo is half way.
    fn at(self, share: f64) -> f64 {
        self.closed_m + (self.full_m - self.closed_m) * share.clamp(0.0, 1.0)
    }
}

/// Torque at every speed of the map with `setting`, rising speed.
pub fn setting_curve(answer: &Answer, grid: &Grid, setting: Setting) -> Vec<SettingPoint> {
    let case = &answer.solution().case;
    let edge_u = EdgeU::of(answer);
    let one = |(row, speed): (usize, &f64)| {
        let servo_rad = commanded_rad(&answer.engine, *speed);
        let lift_m = case.lift_m(setting, servo_rad, Direction::Rising);
        let lift_u_m = edge_u.at(servo_rad / case.full_rad);
        let (low, high) = grid.lift_range_m();
        let at = |lift: f64| grid.at_row(row, lift.clamp(low, high));
        SettingPoint {
            speed_rad_s: *speed,
            servo_rad,
            lift_m,
            lift_u_m,
            torque_n_m: at(lift_m),
            band_n_m: band(at, lift_m, 2.0 * lift_u_m),
            held: lift_m < low || lift_m > high,
        }
    };
    grid.speeds_rad_s().iter().enumerate().map(one).collect()
}

/// Least and most of `at` within `reach` to both sides.
fn band(at: impl Fn(f64) -> Option<f64>, centre: f64, reach: f64) -> Option<(f64, f64)> {
    const STEPS: i32 = 8;
    let places = (-STEPS..=STEPS).map(|step| centre + reach * f64::from(step) / f64::from(STEPS));
    let torque = places.map(at).collect::<Option<Vec<f64>>>()?;
    let least = torque.iter().copied().fold(f64::INFINITY, f64::min);
    Some((least, torque.iter().copied().fold(f64::NEG_INFINITY, f64::max)))
}

/// Torque after turning the opening adjuster, everything else as in `setting`.
pub fn turned(answer: &Answer, grid: &Grid, setting: Setting, turns: f64) -> Turned {
    let before = setting_curve(answer, grid, setting);
    let points = setting_curve(answer, grid, with_turns(&answer.solution().case, setting, turns));
    let gain = |(after, before): (&SettingPoint, &SettingPoint)| Some(after.torque_n_m? - before.torque_n_m?);
    let gains_n_m = points.iter().zip(&before).map(gain).collect();
    Turned { turns, points, gains_n_m }
}

fn with_turns(case: &Case, setting: Setting, turns: f64) -> Setting {
    Setting { opening_slack_m: setting.opening_slack_m - turns * case.opening_pitch_m, ..setting }
}
