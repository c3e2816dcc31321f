//! The opening schedule with the most torque that the actuator can follow.

use super::Grid;
use serde::Serialize;

/// Lifts between which the search chooses, over the range that was run.
const LEVELS: usize = 81;

/// Share of the valve's range at which it counts as begun to open, and, from the other end, as fully open.
const EDGE: f64 = 0.02;

/// Lift by speed: straight between the speeds of the map.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Schedule {
    /// Speeds, rad/s, rising.
    pub speeds_rad_s: Vec<f64>,
    /// Lift at each, m.
    pub lifts_m: Vec<f64>,
}

impl Schedule {
    /// Lift at a speed, m; held beyond the first and the last.
    pub fn lift_m(&self, speed_rad_s: f64) -> f64 {
        let right = self.speeds_rad_s.partition_point(|speed| *speed <= speed_rad_s);
        let (Some(left), true) = (right.checked_sub(1), right < self.speeds_rad_s.len()) else {
            let held = if right == 0 { self.lifts_m.first() } else { self.lifts_m.last() };
            return held.copied().unwrap_or(0.0);
        };
        let (from, to) = (self.speeds_rad_s[left], self.speeds_rad_s[right]);
        let share = (speed_rad_s - from) / (to - from);
        self.lifts_m[left] + share * (self.lifts_m[right] - self.lifts_m[left])
    }

    /// Speed at which the valve begins to open, rad/s: 2 % of the range `low_m` to `high_m`. `None` where it stands
    /// open from the first speed on, or never opens.
    pub fn opening_speed_rad_s(&self, low_m: f64, high_m: f64) -> Option<f64> {
        self.reaches(low_m + EDGE * (high_m - low_m))
    }

    /// Speed at which it is fully open, rad/s: 98 % of the range. `None` where it is so from the first speed on, or
    /// never.
    pub fn full_open_speed_rad_s(&self, low_m: f64, high_m: f64) -> Option<f64> {
        self.reaches(high_m - EDGE * (high_m - low_m))
    }

    fn reaches(&self, lift_m: f64) -> Option<f64> {
        let at = self.lifts_m.iter().position(|lift| *lift >= lift_m)?.checked_sub(1)?;
        let (from, to) = (self.lifts_m[at], self.lifts_m[at + 1]);
        let share = (lift_m - from) / (to - from);
        Some(self.speeds_rad_s[at] + share * (self.speeds_rad_s[at + 1] - self.speeds_rad_s[at]))
    }
}

/// The schedule with the greatest torque, added up over the speeds, among all that never close again with rising speed
/// and open by no more than `steepest_m_per_rad_s` (m of lift for each rad/s of engine speed; infinite for an actuator
/// that can do anything). Found exactly among 81 lifts by dynamic programming (Bellman, R., Dynamic Programming, 1957,
/// ch. I, principle of optimality). Speeds at which nothing settled do not count. `None` where nothing settled at all.
pub fn best(grid: &Grid, steepest_m_per_rad_s: f64) -> Option<Schedule> {
    let (low, high) = grid.lift_range_m();
    let speeds = grid.speeds_rad_s();
    let step = (high - low) / (LEVELS - 1) as f64;
    let lift = |level: usize| if level + 1 == LEVELS { high } else { low + step * level as f64 };
    let worth = |row: usize| -> Vec<f64> {
        let torque: Vec<Option<f64>> = (0..LEVELS).map(|level| grid.at_row(row, lift(level))).collect();
        let known = torque.iter().any(Option::is_some);
        // A hole is passed over only where the whole speed is one.
        let missing = if known { f64::NEG_INFINITY } else { 0.0 };
        torque.into_iter().map(|torque| torque.map_or(missing, |t| t * weight(speeds, row))).collect()
    };
    (0..speeds.len()).any(|row| grid.peak(row, 0.0).is_some()).then_some(())?;
    let mut sums = worth(0);
    let mut from: Vec<Vec<usize>> = Vec::new();
    for row in 1..speeds.len() {
        let reach = steepest_m_per_rad_s * (speeds[row] - speeds[row - 1]) / step;
        // A hair of rounding must not cost a level.
        let levels = if reach.is_finite() { (reach + 1e-9).max(0.0) as usize } else { LEVELS };
        let came: Vec<usize> = (0..LEVELS).map(|to| greatest(&sums, to.saturating_sub(levels), to)).collect();
        let here = worth(row);
        sums = came.iter().zip(here).map(|(level, own)| sums[*level] + own).collect();
        from.push(came);
    }
    let mut level = greatest(&sums, 0, LEVELS - 1);
    if sums[level] == f64::NEG_INFINITY {
        return None;
    }
    let mut levels = vec![level];
    for came in from.iter().rev() {
        level = came[level];
        levels.push(level);
    }
    let lifts_m = levels.into_iter().rev().map(lift).collect();
    Some(Schedule { speeds_rad_s: speeds.to_vec(), lifts_m })
}

/// Half of the speeds from the neighbour before to the neighbour after, rad/s.
fn weight(speeds: &[f64], row: usize) -> f64 {
    let last = speeds.len() - 1;
    0.5 * (speeds[(row + 1).min(last)] - speeds[row.saturating_sub(1)])
}

/// The first of the greatest among `from..=to`.
fn greatest(sums: &[f64], from: usize, to: usize) -> usize {
    (from..=to).rev().max_by(|a, b| sums[*a].total_cmp(&sums[*b])).unwrap_or(to)
}
