//! `portwright procedures`: the ways of setting compared on one engine.

use super::failure::Failure;
use super::input::Source;
use super::output::{self, Target};
use super::text::Text;
use crate::paper;
use crate::procedures::{Wanted, compare, known};
use crate::web::procedures::standing_document;
use quantity::Units;
use std::process::ExitCode;
use workshop::procedure::{Comparison, Measure};

/// Compare the procedures.
#[derive(Debug)]
pub(crate) struct ProceduresJob {
    /// Engine file.
    pub source: Source,
    /// File of the user's own procedures.
    pub own: Option<Source>,
    /// What is drawn.
    pub wanted: Wanted,
    /// Where a page to show goes.
    pub page: Option<Target>,
    /// Where the paper (PDF) goes.
    pub pdf: Option<Target>,
    /// Units shown.
    pub units: Units,
    /// Answer as JSON.
    pub json: bool,
}

/// Prints the comparison, and writes the page when asked to.
pub(crate) fn run(job: &ProceduresJob) -> Result<ExitCode, Failure> {
    let kept = job.source.read()?;
    let own = job.own.as_ref().map(Source::text).transpose()?;
    let procedures = known(own.as_deref()).map_err(|problems| {
        let told: Vec<String> = problems.iter().map(ToString::to_string).collect();
        Failure::Usage(format!(
            "{}: {}",
            job.own.as_ref().map(Source::name).unwrap_or_default(),
            told.join("\n")
        ))
    })?;
    let engine = &kept.reading.engine;
    let comparison = compare(engine, &procedures, job.wanted);
    if let Some(target) = &job.page {
        let page = standing_document(engine, &comparison, None, job.units, job.wanted.seed, &paper::today());
        target.write(page.as_bytes())?;
    }
    if let Some(target) = &job.pdf {
        let place = target.open()?;
        let bytes = paper::ways_pdf(engine, &comparison, None, job.units, job.wanted.seed, paper::today());
        place.write(&bytes.map_err(Failure::Other)?)?;
    }
    if [&job.page, &job.pdf].into_iter().flatten().any(|target| *target == Target::Output) {
        return Ok(ExitCode::SUCCESS);
    }
    output::print(&if job.json {
        let json = serde_json::to_string_pretty(&comparison.told(job.units));
        format!("{}\n", json.map_err(|error| Failure::Other(error.to_string()))?)
    } else {
        as_text(&engine.name, &comparison, job)
    })?;
    Ok(ExitCode::SUCCESS)
}

fn as_text(engine: &str, comparison: &Comparison, job: &ProceduresJob) -> String {
    let told = comparison.told(job.units);
    let mut text = Text::default();
    text.title(&format!("Ways of setting compared: {engine}"));
    for statement in &told.statements {
        text.paragraph(0, statement);
    }
    text.gap();
    let heads = ["Way", "Meets all", "Edge at full travel", "2.5 % to 97.5 %", "Greatest wire tension"]
        .map(str::to_owned);
    let rows: Vec<Vec<String>> = told
        .procedures
        .iter()
        .zip(&comparison.entries)
        .map(|(told, entry)| {
            let shown = |value: f64, of: Measure| quantity::show_value(value, of.dimension(), job.units);
            let edge = entry.summary.quantiles(Measure::EdgeAtFull);
            let tension = entry.summary.quantiles(Measure::WireTension);
            let of = Measure::EdgeAtFull;
            vec![
                told.name.clone(),
                format!("{:.0} %", 100.0 * told.all_demands),
                edge.map_or_else(String::new, |q| shown(q.median, of)),
                edge.map_or_else(String::new, |q| format!("{} to {}", shown(q.low, of), shown(q.high, of))),
                tension.map_or_else(String::new, |q| shown(q.median, Measure::WireTension)),
            ]
        })
        .collect();
    text.table(&heads, &rows);
    for one in &told.procedures {
        text.gap();
        text.heading(&one.name);
        text.paragraph(2, &one.headline);
        for reason in &one.reasons {
            text.paragraph(2, reason);
        }
        for demand in one.conformity.iter().filter(|demand| demand.verdict != "pass") {
            text.paragraph(2, &format!("{}: {}. {}", demand.name, demand.verdict, demand.says));
        }
    }
    text.gap();
    text.heading("How a demand is checked after the work");
    for check in &told.checks {
        text.paragraph(
            2,
            &format!(
                "{}: {}, good to {}; accepted when {}.",
                check.name, check.by, check.error, check.accept
            ),
        );
    }
    for (name, why) in &told.left_out {
        text.paragraph(0, &format!("Not carried out: {name}, {why}"));
    }
    text.gap();
    text.paragraph(0, &format!("{} draws of each way, seed {}.", told.draws, job.wanted.seed));
    text.into()
}
