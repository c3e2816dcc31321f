//! Ports that together need more room than the cylinder has round its bore.

use super::{Asked, Case, mm};
use crate::model::{Port, PortGroup, WidthMeasure};
use crate::ports::arc_of_chord_m;
use std::f64::consts::PI;

pub(super) fn ask(case: &Case<'_>, asked: &mut Asked<'_>) {
    let bore_m = case.engine.crank.bore.value;
    // Side ports may sit above or below others, inlet ports below: only the rest stand side by side for sure.
    let beside: Vec<&Port> = case
        .engine
        .ports
        .iter()
        .filter(|port| matches!(port.group, PortGroup::ExhaustMain | PortGroup::Transfer | PortGroup::Boost))
        .collect();
    let arc_m = |port: &&Port| {
        let one = match port.width_measure {
            WidthMeasure::Arc => Some(port.width.value),
            WidthMeasure::Chord => arc_of_chord_m(port.width.value, bore_m),
        };
        one.unwrap_or(0.0) * f64::from(port.count)
    };
    let total_m: f64 = beside.iter().map(arc_m).sum();
    let round_m = PI * bore_m;
    if total_m <= round_m {
        return;
    }
    let widest = beside.into_iter().max_by(|a, b| arc_m(a).total_cmp(&arc_m(b)));
    let table = widest.and_then(|widest| {
        case.tables.all("port").find(|table| table.text("name").as_ref() == Some(&widest.name))
    });
    if let Some(table) = table {
        let key = if table.gives("width_arc") { "width_arc" } else { "width" };
        asked.ask(
            table,
            key,
            format!(
                "Exhaust, transfer and boost ports together take {} along the wall, but the bore is only {} round.",
                mm(total_m),
                mm(round_m)
            ),
            "Likely one width is too large, or count is given for ports that are also listed one by one.",
        );
    }
}
