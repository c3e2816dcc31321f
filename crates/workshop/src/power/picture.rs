//! The map and what is read off it, drawn.

use super::{CostRow, Told, ToldSpeed, Turned, torque_unit};
use drawing::plot::{Along, Axis, Line, Marker, Patch, Plot, Series};
use drawing::{Scene, Style};
use gas::map::Grid;
use quantity::{Dimension, Units};
use std::f64::consts::PI;

/// Columns and rows in which the map is shaded.
const SHADED: (usize, usize) = (48, 40);

fn rpm(speed_rad_s: f64) -> f64 {
    speed_rad_s * 30.0 / PI
}

fn speed_axis(grid_speeds: impl Iterator<Item = f64> + Clone) -> Axis {
    let low = grid_speeds.clone().fold(f64::INFINITY, f64::min);
    let high = grid_speeds.fold(f64::NEG_INFINITY, f64::max);
    Axis::new("engine speed", "rpm").range(rpm(low), rpm(high))
}

fn curve(name: &str, style: Style, points: impl Iterator<Item = (f64, Option<f64>)>) -> Series {
    // A missing figure breaks the curve.
    let points = points.map(|(speed, value)| (rpm(speed), value.unwrap_or(f64::NAN))).collect();
    Series { name: name.into(), style, points }
}

/// What the curves by speed show.
struct Upright<'a> {
    title: &'a str,
    axis: Axis,
    /// From speed (rad/s) and torque (N m) to the axis.
    figure: &'a dyn Fn(f64, f64) -> f64,
}

/// Torque by speed: closed, open, the best of all lifts, and with the setting that is looked at; `measured` points
/// (rad/s, N m) beside them.
pub fn torque_scene(told: &Told, measured: &[(f64, f64)], units: Units) -> Scene {
    let (per, symbol) = torque_unit(units);
    let axis = Axis::new("torque", symbol);
    let figure = |_: f64, torque: f64| torque * per;
    by_speed(told, measured, Upright { title: "Torque against engine speed", axis, figure: &figure })
}

/// The same as power.
pub fn power_scene(told: &Told, measured: &[(f64, f64)], units: Units) -> Scene {
    let unit = quantity::display_unit(Dimension::Power, units);
    let axis = Axis::new("power", unit.symbol);
    let figure = |speed: f64, torque: f64| unit.from_si(torque * speed);
    by_speed(told, measured, Upright { title: "Power against engine speed", axis, figure: &figure })
}

fn by_speed(told: &Told, measured: &[(f64, f64)], upright: Upright<'_>) -> Scene {
    let Upright { title, axis, figure } = upright;
    let mut plot = Plot::new(
        title,
        "Computed, with the valve held closed, held open, at the best lift of each speed and with the setting of this job card.",
        speed_axis(told.speeds.iter().map(|s| s.speed_rad_s)),
        axis,
    );
    let of = |value: fn(&ToldSpeed) -> Option<f64>| {
        told.speeds.iter().map(move |s| (s.speed_rad_s, value(s).map(|torque| figure(s.speed_rad_s, torque))))
    };
    plot.series.push(curve("closed", Style::Curve2, of(|s| s.closed_n_m)));
    plot.series.push(curve("open", Style::Curve4, of(|s| s.open_n_m)));
    plot.series.push(curve("best", Style::Target, of(|s| s.peak.map(|peak| peak.torque_n_m))));
    plot.series.push(curve("this setting", Style::Proposed, of(|s| s.own.torque_n_m)));
    for (speed, torque) in measured {
        let (x, y) = (rpm(*speed), figure(*speed, *torque));
        plot.markers.push(Marker { x, y, label: String::new(), style: Style::AsFound });
    }
    let crossing = |at: f64| Line { along: Along::X, at, label: String::new(), style: Style::Centre };
    plot.lines.extend(told.crossings_rad_s.iter().map(|speed| crossing(rpm(*speed))));
    plot.height_mm = 80.0;
    plot.scene()
}

/// The map as a picture: torque as shades over speed and lift, with the best schedule and the engine's own.
pub fn map_scene(grid: &Grid, told: &Told, units: Units) -> Scene {
    let length = quantity::display_unit(Dimension::Length, units);
    let (low, high) = grid.lift_range_m();
    let mut plot = Plot::new(
        "Map of torque",
        "Torque as shades over engine speed and valve lift, dark where it is greatest, with the best schedule and the engine's own.",
        speed_axis(grid.speeds_rad_s().iter().copied()),
        Axis::new("valve edge above closed", length.symbol).range(length.from_si(low), length.from_si(high)),
    );
    plot.patches = shades(grid, |m| length.from_si(m));
    if let Some(best) = &told.best {
        let points =
            best.speeds_rad_s.iter().copied().zip(best.lifts_m.iter().map(|m| Some(length.from_si(*m))));
        plot.series.push(curve("best schedule", Style::Target, points));
    }
    let own =
        told.own.speeds_rad_s.iter().copied().zip(told.own.lifts_m.iter().map(|m| Some(length.from_si(*m))));
    plot.series.push(curve("this engine's", Style::Proposed, own));
    plot.height_mm = 72.0;
    plot.scene()
}

/// Six steps between the least and the greatest torque of the map.
fn shades(grid: &Grid, to_unit: impl Fn(f64) -> f64) -> Vec<Patch> {
    let (low, high) = grid.lift_range_m();
    let speeds = grid.speeds_rad_s();
    let (Some(first), Some(last)) = (speeds.first(), speeds.last()) else { return Vec::new() };
    let middle =
        |at: usize, of: usize, from: f64, to: f64| from + (to - from) * (at as f64 + 0.5) / of as f64;
    let edge = |at: usize, of: usize, from: f64, to: f64| from + (to - from) * at as f64 / of as f64;
    let torque = |column: usize, row: usize| {
        grid.at(middle(column, SHADED.0, *first, *last), middle(row, SHADED.1, low, high))
    };
    let all: Vec<Vec<Option<f64>>> =
        (0..SHADED.0).map(|c| (0..SHADED.1).map(|r| torque(c, r)).collect()).collect();
    let known = || all.iter().flatten().copied().flatten();
    let (least, most) = (known().fold(f64::INFINITY, f64::min), known().fold(f64::NEG_INFINITY, f64::max));
    let step = |torque: f64| {
        let share = if most > least { (torque - least) / (most - least) } else { 0.0 };
        ((share * 6.0) as usize).min(5)
    };
    let mut patches = Vec::new();
    for (column, torques) in all.iter().enumerate() {
        let mut row = 0;
        while row < SHADED.1 {
            let here = torques[row].map(step);
            let end = (row..SHADED.1).take_while(|r| torques[*r].map(step) == here).count() + row;
            if let Some(step) = here {
                let x = (edge(column, SHADED.0, *first, *last), edge(column + 1, SHADED.0, *first, *last));
                let y = (to_unit(edge(row, SHADED.1, low, high)), to_unit(edge(end, SHADED.1, low, high)));
                patches.push(Patch { x: (rpm(x.0), rpm(x.1)), y, style: Style::SHADES[step] });
            }
            row = end;
        }
    }
    patches
}

/// What turning the opening adjuster adds to torque, by speed.
pub fn turned_scene(turned: &[Turned], units: Units) -> Scene {
    let (per, symbol) = torque_unit(units);
    let speeds = turned.iter().flat_map(|t| t.points.iter().map(|b| b.speed_rad_s));
    let mut plot = Plot::new(
        "Worth of turning the opening adjuster",
        "Torque gained or lost at each speed when the opening adjuster is turned from the proposed setting.",
        speed_axis(speeds),
        Axis::new("torque gained", symbol),
    );
    let styles = [Style::Curve2, Style::Curve1, Style::Curve3, Style::Curve4];
    for (turned, style) in turned.iter().zip(styles) {
        let way = if turned.turns > 0.0 { "out" } else { "in" };
        let many = if turned.turns.abs() == 0.5 {
            "½ turn".to_string()
        } else {
            format!("{} turn", turned.turns.abs())
        };
        let points =
            turned.points.iter().zip(&turned.gains_n_m).map(|(b, g)| (b.speed_rad_s, g.map(|g| g * per)));
        plot.series.push(curve(&format!("{many} {way}"), style, points));
    }
    plot.height_mm = 72.0;
    plot.scene()
}

/// What being wrong costs, by speed: the four dearest.
pub fn costs_scene(rows: &[CostRow], units: Units) -> Scene {
    let (per, symbol) = torque_unit(units);
    let speeds = rows.iter().flat_map(|row| row.by_speed.iter().map(|cost| cost.speed_rad_s));
    let mut plot = Plot::new(
        "Torque lost by a wrong setting",
        "Torque lost at each speed against the engine's own schedule with the valve set right.",
        speed_axis(speeds),
        Axis::new("torque lost", symbol),
    );
    let mut dearest: Vec<&CostRow> = rows.iter().collect();
    let worst = |row: &CostRow| row.worst.map_or(0.0, |(lost, _)| lost);
    dearest.sort_by(|a, b| worst(b).total_cmp(&worst(a)));
    let styles = [Style::Curve1, Style::Curve2, Style::Curve3, Style::Curve4];
    for (row, style) in dearest.into_iter().zip(styles) {
        let points = row.by_speed.iter().map(|cost| (cost.speed_rad_s, cost.lost_n_m.map(|lost| lost * per)));
        plot.series.push(curve(&row.name, style, points));
    }
    plot.height_mm = 80.0;
    plot.scene()
}
