//! What a wrong setting costs.

use super::{Grid, Schedule};
use serde::{Deserialize, Serialize};

/// How a setting is wrong.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Wrong {
    /// The edge stands lower than wanted by this much, m, at every speed at which it is not closed.
    Low(f64),
    /// It stands higher by this much, m, at every speed.
    High(f64),
    /// It moves later by this much engine speed, rad/s; earlier when negative.
    Late(f64),
    /// It stays at the lowest lift of the map at every speed.
    StuckClosed,
    /// It stays at the highest lift of the map at every speed.
    StuckOpen,
}

/// Torque with the wanted and with the wrong setting at one speed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Cost {
    /// Engine speed, rad/s.
    pub speed_rad_s: f64,
    /// Lift that is wanted, m.
    pub wanted_m: f64,
    /// Lift that comes, m, within the lifts of the map.
    pub comes_m: f64,
    /// Torque that is lost, N m; negative where the wrong setting gives more. None beside points that did not settle.
    pub lost_n_m: Option<f64>,
    /// Whether the lift that would come lies beyond the lifts of the map and was held at the last one.
    pub held: bool,
}

impl Wrong {
    /// Lift that comes in place of the wanted one, m, on a map from `closed_m` to `open_m`.
    fn lift_m(self, schedule: &Schedule, speed_rad_s: f64, (closed_m, open_m): (f64, f64)) -> f64 {
        let wanted = schedule.lift_m(speed_rad_s);
        match self {
            Self::Low(by) if wanted > closed_m => wanted - by,
            Self::Low(_) => wanted,
            Self::High(by) => wanted + by,
            Self::Late(by) => schedule.lift_m(speed_rad_s - by),
            Self::StuckClosed => closed_m,
            Self::StuckOpen => open_m,
        }
    }
}

/// The cost at every speed of the map. A lift beyond those that were run is held at the last one, and said to be held:
/// a valve that is closed further than closed or open beyond flush changes the roof of the port no more, while what
/// its edge then does to the flow is not computed.
pub fn cost(grid: &Grid, schedule: &Schedule, wrong: Wrong) -> Vec<Cost> {
    let (low, high) = grid.lift_range_m();
    let one = |(row, speed): (usize, &f64)| {
        let wanted_m = schedule.lift_m(*speed);
        let would = wrong.lift_m(schedule, *speed, (low, high));
        let comes_m = would.clamp(low, high);
        let lost = || Some(grid.at_row(row, wanted_m)? - grid.at_row(row, comes_m)?);
        Cost { speed_rad_s: *speed, wanted_m, comes_m, lost_n_m: lost(), held: would != comes_m }
    };
    grid.speeds_rad_s().iter().enumerate().map(one).collect()
}
