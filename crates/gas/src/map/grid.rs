//! Torque at the speeds and lifts that were run, read between them.

use super::curve::between;
use serde::{Deserialize, Serialize};
use thiserror::Error;

/// Steps between two lifts that were run in which the best one is looked for.
const FINE: usize = 16;

/// Torque by speed and lift.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Grid {
    speeds_rad_s: Vec<f64>,
    lifts_m: Vec<f64>,
    /// Torque in N m by speed, then by lift; none where the cycle did not settle.
    torque_n_m: Vec<Vec<Option<f64>>>,
}

/// Why figures are no map.
#[derive(Debug, Clone, PartialEq, Error)]
#[allow(missing_docs, reason = "the sentences say what each case is")]
pub enum GridError {
    #[error("a map needs two {what} or more, each above the one before; {given} came")]
    Axis { what: &'static str, given: usize },

    #[error("a map of {speeds} speeds and {lifts} lifts needs a torque for each; the rows do not fit")]
    Size { speeds: usize, lifts: usize },
}

/// Where the torque at one speed is greatest.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Peak {
    /// Lift, m.
    pub lift_m: f64,
    /// Torque there, N m.
    pub torque_n_m: f64,
    /// Lowest lift around it whose torque is within the share that was asked for, m.
    pub from_m: f64,
    /// Highest such lift, m.
    pub to_m: f64,
}

impl Grid {
    /// A map from its rows, one for each speed (rad/s, rising), in each a torque (N m) for every lift (m, rising).
    ///
    /// # Errors
    /// [`GridError`] where axes or rows do not fit.
    pub fn new(
        speeds_rad_s: Vec<f64>,
        lifts_m: Vec<f64>,
        torque_n_m: Vec<Vec<Option<f64>>>,
    ) -> Result<Self, GridError> {
        for (what, axis) in [("speeds", &speeds_rad_s), ("lifts", &lifts_m)] {
            let rising = axis.windows(2).all(|pair| pair[0] < pair[1]);
            if axis.len() < 2 || !rising || axis.iter().any(|value| !value.is_finite()) {
                return Err(GridError::Axis { what, given: axis.len() });
            }
        }
        let (speeds, lifts) = (speeds_rad_s.len(), lifts_m.len());
        let good = |row: &Vec<Option<f64>>| row.len() == lifts && row.iter().flatten().all(|t| t.is_finite());
        if torque_n_m.len() != speeds || !torque_n_m.iter().all(good) {
            return Err(GridError::Size { speeds, lifts });
        }
        Ok(Self { speeds_rad_s, lifts_m, torque_n_m })
    }

    /// Speeds that were run, rad/s, rising.
    pub fn speeds_rad_s(&self) -> &[f64] {
        &self.speeds_rad_s
    }

    /// Lifts that were run, m above the closed edge, rising.
    pub fn lifts_m(&self) -> &[f64] {
        &self.lifts_m
    }

    /// Lowest and highest lift, m.
    pub fn lift_range_m(&self) -> (f64, f64) {
        (self.lifts_m.first().copied().unwrap_or(0.0), self.lifts_m.last().copied().unwrap_or(0.0))
    }

    /// Torque in N m at a speed that was run (counted from 0) and any lift between; `None` beyond the lifts, or beside
    /// a point that did not settle.
    pub fn at_row(&self, row: usize, lift_m: f64) -> Option<f64> {
        let torque = self.torque_n_m.get(row)?;
        // The unbroken stretch of settled points around the lift.
        let right = self.lifts_m.partition_point(|lift| *lift < lift_m).min(self.lifts_m.len() - 1);
        let exact = self.lifts_m[right] == lift_m;
        let left = if exact { right } else { right.checked_sub(1)? };
        (torque[left].is_some() && torque[right].is_some()).then_some(())?;
        let from = (0..=left).rev().take_while(|at| torque[*at].is_some()).last()?;
        let to = (right..torque.len()).take_while(|at| torque[*at].is_some()).last()?;
        if from == to {
            return torque[from];
        }
        let known: Vec<f64> = torque[from..=to].iter().copied().flatten().collect();
        between(&self.lifts_m[from..=to], &known, lift_m)
    }

    /// Torque in N m at any speed (rad/s) and lift (m) between those that were run; `None` beyond or beside a hole.
    pub fn at(&self, speed_rad_s: f64, lift_m: f64) -> Option<f64> {
        let speeds = &self.speeds_rad_s;
        let right = speeds.partition_point(|speed| *speed < speed_rad_s);
        let right = if right == speeds.len() { return None } else { right };
        if speeds[right] == speed_rad_s {
            return self.at_row(right, lift_m);
        }
        let left = right.checked_sub(1)?;
        // One row more on each side shapes the curve, where there is one.
        let rows = left.saturating_sub(1)..(right + 2).min(speeds.len());
        let known = rows.map(|row| (speeds[row], self.at_row(row, lift_m)));
        let (mut x, mut y) = (Vec::new(), Vec::new());
        for (speed, torque) in known {
            match torque {
                Some(torque) => {
                    x.push(speed);
                    y.push(torque);
                }
                None if speed == speeds[left] || speed == speeds[right] => return None,
                None => {}
            }
        }
        between(&x, &y, speed_rad_s)
    }

    /// The lift with the most torque at a speed that was run, and the lifts around it that lose no more than `share`
    /// (0.01 for one in a hundred) of it; `None` where nothing settled.
    pub fn peak(&self, row: usize, share: f64) -> Option<Peak> {
        let steps = (self.lifts_m.len() - 1) * FINE;
        let (low, high) = self.lift_range_m();
        let lift = |step: usize| low + (high - low) * step as f64 / steps as f64;
        // Lifts that were run are looked at too: the greatest may be one of them.
        let mut places: Vec<f64> = (0..=steps).map(lift).chain(self.lifts_m.iter().copied()).collect();
        places.sort_by(f64::total_cmp);
        let known: Vec<(f64, f64)> =
            places.into_iter().filter_map(|lift| Some((lift, self.at_row(row, lift)?))).collect();
        // Among equals the lowest lift: the valve has not to move for nothing.
        let (at, _) = known.iter().enumerate().rev().max_by(|a, b| a.1.1.total_cmp(&b.1.1))?;
        let (lift_m, torque_n_m) = known[at];
        let near = |point: &&(f64, f64)| torque_n_m - point.1 <= share * torque_n_m.abs();
        let from_m = known[..=at].iter().rev().take_while(near).last().map_or(lift_m, |point| point.0);
        let to_m = known[at..].iter().take_while(near).last().map_or(lift_m, |point| point.0);
        Some(Peak { lift_m, torque_n_m, from_m, to_m })
    }
}
