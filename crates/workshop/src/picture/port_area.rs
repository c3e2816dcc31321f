//! Open port area against crank angle.

use drawing::plot::{Axis, Plot, Series};
use drawing::{Scene, Style};
use quantity::{Dimension, Units, display_unit};

/// One curve of open area.
#[derive(Debug, Clone, PartialEq)]
pub struct AreaCurve<'a> {
    /// Name beside the curve.
    pub name: &'a str,
    /// Look.
    pub style: Style,
    /// (crank angle after top dead centre, rad; open area, m²).
    pub points: &'a [(f64, f64)],
}

/// What the plot shows; curves that are empty are left out. Points are (crank angle after top dead centre, rad; open
/// area, m²).
#[derive(Debug, Clone, PartialEq)]
pub struct PortAreas<'a> {
    /// Exhaust with the valve closed.
    pub exhaust_closed: &'a [(f64, f64)],
    /// Exhaust with the valve flush.
    pub exhaust_flush: &'a [(f64, f64)],
    /// Exhaust at the lift shown now.
    pub exhaust_now: &'a [(f64, f64)],
    /// All transfers together.
    pub transfers: &'a [(f64, f64)],
    /// The crank angle shown now, rad after top dead centre.
    pub crank_rad: Option<f64>,
    /// Units to show.
    pub units: Units,
}

/// Draws the areas over the part of the turn in which anything is open.
pub fn port_area(areas: &PortAreas) -> Scene {
    let unit = display_unit(Dimension::Area, areas.units);
    let curves = [
        AreaCurve { name: "transfers", style: Style::Curve2, points: areas.transfers },
        AreaCurve { name: "exhaust, closed", style: Style::Curve4, points: areas.exhaust_closed },
        AreaCurve { name: "exhaust, flush", style: Style::Target, points: areas.exhaust_flush },
        AreaCurve { name: "exhaust, now", style: Style::Proposed, points: areas.exhaust_now },
    ];
    let (from, to) = open_range(&curves);
    let mut plot = Plot::new(
        "Open port area against crank angle",
        "Open area of the exhaust port with the valve closed, flush and as shown now, and of all transfers, over crank angle after top dead centre.",
        Axis::new("crank angle after top dead centre", "°").range(from, to),
        Axis::new("open area", unit.symbol),
    );
    for curve in curves.iter().filter(|c| !c.points.is_empty()) {
        let points = curve.points.iter().map(|p| (p.0.to_degrees(), unit.from_si(p.1))).collect();
        plot.series.push(Series { name: curve.name.into(), style: curve.style, points });
    }
    plot.cursor = areas.crank_rad.map(f64::to_degrees);
    plot.height_mm = 72.0;
    plot.scene()
}

/// Degrees between which something is open, with a little on both sides, to whole tens.
fn open_range(curves: &[AreaCurve]) -> (f64, f64) {
    let open = curves.iter().flat_map(|c| c.points).filter(|p| p.1 > 0.0 && p.0.is_finite());
    let (low, high) = open.fold((f64::MAX, f64::MIN), |(l, h), p| (l.min(p.0), h.max(p.0)));
    if low > high {
        return (60.0, 300.0);
    }
    let (low, high) = (low.to_degrees() - 6.0, high.to_degrees() + 6.0);
    ((low / 10.0).floor() * 10.0, (high / 10.0).ceil() * 10.0)
}
