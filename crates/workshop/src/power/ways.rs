//! What each way of setting gives in torque, at low, middle and top speed.

use super::{commanded_rad, torque_text};
use crate::Answer;
use crate::procedure::{Comparison, Entry, Measure, Quantiles};
use gas::map::Grid;
use quantity::Units;
use serde::Serialize;
use std::f64::consts::PI;

/// Torque of one way at one speed, N m: at the middle draw of the edge, and the least and most over the edges of the
/// middle 95 % of the draws.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Reached {
    /// At the middle draw.
    pub median_n_m: f64,
    /// Least.
    pub least_n_m: f64,
    /// Most.
    pub most_n_m: f64,
}

/// Torque of the ways of setting.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WaysTorque {
    /// Low, middle and top speed, rad/s.
    pub speeds_rad_s: [f64; 3],
    /// By way: key, name, and what is reached at each speed; none outside of the map.
    pub ways: Vec<(String, String, [Option<Reached>; 3])>,
    /// Some edge would stand above flush: the map's last lift was taken.
    pub held: bool,
}

/// The same in finished texts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ToldTorque {
    /// Low, middle and top, with the speed.
    pub heads: Vec<String>,
    /// By way: name, and at each speed the torque at the middle draw and from the least to the most.
    pub rows: Vec<(String, Vec<Option<[String; 2]>>)>,
    /// What the figures are.
    pub says: String,
}

impl WaysTorque {
    /// In the units shown.
    pub fn told(&self, units: Units) -> ToldTorque {
        let n_m = |torque_n_m: f64| torque_text(torque_n_m, 2, units);
        let figures = |reached: &Option<Reached>| {
            reached.map(|r| [n_m(r.median_n_m), format!("{} to {}", n_m(r.least_n_m), n_m(r.most_n_m))])
        };
        let held = "An edge above flush is taken as flush: what it does to the flow is not computed.";
        let says = "Computed by gas dynamics for the edges that each way leaves; no measured curve stands behind it. At the middle \
                    draw, and below it from the least to the most over nineteen draws in twenty. Low: the valve at park. Middle: \
                    the servo half way. Top: full travel.";
        ToldTorque {
            heads: ["Low", "Middle", "Top"]
                .iter()
                .zip(self.speeds_rad_s)
                .map(|(word, speed)| format!("{word}, {:.0} rpm", speed * 30.0 / PI))
                .collect(),
            rows: self
                .ways
                .iter()
                .map(|(_, name, all)| (name.clone(), all.iter().map(figures).collect()))
                .collect(),
            says: if self.held { format!("{says} {held}") } else { says.to_owned() },
        }
    }
}

/// Reads the map at the edges that each way leaves. Low is the last speed of the map at or below the opening speed (its
/// lowest when that lies between), with the edge at park; top the speed of the greatest power with the valve open, at or above the full-open speed, with the
/// edge at full travel; middle half way between opening and full-open speed, with an edge off its place by the mean of
/// both. `None` where the map does not reach over those speeds.
pub fn ways_torque(answer: &Answer, grid: &Grid, comparison: &Comparison) -> Option<WaysTorque> {
    let schedule = &answer.engine.schedule;
    let (opening, full) = (schedule.opening_speed.value, schedule.full_open_speed.value);
    let (_, high) = grid.lift_range_m();
    let speeds = grid.speeds_rad_s();
    let middle = 0.5 * (opening + full);
    let lowest = speeds.first().filter(|speed| **speed < middle);
    let low = *speeds.iter().rev().find(|speed| **speed <= opening).or(lowest)?;
    let power = |(row, speed): (usize, &f64)| Some((grid.at_row(row, high)? * speed, *speed));
    let above = speeds.iter().enumerate().filter(|(_, speed)| **speed >= full);
    let (_, top) = above.filter_map(power).max_by(|a, b| a.0.total_cmp(&b.0))?;
    let mut held = false;
    let ways = comparison
        .entries
        .iter()
        .map(|entry| {
            let procedure = entry.run.procedure();
            let reached = of_entry(answer, grid, entry, [low, middle, top], &mut held);
            (procedure.key.clone(), procedure.name.clone(), reached)
        })
        .collect();
    Some(WaysTorque { speeds_rad_s: [low, middle, top], ways, held })
}

fn of_entry(
    answer: &Answer,
    grid: &Grid,
    entry: &Entry,
    [low, middle, top]: [f64; 3],
    held: &mut bool,
) -> [Option<Reached>; 3] {
    let edges = |measure| entry.summary.quantiles(measure).map(|q: Quantiles| [q.low, q.median, q.high]);
    let (Some(closed), Some(full)) = (edges(Measure::EdgeAtClosed), edges(Measure::EdgeAtFull)) else {
        return [None; 3];
    };
    let case = &answer.solution().case;
    let share = commanded_rad(&answer.engine, middle) / case.full_rad;
    let straight_m = case.law.lift_m(share * case.flush_travel_rad().unwrap_or_default());
    let half: [f64; 3] = std::array::from_fn(|at| straight_m + 0.5 * (closed[at] + full[at]));
    let open = full.map(|edge| case.drop_m + edge);
    let (least_m, most_m) = grid.lift_range_m();
    let mut reached = |speed: f64, lifts_m: [f64; 3]| {
        *held |= lifts_m[1] > most_m + 1e-5;
        let at = |lift_m: f64| grid.at(speed, lift_m.clamp(least_m, most_m));
        let between = (0..=8).map(|step| at(lifts_m[0] + (lifts_m[2] - lifts_m[0]) * f64::from(step) / 8.0));
        let torque = between.collect::<Option<Vec<f64>>>()?;
        Some(Reached {
            median_n_m: at(lifts_m[1])?,
            least_n_m: torque.iter().copied().fold(f64::INFINITY, f64::min),
            most_n_m: torque.iter().copied().fold(f64::NEG_INFINITY, f64::max),
        })
    };
    [reached(low, closed), reached(middle, half), reached(top, open)]
}
