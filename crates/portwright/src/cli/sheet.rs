//! `portwright sheet`: the set-up sheet as PDF or as a page that prints.

use super::failure::Failure;
use super::job::SheetJob;
use super::output::Target;
use super::{exit_code, output};
use crate::{paper, web};
use std::process::ExitCode;

/// Writes the sheet.
pub(crate) fn run(job: &SheetJob) -> Result<ExitCode, Failure> {
    let kept = job.source.read()?;
    let place = job.target.open()?;
    let answer = kept.answer(job.units);
    let date = paper::today();
    let bytes = if job.html {
        web::standing_document(&answer, &date).into_bytes()
    } else {
        paper::pdf(&answer, date, sheet::Annex::default()).map_err(Failure::Other)?
    };
    place.write(&bytes)?;
    let Target::File(path) = &job.target else {
        return Ok(exit_code(answer.report.outcome));
    };
    let name = path.display();
    output::print(&if job.json {
        let told = serde_json::json!({
            "written": name.to_string(), "bytes": bytes.len(), "outcome": answer.report.outcome,
        });
        format!("{told:#}\n")
    } else {
        format!("{name} is written.\n")
    })?;
    Ok(exit_code(answer.report.outcome))
}
