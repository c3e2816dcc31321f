//! Valve edge against servo travel: as found and proposed, both ways, with the target.

use super::length_axis;
use drawing::plot::{Along, Axis, Band, Line, Marker, Plot, Series};
use drawing::{Scene, Style};
use quantity::Units;

/// What the curve shows. Points are (servo travel from closed park, rad; valve edge above closed, m).
#[derive(Debug, Clone, PartialEq)]
pub struct TravelCurves<'a> {
    /// Proposed setting, servo going up.
    pub proposed_rising: &'a [(f64, f64)],
    /// Proposed setting, servo coming back.
    pub proposed_falling: &'a [(f64, f64)],
    /// As found, servo going up; empty when not known.
    pub found_rising: &'a [(f64, f64)],
    /// As found, servo coming back; empty when not known.
    pub found_falling: &'a [(f64, f64)],
    /// Full servo travel, rad.
    pub full_travel_rad: f64,
    /// Edge above closed when flush, m.
    pub flush_m: f64,
    /// The edge may lie this far from flush at full travel, m.
    pub flush_tolerance_m: f64,
    /// The position shown now: (servo travel, edge above closed).
    pub now: Option<(f64, f64)>,
    /// Units to show.
    pub units: Units,
}

/// Draws the curve: lift upright, servo travel in degrees level.
pub fn travel_curve(curves: &TravelCurves) -> Scene {
    let (per_m, symbol) = length_axis(curves.units);
    let full = curves.full_travel_rad.to_degrees();
    let mut plot = Plot::new(
        "Valve edge against servo travel",
        "How far the valve edge stands above its closed position while the servo goes up and comes back, as found and as proposed, with flush and its tolerance.",
        Axis::new("servo travel from closed park", "°").range(0.0, full * 1.02),
        Axis::new("valve edge above closed", symbol),
    );
    let in_axes = |points: &[(f64, f64)]| points.iter().map(|p| (p.0.to_degrees(), p.1 * per_m)).collect();
    let (flush, tolerance) = (curves.flush_m * per_m, curves.flush_tolerance_m.abs() * per_m);
    plot.bands.push(Band {
        along: Along::Y,
        low: flush - tolerance,
        high: flush + tolerance,
        style: Style::LimitBand,
    });
    plot.lines.push(Line { along: Along::Y, at: flush, label: "flush".into(), style: Style::Target });
    let named = [
        ("as found", Style::AsFound, curves.found_rising),
        ("", Style::AsFound, curves.found_falling),
        ("proposed, going up", Style::Proposed, curves.proposed_rising),
        ("coming back", Style::Curve1, curves.proposed_falling),
    ];
    for (name, style, points) in named.into_iter().filter(|n| !n.2.is_empty()) {
        plot.series.push(Series { name: name.into(), style, points: in_axes(points) });
    }
    if let Some((servo, lift)) = curves.now {
        plot.cursor = Some(servo.to_degrees());
        let (x, y) = (servo.to_degrees(), lift * per_m);
        plot.markers.push(Marker { x, y, label: String::new(), style: Style::Now });
    }
    plot.height_mm = 72.0;
    plot.scene()
}
