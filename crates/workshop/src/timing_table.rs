//! Port timing, areas and what follows from them, at chosen valve lifts, each with its uncertainty.

use crate::report::PortsTable;
use crate::setting::spread::Share;
use engine::GeometryError;
use engine::model::Engine;
use engine::ports::{AtSpeed, PortsReport, exhaust_angles, report};
use evidence::Input;
use evidence::propagation::{first_order, first_order_many};
use quantity::{Dimension, Measured, Shape, Units, display_unit};
use std::cell::RefCell;
use std::f64::consts::TAU;

/// A valve position to be looked at.
#[derive(Debug, Clone, PartialEq)]
pub struct Position {
    /// Column head, e.g. "closed".
    pub name: String,
    /// Valve edge above its closed position, m.
    pub lift_m: f64,
}

/// The two ends that every engine has: closed, and flush with the port roof.
pub fn both_ends(engine: &Engine) -> Vec<Position> {
    vec![
        Position { name: "closed".to_owned(), lift_m: 0.0 },
        Position { name: "flush".to_owned(), lift_m: engine.valve.closed_drop.value },
    ]
}

/// The table at `positions`, with what depends on speed at `speed_rad_s` (crank, rad/s, above zero).
///
/// Uncertainties are first order (JCGM 100:2008) over every figure of crank train, head, ports and closed drop; shown
/// is the expanded uncertainty for about 95 %.
///
/// # Errors
/// When the geometry is impossible at one of the lifts.
pub fn timing_table(
    engine: &Engine,
    positions: &[Position],
    speed_rad_s: f64,
    units: Units,
) -> Result<PortsTable, GeometryError> {
    let mut columns = vec!["".to_owned()];
    let mut rows: Vec<Vec<String>> = Vec::new();
    for position in positions {
        columns.push(position.name.clone());
        for (at, (label, text)) in
            column(engine, position.lift_m, speed_rad_s, units)?.into_iter().enumerate()
        {
            match rows.get_mut(at) {
                Some(row) => row.push(text),
                None => rows.push(vec![label, text]),
            }
        }
    }
    Ok(PortsTable { columns, rows })
}

/// How a row's number is shown.
#[derive(Clone, Copy)]
enum Shown {
    /// In the usual unit of its dimension.
    As(Dimension),
    /// Factor from SI and unit text, for quantities that the workshop writes in a unit of their own.
    In(f64, &'static str),
}

/// Label, value in SI, way of showing.
type Line = (String, f64, Shown);

fn column(
    engine: &Engine,
    lift_m: f64,
    speed_rad_s: f64,
    units: Units,
) -> Result<Vec<(String, String)>, GeometryError> {
    let best = lines(&report(engine, lift_m)?, speed_rad_s, units);
    let spread = spreads(engine, lift_m, speed_rad_s, units, best.len());
    Ok(best
        .into_iter()
        .enumerate()
        .map(|(at, (label, value, shown))| (label, text(value, spread.get(at).copied(), shown, units)))
        .collect())
}

fn text(value: f64, u: Option<f64>, shown: Shown, units: Units) -> String {
    let measured = |value: f64, dimension| Measured::normal(value, u.unwrap_or(0.0), dimension);
    match shown {
        Shown::As(dimension) => quantity::show(&measured(value, dimension), units),
        Shown::In(per_si, unit) => {
            let scaled = Measured {
                value: value * per_si,
                u: u.unwrap_or(0.0) * per_si,
                shape: Shape::Normal,
                dimension: Dimension::Number,
                written: None,
            };
            format!("{} {unit}", quantity::show(&scaled, units))
        }
    }
}

/// Standard uncertainties of the lines; empty when they cannot be had (then no ± is shown).
fn spreads(engine: &Engine, lift_m: f64, speed_rad_s: f64, units: Units, count: usize) -> Vec<f64> {
    let (inputs, drawn) = geometry(engine);
    let joint = first_order_many(&inputs, None, count, |values: &[f64], out: &mut [f64]| {
        let mut engine = drawn.borrow_mut();
        set_figures(&mut engine, values);
        let Ok(report) = report(&engine, lift_m) else {
            return false;
        };
        let found = lines(&report, speed_rad_s, units);
        for (slot, (_, value, _)) in out.iter_mut().zip(&found) {
            *slot = *value;
        }
        found.len() == out.len()
    });
    joint.map(|joint| joint.budgets.iter().map(|budget| budget.u).collect()).unwrap_or_default()
}

/// Every figure as an input, with spread only where it enters the port geometry, and the engine to put draws into.
fn geometry(engine: &Engine) -> (Vec<Input>, RefCell<Engine>) {
    let mut base = engine.clone();
    let mut inputs = Vec::new();
    base.for_each_figure(&mut |key, figure| {
        figure.written = None;
        let enters = ["crank", "head", "port", "valve.closed_drop"].iter().any(|head| key.starts_with(head));
        let u = if enters { figure.u } else { 0.0 };
        inputs.push(Input::new(key, figure.value, u, figure.shape));
    });
    (inputs, RefCell::new(base))
}

fn set_figures(engine: &mut Engine, values: &[f64]) {
    let mut next = values.iter();
    engine.for_each_figure(&mut |_, figure| {
        if let Some(&value) = next.next() {
            figure.value = value;
        }
    });
}

/// What each figure adds to the exhaust's open duration at `lift_m`, rad, the largest first; empty when the geometry
/// is impossible.
pub fn duration_shares(engine: &Engine, lift_m: f64) -> Vec<Share> {
    let (inputs, drawn) = geometry(engine);
    let budget = first_order(&inputs, |values| {
        let mut engine = drawn.borrow_mut();
        set_figures(&mut engine, values);
        exhaust_angles(&engine, lift_m).ok().map(|opening| opening.duration_rad)
    });
    budget.map(Share::of).unwrap_or_default()
}

fn lines(report: &PortsReport, speed_rad_s: f64, units: Units) -> Vec<Line> {
    let mut lines = timing_lines(report, units);
    lines.extend(volume_lines(report));
    lines.extend(area_lines(report, units));
    lines.extend(speed_lines(&report.at(speed_rad_s), report, units));
    lines
}

fn timing_lines(report: &PortsReport, units: Units) -> Vec<Line> {
    let angle = |label: &str, value: f64| (label.to_owned(), value, Shown::As(Dimension::Angle));
    let exhaust = &report.exhaust.opening;
    let mut lines = vec![
        angle("Exhaust opens, after top dead centre", exhaust.opens_rad),
        angle("Exhaust closes, before top dead centre", TAU - exhaust.closes_rad),
        angle("Exhaust open duration", exhaust.duration_rad),
    ];
    if let Some(transfer) = &report.transfer {
        lines.push(angle("First transfer opens, after top dead centre", transfer.opening.opens_rad));
        lines.push(angle("Transfer open duration", transfer.opening.duration_rad));
    }
    if let Some(blowdown) = &report.blowdown {
        lines.push(angle("Blowdown", blowdown.angle_rad));
    }
    let (per_mm, unit) = match units {
        Units::Metric => (1.0, "°/mm"),
        Units::Inch => (25.4, "°/in"),
    };
    lines.push((
        "Opening angle for edge height, at this edge".to_owned(),
        exhaust.opening_deg_per_mm().abs(),
        Shown::In(per_mm, unit),
    ));
    lines
}

fn volume_lines(report: &PortsReport) -> Vec<Line> {
    let mut lines = vec![
        ("Effective stroke".to_owned(), report.effective_stroke_m, Shown::As(Dimension::Length)),
        ("Swept volume".to_owned(), report.swept_volume_m3, Shown::As(Dimension::Volume)),
        ("Compression ratio, geometric".to_owned(), report.geometric_ratio, Shown::In(1.0, ": 1")),
        ("Compression ratio, trapped".to_owned(), report.trapped_ratio, Shown::In(1.0, ": 1")),
    ];
    if let Some(ratio) = report.crankcase_ratio {
        lines.push(("Crankcase compression ratio".to_owned(), ratio, Shown::In(1.0, ": 1")));
    }
    lines
}

fn area_lines(report: &PortsReport, units: Units) -> Vec<Line> {
    let (per_si, angle_unit, _) = area_units(units);
    let angle_area =
        |label: &str, m2_rad: f64| (label.to_owned(), m2_rad.to_degrees(), Shown::In(per_si, angle_unit));
    let area = |label: &str, m2: f64| (label.to_owned(), m2, Shown::As(Dimension::Area));
    let mut lines = vec![
        area("Exhaust area, largest", report.exhaust.max_area_m2),
        angle_area("Exhaust angle-area", report.exhaust.angle_area.m2_rad),
    ];
    if let Some(transfer) = &report.transfer {
        lines.push(area("Transfer area, largest", transfer.max_area_m2));
        lines.push(angle_area("Transfer angle-area", transfer.angle_area.m2_rad));
    }
    if let Some(blowdown) = &report.blowdown {
        lines.push(angle_area("Blowdown angle-area", blowdown.angle_area.m2_rad));
    }
    lines
}

fn speed_lines(at: &AtSpeed, report: &PortsReport, units: Units) -> Vec<Line> {
    let speed = quantity::show_value(at.speed_rad_s, Dimension::Speed, units);
    let (per_si, _, time_unit) = area_units(units);
    let (speed_factor, speed_unit, acceleration_unit) = match units {
        Units::Metric => (1.0, "m/s", "m/s²"),
        Units::Inch => (1.0 / 0.3048, "ft/s", "ft/s²"),
    };
    let mut lines = Vec::new();
    let mut both = |name: &str, area: &engine::ports::TimeArea| {
        lines.push((
            format!("{name} time-area at {speed}"),
            area.time_area_m2_s,
            Shown::In(per_si, time_unit),
        ));
        lines.push((
            format!("{name} specific time-area at {speed}"),
            area.specific_s_per_m,
            Shown::In(1.0, "s/m"),
        ));
    };
    both("Exhaust", &at.exhaust);
    if let Some(transfer) = &at.transfer {
        both("Transfer", transfer);
    }
    if let Some(blowdown) = &at.blowdown {
        both("Blowdown", blowdown);
    }
    lines.push((
        format!("Mean piston speed at {speed}"),
        at.mean_piston_speed_m_s,
        Shown::In(speed_factor, speed_unit),
    ));
    lines.push((
        format!("Largest piston acceleration at {speed}"),
        at.peak_acceleration_m_s2,
        Shown::In(speed_factor, acceleration_unit),
    ));
    if let Some(velocity) = at.squish_velocity_m_s {
        lines.push((
            format!("Largest squish velocity at {speed}"),
            velocity,
            Shown::In(speed_factor, speed_unit),
        ));
    }
    if let Some(squish) = &report.squish {
        lines.push((
            "Squish area, share of the bore".to_owned(),
            squish.area_ratio * 100.0,
            Shown::In(1.0, "%"),
        ));
    }
    lines
}

/// Factor from m², unit of angle-area, unit of time-area. Angle-area is written in mm² whatever the area is shown in.
fn area_units(units: Units) -> (f64, &'static str, &'static str) {
    match units {
        Units::Metric => (1e6, "mm²·°", "mm²·s"),
        Units::Inch => (display_unit(Dimension::Area, units).per_si, "in²·°", "in²·s"),
    }
}
