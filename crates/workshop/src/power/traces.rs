//! Pressures and flows along one turn, over the open ports.

use drawing::plot::{Along, Axis, Line, Plot, Series};
use drawing::{Scene, Style};
use engine::model::Engine;
use engine::ports::area_curve;
use gas::cycle::Point;
use quantity::{Dimension, Units, display_unit};
use std::f64::consts::TAU;

/// Crank angles shown, degrees after top dead centre: from before any exhaust port opens to after it has closed.
const SHOWN: (f64, f64) = (60.0, 300.0);

/// Points of the port curves.
const CURVE_POINTS: usize = 361;

/// One valve position of a picture.
#[derive(Debug, Clone, Copy)]
pub struct Held<'a> {
    /// Name beside the curve.
    pub name: &'a str,
    /// Look.
    pub style: Style,
    /// What was run.
    pub point: &'a Point,
}

/// Pressure behind the exhaust port for several valve positions, above the ports that are open meanwhile (at
/// `lift_m`).
pub fn exhaust_scene(engine: &Engine, held: &[Held<'_>], lift_m: f64, units: Units) -> Scene {
    let unit = display_unit(Dimension::Pressure, units);
    let mut plot = Plot::new(
        "Pressure in the exhaust at the port",
        "Pressure behind the exhaust port along the turn for several valve positions, above the open areas of exhaust and transfers.",
        crank_axis(),
        Axis::new("pressure", unit.symbol),
    );
    plot.series.extend(held.iter().map(|held| {
        let traces = &held.point.traces;
        let points = unrolled(&traces.angle_rad, &traces.exhaust_port_pa, |pa| unit.from_si(pa));
        Series { name: held.name.into(), style: held.style, points }
    }));
    ambient(&mut plot, engine, |pa| unit.from_si(pa));
    plot.height_mm = 70.0;
    plot.above(&areas(engine, lift_m, units))
}

/// Pressures in cylinder, crankcase and exhaust with the valve held at one lift, above the flows through the ports.
pub fn exchange_scene(engine: &Engine, point: &Point, units: Units) -> Scene {
    let unit = display_unit(Dimension::Pressure, units);
    let traces = &point.traces;
    let mut plot = Plot::new(
        "Pressures while the ports are open",
        "Pressure in the cylinder, in the crankcase and in the exhaust at the port along the turn, above the mass flows through exhaust, transfers and reed.",
        crank_axis(),
        Axis::new("pressure", unit.symbol),
    );
    for (name, style, pressure) in [
        ("cylinder", Style::Proposed, &traces.cylinder_pa),
        ("crankcase", Style::Curve3, &traces.crankcase_pa),
        ("exhaust at the port", Style::Curve4, &traces.exhaust_port_pa),
    ] {
        let points = unrolled(&traces.angle_rad, pressure, |pa| unit.from_si(pa));
        plot.series.push(Series { name: name.into(), style, points });
    }
    // Compression and combustion would flatten everything else.
    let highest = traces.exhaust_port_pa.iter().chain(&traces.crankcase_pa).copied().fold(0.0, f64::max);
    let lowest =
        traces.exhaust_port_pa.iter().chain(&traces.crankcase_pa).copied().fold(f64::INFINITY, f64::min);
    if highest > lowest {
        plot.y = plot.y.range(unit.from_si(0.9 * lowest), unit.from_si(1.5 * highest));
    }
    ambient(&mut plot, engine, |pa| unit.from_si(pa));
    plot.height_mm = 70.0;
    let mut flows = Plot::new("", "", crank_axis(), Axis::new("flow", "g/s"));
    for (name, style, flow) in [
        ("exhaust", Style::Curve4, &traces.exhaust_kg_s),
        ("transfers", Style::Curve2, &traces.transfer_kg_s),
        ("reed", Style::Curve3, &traces.reed_kg_s),
    ] {
        let points = unrolled(&traces.angle_rad, flow, |kg_s| kg_s * 1e3);
        flows.series.push(Series { name: name.into(), style, points });
    }
    flows.height_mm = 48.0;
    plot.above(&flows)
}

fn crank_axis() -> Axis {
    Axis::new("crank angle after top dead centre", "°").range(SHOWN.0, SHOWN.1)
}

fn ambient(plot: &mut Plot, engine: &Engine, figure: impl Fn(f64) -> f64) {
    let pa = engine.gas.ambient.as_ref().map_or(101_325.0, |day| day.pressure.value);
    plot.lines.push(Line { along: Along::Y, at: figure(pa), label: "outside".into(), style: Style::Centre });
}

fn areas(engine: &Engine, lift_m: f64, units: Units) -> Plot {
    let unit = display_unit(Dimension::Area, units);
    let mut strip = Plot::new("", "", crank_axis(), Axis::new("open area", unit.symbol));
    let curve = area_curve(engine, lift_m, CURVE_POINTS).unwrap_or_default();
    for (name, style, exhaust) in [("exhaust", Style::Proposed, true), ("transfers", Style::Curve2, false)] {
        let area =
            |point: &engine::ports::AreaPoint| if exhaust { point.exhaust_m2 } else { point.transfer_m2 };
        let points = curve.iter().map(|p| (p.angle_rad.to_degrees(), unit.from_si(area(p)))).collect();
        strip.series.push(Series { name: name.into(), style, points });
    }
    strip.height_mm = 44.0;
    strip
}

/// From angles of -180° to 180° to 0° to 360° after top dead centre, in their order.
fn unrolled(angle_rad: &[f64], values: &[f64], figure: impl Fn(f64) -> f64) -> Vec<(f64, f64)> {
    let mut points: Vec<(f64, f64)> = angle_rad
        .iter()
        .zip(values)
        .map(|(angle, value)| (angle.rem_euclid(TAU).to_degrees(), figure(*value)))
        .collect();
    points.sort_by(|a, b| a.0.total_cmp(&b.0));
    points
}
