//! `portwright ports`: port timing and areas at several valve positions.

use super::failure::Failure;
use super::job::PortsJob;
use super::output;
use super::text::Text;
use engine::model::Engine;
use serde_json::{Value, json};
use std::process::ExitCode;
use workshop::report::PortsTable;
use workshop::timing_table::{Position, both_ends, timing_table};

/// Prints the table.
pub(crate) fn run(job: &PortsJob) -> Result<ExitCode, Failure> {
    let kept = job.source.read()?;
    let engine = &kept.reading.engine;
    let mut positions = both_ends(engine);
    positions.extend(job.lift.as_ref().map(|lift| Position {
        name: format!("edge {} up", lift.written.as_deref().unwrap_or_default()),
        lift_m: lift.value,
    }));
    let speed = job.speed.as_ref().unwrap_or(&engine.schedule.full_open_speed);
    let table = timing_table(engine, &positions, speed.value, job.units)
        .map_err(|error| Failure::Other(format!("{}: {error}", job.source.name())))?;
    output::print(&if job.json {
        format!("{:#}\n", as_json(engine, &positions, speed.value, &table))
    } else {
        as_text(engine, &table)
    })?;
    Ok(ExitCode::SUCCESS)
}

fn as_text(engine: &Engine, table: &PortsTable) -> String {
    let mut text = Text::default();
    text.title(&format!("Ports: {}", engine.name));
    if engine.invented {
        text.paragraph(0, "An invented engine: no figure here belongs to a real one.");
    }
    text.gap();
    text.table(&table.columns, &table.rows);
    text.gap();
    text.paragraph(0, "± covers about 95 %. Angles are crank angles; areas are taken along the bore wall.");
    text.into()
}

fn as_json(engine: &Engine, positions: &[Position], speed_rad_s: f64, table: &PortsTable) -> Value {
    let figures: Vec<Value> = positions
        .iter()
        .filter_map(|position| {
            let report = engine::ports::report(engine, position.lift_m).ok()?;
            let at_speed = report.at(speed_rad_s);
            Some(json!({ "name": position.name, "lift_m": position.lift_m, "ports": report, "at_speed": at_speed }))
        })
        .collect();
    json!({ "engine": engine.name, "invented": engine.invented, "table": table, "positions": figures })
}
