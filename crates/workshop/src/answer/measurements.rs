//! The figures that went in, as rows: the engine's measurements and the readings of the state as found.

use super::telling::Telling;
use crate::report::Row;
use engine::model::{EdgeDatum, Found, Port, ReturnSpring, ValveKind, WidthMeasure};
use quantity::Measured;

fn row(telling: &Telling<'_>, label: &str, figure: &Measured) -> Row {
    Row {
        label: label.to_owned(),
        value: quantity::show(figure, telling.units),
        from: figure
            .written
            .as_ref()
            .map(|text| format!("written: {text}"))
            .unwrap_or_else(|| "assumed".to_owned()),
    }
}

fn optional(telling: &Telling<'_>, rows: &mut Vec<Row>, label: &str, figure: &Option<Measured>) {
    if let Some(figure) = figure {
        rows.push(row(telling, label, figure));
    }
}

/// Measurements of the engine, valve, gear and servo.
pub(super) fn measurements(telling: &Telling<'_>) -> Vec<Row> {
    let engine = telling.engine;
    let mut rows = vec![
        row(telling, "Bore", &engine.crank.bore),
        row(telling, "Stroke", &engine.crank.stroke),
        row(telling, "Rod length, centre to centre", &engine.crank.rod_length),
        row(telling, "Pin offset", &engine.crank.pin_offset),
        row(telling, "Crown edge below deck at top dead centre", &engine.crank.deck_clearance),
        row(telling, "Chamber volume at top dead centre", &engine.head.chamber_volume),
    ];
    optional(telling, &mut rows, "Squish clearance", &engine.head.squish_clearance);
    optional(telling, &mut rows, "Crankcase volume at bottom dead centre", &engine.crankcase_volume);
    for port in &engine.ports {
        port_rows(telling, &mut rows, port);
    }
    valve_rows(telling, &mut rows);
    gear_rows(telling, &mut rows);
    rows
}

fn port_rows(telling: &Telling<'_>, rows: &mut Vec<Row>, port: &Port) {
    let count = if port.count > 1 { format!(" (× {})", port.count) } else { String::new() };
    let width = match port.width_measure {
        WidthMeasure::Chord => "width, straight across",
        WidthMeasure::Arc => "width, along the bore",
    };
    rows.push(row(telling, &format!("{}{count}: {width}", port.name), &port.width));
    rows.push(row(telling, &format!("{}: roof {}", port.name, datum(port.roof.datum)), &port.roof.at));
    rows.push(row(telling, &format!("{}: floor {}", port.name, datum(port.floor.datum)), &port.floor.at));
}

fn datum(datum: EdgeDatum) -> &'static str {
    match datum {
        EdgeDatum::BelowDeck => "below deck",
        EdgeDatum::AboveCrownAtBdc => "above crown at bottom dead centre",
        EdgeDatum::AfterTdc => "after top dead centre",
        EdgeDatum::BeforeBdc => "before bottom dead centre",
        EdgeDatum::Duration => "open duration",
    }
}

fn valve_rows(telling: &Telling<'_>, rows: &mut Vec<Row>) {
    let valve = &telling.engine.valve;
    rows.push(row(telling, "Closed valve edge below the port roof", &valve.closed_drop));
    match &valve.kind {
        ValveKind::Blade { slide_angle, arm, arm_start } => {
            rows.push(row(telling, "Blade: slide against cylinder axis", slide_angle));
            rows.push(row(telling, "Blade: arm", arm));
            rows.push(row(telling, "Blade: arm from square when closed", arm_start));
        }
        ValveKind::Flap { radius, start, ratio } => {
            rows.push(row(telling, "Flap: pivot to edge", radius));
            rows.push(row(telling, "Flap: edge above level when closed", start));
            rows.push(row(telling, "Flap angle per pulley angle", ratio));
        }
        ValveKind::Drum { radius, start, ratio } => {
            rows.push(row(telling, "Drum radius to the edge", radius));
            rows.push(row(telling, "Drum: edge above level when closed", start));
            rows.push(row(telling, "Drum angle per pulley angle", ratio));
        }
        ValveKind::Table { points } => rows.push(Row {
            label: "Valve, measured points".to_owned(),
            value: points.len().to_string(),
            from: "pulley travel against edge height".to_owned(),
        }),
    }
    optional(telling, rows, "Mechanical end of the valve pulley", &valve.mechanical_end);
}

fn gear_rows(telling: &Telling<'_>, rows: &mut Vec<Row>) {
    let (gear, servo) = (&telling.engine.gear, &telling.engine.servo);
    for (name, cable) in [("Opening cable", &gear.opening), ("Closing cable", &gear.closing)] {
        rows.push(row(telling, &format!("{name}: servo pulley radius"), &cable.servo_radius));
        rows.push(row(telling, &format!("{name}: valve pulley radius"), &cable.valve_radius));
        let mut thread = row(telling, &format!("{name}: adjuster pitch"), &cable.thread.pitch);
        if let Some(designation) = &cable.thread.designation {
            thread.from = format!("thread {designation}");
        }
        rows.push(thread);
        rows.push(row(telling, &format!("{name}: wire stiffness"), &cable.wire_stiffness));
        rows.push(row(telling, &format!("{name}: sheath stiffness"), &cable.sheath_stiffness));
        rows.push(row(telling, &format!("{name}: sum of bends"), &cable.bends));
        rows.push(row(telling, &format!("{name}: friction coefficient"), &cable.friction));
    }
    match &gear.spring {
        ReturnSpring::Shaft { at_closed, rate } => {
            rows.push(row(telling, "Return spring torque, closed", at_closed));
            rows.push(row(telling, "Return spring rate", rate));
        }
        ReturnSpring::ClosingAdjuster { rate, free_length, solid_length } => {
            rows.push(row(telling, "Return spring rate", rate));
            rows.push(row(telling, "Return spring, free length", free_length));
            rows.push(row(telling, "Return spring, solid length", solid_length));
        }
    }
    rows.push(row(telling, "Friction torque of valve and shaft", &gear.shaft_friction));
    rows.push(row(telling, "Stiffness of the actuator's mount", &gear.mount_stiffness));
    rows.push(row(telling, "Servo travel", &servo.travel));
    rows.push(row(telling, "Servo stall torque at the pulley", &servo.stall_torque));
    optional(telling, rows, "Sensor at closed park", &servo.sensor_closed);
    optional(telling, rows, "Sensor at full travel", &servo.sensor_open);
    rows.push(row(telling, "Opening speed", &telling.engine.schedule.opening_speed));
    rows.push(row(telling, "Full-open speed", &telling.engine.schedule.full_open_speed));
    rows.push(row(
        telling,
        "Actuator travel below the opening speed, at most",
        &telling.engine.schedule.park_travel,
    ));
}

/// The readings of the state as found.
pub(super) fn as_found(telling: &Telling<'_>) -> Vec<Row> {
    let Found {
        date,
        opening_play,
        closing_play,
        opening_gap,
        closing_gap,
        opening_thread,
        closing_thread,
        spring_length,
        edge_above_flush,
        edge_above_closed,
        mark_at_full,
        mark_at_closed,
        sensor_closed,
        sensor_open,
        play_felt,
    } = &telling.engine.found;
    let mut rows = Vec::new();
    let text = |label: &str, value: &Option<String>| {
        value.as_ref().map(|value| Row { label: label.to_owned(), value: value.clone(), from: String::new() })
    };
    rows.extend(text("Date", date));
    for (label, figure) in [
        ("Gap at the opening adjuster", opening_gap),
        ("Gap at the closing adjuster", closing_gap),
        ("Exposed thread, opening adjuster", opening_thread),
        ("Exposed thread, closing adjuster", closing_thread),
        ("Spring on the closing adjuster", spring_length),
        ("Free play along the opening wire", opening_play),
        ("Free play along the closing wire", closing_play),
        ("Edge above flush at full travel", edge_above_flush),
        ("Edge above its closed position", edge_above_closed),
        ("Witness mark at full travel", mark_at_full),
        ("Witness mark at closed park", mark_at_closed),
        ("Sensor at closed park", sensor_closed),
        ("Sensor at full travel", sensor_open),
    ] {
        optional(telling, &mut rows, label, figure);
    }
    rows.extend(text("Play was felt", play_felt));
    rows
}
