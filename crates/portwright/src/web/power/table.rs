//! Figures of the map in rows.

use super::show::figure;
use crate::torque_map::{Cell, TorqueMap};
use gas::cycle::Point;
use maud::{Markup, html};
use quantity::{Dimension, Units, show_with};
use std::f64::consts::PI;
use workshop::power::{self, Told, torque_text};

pub(in crate::web) fn rpm(speed_rad_s: f64) -> String {
    format!("{:.0} rpm", speed_rad_s * 30.0 / PI)
}

/// The opening adjuster turned, at every speed.
pub(super) fn turned(told: &Told, units: Units) -> Markup {
    let name = |turns: f64| {
        let many = if turns.abs() == 0.5 { "½ turn".to_owned() } else { format!("{} turn", turns.abs()) };
        format!("{many} {}", if turns > 0.0 { "out" } else { "in" })
    };
    html! {
        details.more {
        summary { "By speed" }
        table.wide {
            thead { tr {
                th scope="col" { "Speed" } th scope="col" { "This setting" }
                @for turned in &told.turned { th scope="col" { (name(turned.turns)) } }
            } }
            tbody {
                @for (at, row) in told.speeds.iter().enumerate() {
                    tr {
                        th scope="row" { (rpm(row.speed_rad_s)) }
                        td data-label="This setting" {
                            (row.own.torque_n_m.map_or_else(|| "no figure".to_owned(), |t| torque_text(t, 1, units)))
                            @if let Some((least, most)) = row.own.band_n_m {
                                span.from { (torque_text(least, 2, units)) " to " (torque_text(most, 2, units)) }
                            }
                        }
                        @for turned in &told.turned {
                            @let gain = turned.gains_n_m.get(at).copied().flatten();
                            td data-label=(name(turned.turns)) { (gain.map_or_else(|| "–".to_owned(), |g| torque_text(g, 2, units))) }
                        }
                    }
                }
            }
        }
        }
        p.muted.small { "The small figures are the band that comes of the uncertainty of the edge (95 %). Out of the bracket takes up slack and raises the edge." }
    }
}

/// What being wrong costs.
pub(super) fn costs(told: &Told, units: Units) -> Markup {
    html! {
        section.panel #cost aria-labelledby="cost-title" {
            h2 #cost-title { "What being wrong costs" }
            (figure(&power::costs_scene(&told.costs, units)))
            table.wide {
                thead { tr { th scope="col" { "Wrong so" } th scope="col" { "Most torque lost" } th scope="col" { "At" } } }
                tbody {
                    @for row in &told.costs {
                        tr {
                            th scope="row" { (row.name) @if row.held { span.from { "held at the last lift of the map where it would go beyond" } } }
                            @match row.worst {
                                Some((lost, speed)) => {
                                    td data-label="Most torque lost" { (torque_text(lost, 2, units)) }
                                    td data-label="At" { (rpm(speed)) }
                                }
                                None => { td data-label="Most torque lost" { "nothing at any speed" } td data-label="At" { "–" } }
                            }
                        }
                    }
                }
            }
            p.muted.small { "Against this engine's own schedule with the valve set right." }
        }
    }
}

/// Every point of the map: at the closed, the middle and the highest lift; all stand in the CSV.
pub(super) fn points(map: &TorqueMap, units: Units) -> Markup {
    let last = map.wanted.lifts_m.len().saturating_sub(1);
    let length = |m: f64| show_with(m, if units == Units::Metric { 1 } else { 3 }, Dimension::Length, units);
    html! {
        section.panel aria-labelledby="points-title" {
            details.more {
                summary { h2 #points-title { "What the gas does at each point" } }
                @for lift in [0, last / 2, last] {
                    @let m = map.wanted.lifts_m.get(lift).copied().unwrap_or_default();
                    h3 { "Edge " (length(m)) " above closed" }
                    table.wide {
                        thead { tr {
                            th scope="col" { "Speed" } th scope="col" { "Torque" } th scope="col" { "Power" } th scope="col" { "Delivery ratio" }
                            th scope="col" { "Trapping" } th scope="col" { "Charging" } th scope="col" { "Peak pressure" } th scope="col" { "Exhaust" } th scope="col" { "Turns" }
                        } }
                        tbody {
                            @for (speed, cells) in map.wanted.speeds_rad_s.iter().zip(&map.rows) {
                                @if let Some(cell) = cells.as_ref().and_then(|cells| cells.get(lift)) { (point(*speed, cell, units)) }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn point(speed_rad_s: f64, cell: &Cell, units: Units) -> Markup {
    html! {
        tr {
            th scope="row" { (rpm(speed_rad_s)) }
            @match cell {
                Cell::Point(point) => (figures(point, units)),
                Cell::Failed(why) => td colspan="8" data-label="No figure" { (why) },
            }
        }
    }
}

fn figures(point: &Point, units: Units) -> Markup {
    let percent = |share: f64| format!("{:.0} %", 100.0 * share);
    html! {
        td data-label="Torque" { (torque_text(point.torque_n_m, 1, units)) }
        td data-label="Power" { (show_with(point.power_w, 1, Dimension::Power, units)) }
        td data-label="Delivery ratio" { (format!("{:.2}", point.delivery_ratio)) }
        td data-label="Trapping" { (percent(point.trapping_efficiency)) }
        td data-label="Charging" { (percent(point.charging_efficiency)) }
        td data-label="Peak pressure" { (format!("{:.0} bar", point.peak_pa * 1e-5)) }
        td data-label="Exhaust" { (show_with(point.exhaust_k, 0, Dimension::Temperature, units)) }
        td data-label="Turns" { (point.cycles) }
    }
}
