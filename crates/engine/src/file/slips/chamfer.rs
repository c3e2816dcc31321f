//! Chamfer instead of edge. Two single ports of one group with the same width and corners are the left and the right
//! one of a pair and are cut alike; when one roof lies higher by about the breadth of a chamfer, its chamfer was
//! probably taken for the edge. (A lone port cannot be judged: no rule would be honest.)

use super::{Asked, Case, mm};
use crate::file::table::Table;
use crate::model::{Port, PortGroup};

/// Breadth of a chamfer, m: common practice, no source.
const CHAMFER_M: std::ops::RangeInclusive<f64> = 0.2e-3..=1.5e-3;

pub(super) fn ask(case: &Case<'_>, asked: &mut Asked<'_>) {
    let tables: Vec<&Table> = case.tables.all("port").collect();
    let ports: Vec<(&Port, &Table)> = case.engine.ports.iter().zip(tables).collect();
    for (at, (one, one_table)) in ports.iter().enumerate() {
        for (other, other_table) in ports.iter().skip(at + 1) {
            let (Some(one_m), Some(other_m)) = (roof_m(case, one), roof_m(case, other)) else { continue };
            let apart_m = (one_m - other_m).abs();
            let spread_m = if one.roof.at.dimension == quantity::Dimension::Length {
                2.0 * one.roof.at.u.hypot(other.roof.at.u)
            } else {
                0.0
            };
            if !is_pair(one, other) || !CHAMFER_M.contains(&apart_m) || apart_m <= spread_m {
                continue;
            }
            let (table, port, lower) =
                if one_m < other_m { (one_table, one, other) } else { (other_table, other, one) };
            asked.ask(
                table,
                roof_key(table),
                format!(
                    "This port looks like the pair of \"{}\", but its roof lies {} higher.",
                    lower.name,
                    mm(apart_m)
                ),
                format!("Likely the chamfer of \"{}\" was measured instead of its edge.", port.name),
            );
        }
    }
}

fn roof_m(case: &Case<'_>, port: &Port) -> Option<f64> {
    case.path.depth_of_m(port.roof.datum, port.roof.at.value)
}

fn is_pair(one: &Port, other: &Port) -> bool {
    let like = |a: &quantity::Measured, b: &quantity::Measured| (a.value - b.value).abs() <= 0.1e-3;
    one.group == other.group
        && !matches!(one.group, PortGroup::Inlet | PortGroup::ExhaustMain)
        && one.count == 1
        && other.count == 1
        && one.roof.datum == other.roof.datum
        && one.width_measure == other.width_measure
        && like(&one.width, &other.width)
        && like(&one.roof_radius, &other.roof_radius)
        && like(&one.floor_radius, &other.floor_radius)
}

fn roof_key(table: &Table) -> &'static str {
    let keys = ["roof_below_deck", "roof_above_crown_at_bdc", "opens_after_tdc", "opens_before_bdc"];
    keys.into_iter().find(|key| table.gives(key)).unwrap_or("duration")
}
