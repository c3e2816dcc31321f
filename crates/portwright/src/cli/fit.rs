//! `portwright fit`: what was not measured, from a few readings of how the valve follows the servo.

use super::failure::Failure;
use super::input::Source;
use super::output;
use super::text::Text;
use quantity::Units;
use std::process::ExitCode;
use workshop::fitting::{self, Told};

/// Find unknowns.
#[derive(Debug)]
pub(crate) struct FitJob {
    /// Engine file.
    pub engine: Source,
    /// File of readings.
    pub readings: Source,
    /// Units shown.
    pub units: Units,
    /// Answer as JSON.
    pub json: bool,
}

/// Prints what was found.
pub(crate) fn run(job: &FitJob) -> Result<ExitCode, Failure> {
    if job.engine == Source::Input && job.readings == Source::Input {
        return Err(Failure::Usage(
            "Only one of the two files can come from the input. Give the other by its name.".to_owned(),
        ));
    }
    let engine = job.engine.read()?.reading.engine.clone();
    let text = job.readings.text()?;
    let readings =
        fitting::read(&text).map_err(|problems| Failure::Bench { file: job.readings.name(), problems })?;
    let fitted = fitting::fit(&engine, &readings).map_err(|why| Failure::Other(format!("{why}.")))?;
    let told = fitted.told(&readings, job.units);
    output::print(&if job.json {
        let json = serde_json::to_string_pretty(&told);
        format!("{}\n", json.map_err(|error| Failure::Other(error.to_string()))?)
    } else {
        as_text(&engine.name, &told)
    })?;
    Ok(ExitCode::SUCCESS)
}

fn as_text(engine: &str, told: &Told) -> String {
    let mut text = Text::default();
    text.title(&format!("What was not measured, from readings: {engine}"));
    let heads = ["Sought", "Found", "Engine file"].map(str::to_owned);
    let rows: Vec<Vec<String>> = told
        .estimates
        .iter()
        .map(|one| vec![one.name.clone(), one.found.text.clone(), one.before.clone().unwrap_or_default()])
        .collect();
    text.table(&heads, &rows);
    for one in &told.estimates {
        text.paragraph(0, &format!("{}: {}", one.name, one.compared));
    }
    for warning in &told.warnings {
        text.item(0, "!", warning);
    }
    text.gap();
    text.heading("How well the readings agree with the gear");
    text.paragraph(0, &told.agreement);
    let heads = ["Servo", "Way", "Gap", "Read", "Gear says", "Off"].map(str::to_owned);
    let rows: Vec<Vec<String>> = told
        .rows
        .iter()
        .map(|row| {
            let gap = row.gap.clone().unwrap_or_else(|| "as found".to_owned());
            vec![
                row.servo.clone(),
                row.way.to_owned(),
                gap,
                row.read.clone(),
                row.says.clone(),
                row.off.clone(),
            ]
        })
        .collect();
    text.table(&heads, &rows);
    let enter: Vec<&String> = told.estimates.iter().filter_map(|one| one.enter.as_ref()).collect();
    if !enter.is_empty() {
        text.heading("To enter into the engine file");
        for line in enter {
            text.paragraph(2, line);
        }
    }
    text.into()
}
