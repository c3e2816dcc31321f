//! What a wrong setting costs, in words and figures.

use super::commanded_rad;
use crate::Answer;
use engine::model::Engine;
use gas::map::{Cost, Grid, Schedule, Wrong, cost};
use quantity::{Dimension, Units};
use serde::Serialize;

/// One way of being wrong.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CostRow {
    /// In words: "edge 1.0 mm low".
    pub name: String,
    /// Torque lost at each speed of the map.
    pub by_speed: Vec<Cost>,
    /// The greatest loss, N m, and its speed, rad/s; none where nothing is lost anywhere.
    pub worst: Option<(f64, f64)>,
    /// Speeds at which the lift that would come lies beyond the map.
    pub held: bool,
}

/// The schedule that the engine's controller follows, with the valve as lifted by a gear that is set right: closed at
/// park, flush at full travel, straight in the servo's travel between.
pub(super) fn own_schedule(answer: &Answer, grid: &Grid) -> Schedule {
    let (low, high) = grid.lift_range_m();
    let case = &answer.solution().case;
    let lift = |speed: &f64| {
        let servo = commanded_rad(&answer.engine, *speed);
        let setting = answer.solution().proposed().or(answer.solution().present);
        let straight = low + (case.drop_m - low) * servo / case.full_rad;
        let lift = setting.map_or(straight, |s| case.lift_m(s, servo, gear::Direction::Rising));
        lift.clamp(low, high)
    };
    Schedule {
        speeds_rad_s: grid.speeds_rad_s().to_vec(),
        lifts_m: grid.speeds_rad_s().iter().map(lift).collect(),
    }
}

/// The usual ways of being wrong, against the engine's own schedule with the valve set right. `leaky` is a map with a
/// leak past the blade, when one was run: its area in m² and the map.
pub fn costs(answer: &Answer, grid: &Grid, leaky: Option<(f64, &Grid)>) -> Vec<CostRow> {
    let schedule = own_schedule(answer, grid);
    let units = answer.units;
    let mut rows: Vec<CostRow> = ways(&answer.engine, units)
        .into_iter()
        .map(|(name, wrong)| row(name, cost(grid, &schedule, wrong)))
        .collect();
    if let Some((area_m2, leaky)) = leaky {
        let area = quantity::show_value(area_m2, Dimension::Area, units);
        rows.push(row(format!("leak of {area} past the blade"), between(grid, leaky, &schedule)));
    }
    rows
}

fn ways(engine: &Engine, units: Units) -> Vec<(String, Wrong)> {
    let length =
        |m: f64| quantity::show_with(m, if units == Units::Metric { 1 } else { 3 }, Dimension::Length, units);
    let rpm = |speed: f64| quantity::show_with(speed, 0, Dimension::Speed, units);
    let half = 500.0 * std::f64::consts::PI / 30.0;
    let mut ways: Vec<(String, Wrong)> = [0.5e-3, 1e-3, 2e-3]
        .into_iter()
        .filter(|by| *by < engine.valve.closed_drop.value)
        .map(|by| (format!("edge {} low", length(by)), Wrong::Low(by)))
        .collect();
    ways.extend([
        (format!("edge {} high", length(1e-3)), Wrong::High(1e-3)),
        (format!("opens {} late", rpm(half)), Wrong::Late(half)),
        (format!("opens {} early", rpm(half)), Wrong::Late(-half)),
        ("stuck closed".to_string(), Wrong::StuckClosed),
        ("stuck open".to_string(), Wrong::StuckOpen),
    ]);
    ways
}

/// The same schedule on two maps.
fn between(grid: &Grid, other: &Grid, schedule: &Schedule) -> Vec<Cost> {
    let one = |speed: &f64| {
        let lift_m = schedule.lift_m(*speed);
        let lost = || Some(grid.at(*speed, lift_m)? - other.at(*speed, lift_m)?);
        Cost { speed_rad_s: *speed, wanted_m: lift_m, comes_m: lift_m, lost_n_m: lost(), held: false }
    };
    grid.speeds_rad_s().iter().map(one).collect()
}

fn row(name: String, by_speed: Vec<Cost>) -> CostRow {
    let lost = by_speed.iter().filter_map(|cost| Some((cost.lost_n_m?, cost.speed_rad_s)));
    let worst = lost.max_by(|a, b| a.0.total_cmp(&b.0)).filter(|worst| worst.0 > 0.0);
    let held = by_speed.iter().any(|cost| cost.held);
    CostRow { name, by_speed, worst, held }
}
