//! Where two curves of the map cross.

use super::Grid;

/// Speeds (rad/s, rising) at which the torque at `one_m` of lift and that at `other_m` are equal, straight between the
/// speeds of the map that came to a steady cycle at both. Speeds at which they differ by no more than `share` of the torque
/// tell nothing and are passed over.
pub fn crossings(grid: &Grid, one_m: f64, other_m: f64, share: f64) -> Vec<f64> {
    let ahead = |row: usize| {
        let (one, other) = (grid.at_row(row, one_m)?, grid.at_row(row, other_m)?);
        Some(one - other).filter(|ahead| ahead.abs() > share * one.abs().max(other.abs()))
    };
    let mut found = Vec::new();
    let mut before: Option<(f64, f64)> = None;
    for (row, speed) in grid.speeds_rad_s().iter().enumerate() {
        let Some(now) = ahead(row) else { continue };
        if let Some((at, was)) = before.filter(|(_, was)| was * now < 0.0) {
            found.push(at + (speed - at) * was / (was - now));
        }
        before = Some((*speed, now));
    }
    found
}
