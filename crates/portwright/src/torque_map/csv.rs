//! Maps and traces as CSV: a heading with units, a full stop as decimal mark, one point a line.

use super::kept::TorqueMap;
use gas::cycle::{Point, Traces};
use std::f64::consts::{PI, TAU};
use std::fmt::Write;

const POINT_HEADS: [&str; 21] = [
    "speed (rpm)",
    "lift (mm)",
    "torque (N·m)",
    "power (kW)",
    "imep (kPa)",
    "pmep (kPa)",
    "fmep (kPa)",
    "bmep (kPa)",
    "delivery ratio (1)",
    "trapping efficiency (1)",
    "scavenging efficiency (1)",
    "charging efficiency (1)",
    "trapped mass (mg)",
    "residual (1)",
    "trapped ratio (1)",
    "peak pressure (kPa)",
    "peak angle (° ATDC)",
    "fuel (g/kWh)",
    "exhaust temperature (K)",
    "turns (1)",
    "why no figure",
];

/// The map, a point a line; where there is no figure the last column says why.
pub(crate) fn csv(map: &TorqueMap) -> String {
    let mut out = POINT_HEADS.join(",") + "\n";
    for (speed, cells) in map.wanted.speeds_rad_s.iter().zip(&map.rows) {
        for (lift, cell) in map.wanted.lifts_m.iter().zip(cells.iter().flatten()) {
            let _ = write!(out, "{:.0},{:.3}", speed * 30.0 / PI, lift * 1e3);
            match cell {
                super::Cell::Point(point) => row(&mut out, point),
                super::Cell::Failed(why) => {
                    let _ =
                        writeln!(out, "{}\"{}\"", ",".repeat(POINT_HEADS.len() - 2), why.replace('"', "'"));
                }
            }
        }
    }
    out
}

fn row(out: &mut String, p: &Point) {
    let fuel = p.bsfc_kg_j.map_or_else(String::new, |kg_j| format!("{:.1}", kg_j * 3.6e9));
    let _ = writeln!(
        out,
        ",{:.4},{:.4},{:.2},{:.2},{:.2},{:.2},{:.4},{:.4},{:.4},{:.4},{:.3},{:.4},{:.4},{:.1},{:.2},{fuel},{:.1},{},",
        p.torque_n_m,
        p.power_w * 1e-3,
        p.imep_pa * 1e-3,
        p.pmep_pa * 1e-3,
        p.fmep_pa * 1e-3,
        p.bmep_pa * 1e-3,
        p.delivery_ratio,
        p.trapping_efficiency,
        p.scavenging_efficiency,
        p.charging_efficiency,
        p.trapped_kg * 1e6,
        p.residual,
        p.trapped_ratio,
        p.peak_pa * 1e-3,
        p.peak_rad.to_degrees(),
        p.exhaust_k,
        p.cycles
    );
}

/// Traces of one turn, a crank angle a line.
pub(crate) fn traces_csv(traces: &Traces) -> String {
    let mut out = String::from(
        "crank angle (° ATDC),cylinder pressure (kPa),cylinder temperature (K),crankcase pressure (kPa),exhaust port pressure (kPa),exhaust flow (g/s),transfer flow (g/s),reed flow (g/s),reed lift (mm)",
    );
    for place in &traces.places {
        let _ = write!(out, ",{:?} at {:.0} mm (kPa)", place.tract, place.distance_m * 1e3);
    }
    out.push('\n');
    let mut order: Vec<usize> = (0..traces.angle_rad.len()).collect();
    let angle = |at: &usize| traces.angle_rad.get(*at).copied().unwrap_or_default().rem_euclid(TAU);
    order.sort_by(|a, b| angle(a).total_cmp(&angle(b)));
    for at in order {
        let of = |values: &[f64], times: f64| values.get(at).copied().unwrap_or(f64::NAN) * times;
        let _ = write!(
            out,
            "{:.2},{:.3},{:.1},{:.3},{:.3},{:.3},{:.3},{:.3},{:.3}",
            angle(&at).to_degrees(),
            of(&traces.cylinder_pa, 1e-3),
            of(&traces.cylinder_k, 1.0),
            of(&traces.crankcase_pa, 1e-3),
            of(&traces.exhaust_port_pa, 1e-3),
            of(&traces.exhaust_kg_s, 1e3),
            of(&traces.transfer_kg_s, 1e3),
            of(&traces.reed_kg_s, 1e3),
            of(&traces.reed_lift_m, 1e3),
        );
        for place in &traces.places {
            let _ = write!(out, ",{:.3}", of(&place.pressure_pa, 1e-3));
        }
        out.push('\n');
    }
    out
}
