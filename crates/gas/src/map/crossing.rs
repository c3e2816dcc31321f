//! Where two curves of the map cross.

use super::Grid;

/// Speeds (rad/s, rising) at which the torque at `one_m` of lift and that at `other_m` are equal, straight between the
/// speeds of the map. A stretch of equal torque counts once, at its end.
pub fn crossings(grid: &Grid, one_m: f64, other_m: f64) -> Vec<f64> {
    let ahead = |row: usize| Some(grid.at_row(row, one_m)? - grid.at_row(row, other_m)?);
    let mut found = Vec::new();
    let mut before: Option<(f64, f64)> = None;
    for (row, speed) in grid.speeds_rad_s().iter().enumerate() {
        let Some(now) = ahead(row) else {
            before = None;
            continue;
        };
        if now == 0.0 {
            continue;
        }
        if let Some((at, was)) = before.filter(|(_, was)| was * now < 0.0) {
            found.push(at + (speed - at) * was / (was - now));
        }
        before = Some((*speed, now));
    }
    found
}
