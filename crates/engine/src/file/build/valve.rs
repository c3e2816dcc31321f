//! The valve.

use super::Notes;
use super::port::{Built, below_floor, closed_drop, port_height_m};
use crate::file::table::Table;
use crate::model::{Crank, EdgeDatum, Port, PortEdge, PortGroup, TravelPoint, Valve, ValveKind};
use crate::ports::CrownPath;
use quantity::{Measured, Units};
use userfile::nearest;

const CLOSED: [(&str, EdgeDatum); 3] = [
    ("closed_below_deck", EdgeDatum::BelowDeck),
    ("closed_above_crown_at_bdc", EdgeDatum::AboveCrownAtBdc),
    ("closed_duration", EdgeDatum::Duration),
];

pub(super) fn valve(
    table: &Table,
    ports: &[Built<'_>],
    crank: Option<&Crank>,
    path: Option<&CrownPath>,
    notes: &mut Notes<'_>,
) -> Option<Valve> {
    let kind = kind(table, notes);
    let covers = covers(table, ports, notes);
    let covered: Vec<&Port> = ports
        .iter()
        .filter_map(|built| built.port.as_ref())
        .filter(|port| covers.as_ref().is_some_and(|names| names.contains(&port.name)))
        .collect();
    let drop = closed(table, covered.first().copied(), crank, path, notes);
    if let (Some(drop), Some(path), Some(port)) = (&drop, path, covered.first()) {
        check_closed(table, drop, port, path, notes);
    }
    Some(Valve {
        kind: kind?,
        closed_drop: drop?,
        covers: covers?,
        mechanical_end: table.figure("mechanical_end"),
    })
}

fn kind(table: &Table, notes: &mut Notes<'_>) -> Option<ValveKind> {
    Some(match table.word("kind")? {
        "blade" => ValveKind::Blade {
            slide_angle: table.figure("slide_angle")?,
            arm: table.figure("arm")?,
            arm_start: table.figure("arm_start")?,
        },
        "flap" => ValveKind::Flap {
            radius: table.figure("radius")?,
            start: table.figure("start")?,
            ratio: ratio(table, notes)?,
        },
        "drum" => ValveKind::Drum {
            radius: table.figure("radius")?,
            start: table.figure("start")?,
            ratio: ratio(table, notes)?,
        },
        _ => ValveKind::Table { points: points(table, notes)? },
    })
}

fn ratio(table: &Table, notes: &mut Notes<'_>) -> Option<Measured> {
    let ratio = table.figure("ratio")?;
    if ratio.value > 0.0 {
        return Some(ratio);
    }
    notes.refuse(
        table,
        "ratio",
        "the ratio must be above zero: opening counts positive at the pulley and at the valve",
    );
    None
}

fn points(table: &Table, notes: &mut Notes<'_>) -> Option<Vec<TravelPoint>> {
    let points = table.points("points")?;
    let (travel, lift) = points.first()?;
    if travel.value != 0.0 || lift.value != 0.0 {
        notes.refuse(
            table,
            "points",
            "the first point must be travel 0° and lift 0 mm: the valve on its stop pin",
        );
        return None;
    }
    for (at, pair) in points.windows(2).enumerate() {
        if let [before, after] = pair
            && (after.0.value <= before.0.value || after.1.value <= before.1.value)
        {
            notes.refuse(
                table,
                "points",
                format!(
                    "point {} ('{}', '{}') does not lie beyond point {}; travel and lift must both rise from point to point",
                    at + 2,
                    after.0.written.as_deref().unwrap_or(""),
                    after.1.written.as_deref().unwrap_or(""),
                    at + 1
                ),
            );
            return None;
        }
    }
    Some(
        points
            .iter()
            .map(|(travel, lift)| TravelPoint { travel: travel.clone(), lift: lift.clone() })
            .collect(),
    )
}

fn covers(table: &Table, ports: &[Built<'_>], notes: &mut Notes<'_>) -> Option<Vec<String>> {
    let known: Vec<&str> = ports.iter().filter_map(|port| port.name.as_deref()).collect();
    if table.gives("covers") {
        let names = table.names("covers")?;
        if names.is_empty() {
            notes.refuse(
                table,
                "covers",
                "the list is empty; name the exhaust port whose roof the valve moves, or leave the line out",
            );
        }
        for name in names.iter().filter(|name| !known.contains(&name.as_str())) {
            let hint = nearest(name, known.iter().copied())
                .map_or(String::new(), |near| format!("; did you mean \"{near}\"?"));
            notes.refuse(
                table,
                "covers",
                format!("no port has the name \"{}\"{hint}", crate::file::value::excerpt(name)),
            );
        }
        refuse_other_groups(table, &names, ports, notes);
        return Some(names);
    }
    let names: Vec<String> = ports
        .iter()
        .filter(|port| port.group == Some(PortGroup::ExhaustMain))
        .filter_map(|port| port.name.clone())
        .collect();
    if !names.is_empty() {
        notes.assume(
            table,
            "covers",
            format!("taken as {}: every port of the group \"exhaust main\"", names.join(", ")),
            "naming them lets side ports under the valve move with it",
        );
    }
    Some(names)
}

fn refuse_other_groups(table: &Table, names: &[String], ports: &[Built<'_>], notes: &mut Notes<'_>) {
    for port in ports {
        let exhaust = matches!(port.group, None | Some(PortGroup::ExhaustMain | PortGroup::ExhaustAuxiliary));
        if let Some(name) = port.name.as_ref().filter(|name| !exhaust && names.contains(name)) {
            notes.refuse(
                table,
                "covers",
                format!("\"{name}\" is no exhaust port; the valve can only cover exhaust ports"),
            );
        }
    }
}

fn closed(
    table: &Table,
    covered: Option<&Port>,
    crank: Option<&Crank>,
    path: Option<&CrownPath>,
    notes: &mut Notes<'_>,
) -> Option<Measured> {
    if table.gives("closed_drop") {
        return table.figure("closed_drop");
    }
    let (key, edge) = CLOSED
        .iter()
        .find_map(|(key, datum)| table.figure(key).map(|at| (*key, PortEdge { datum: *datum, at })))?;
    let drop = closed_drop(&edge, &covered?.roof, crank?, path?);
    let Some(drop) = drop else {
        notes.refuse(
            table,
            key,
            "the crown never passes an edge like this; check the figure and where it was measured from",
        );
        return None;
    };
    if drop.value <= 0.0 {
        notes.refuse(
            table,
            key,
            format!(
                "the closed edge would lie {} above the port roof; a closed valve lies below it, so check where both were measured from",
                quantity::show_value(-drop.value, drop.dimension, Units::Metric)
            ),
        );
        return None;
    }
    Some(drop)
}

fn check_closed(table: &Table, drop: &Measured, port: &Port, path: &CrownPath, notes: &mut Notes<'_>) {
    let Some(height_m) = port_height_m(port, path) else { return };
    if drop.value >= height_m {
        let keys = ["closed_drop", "closed_below_deck", "closed_above_crown_at_bdc", "closed_duration"];
        let key = keys.into_iter().find(|key| table.gives(key)).unwrap_or("closed_drop");
        notes.refuse(table, key, below_floor(drop, height_m));
    }
}
