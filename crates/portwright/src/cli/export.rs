//! `portwright export`: engines as open files in one archive.

use super::failure::Failure;
use super::output;
use super::record_job::{RecordJob, chosen};
use crate::job_card;
use record::EngineId;
use std::path::Path;

/// Writes the archive.
pub(crate) fn run(job: &RecordJob, engines: &[String], to: &Path) -> Result<(), Failure> {
    let record = job.open()?;
    let lines = chosen(&record, engines)?;
    let ids: Vec<EngineId> = lines.iter().map(|line| line.id).collect();
    record.export_to_file(&ids, &job_card::engine_file, to)?;
    output::print(&if job.json {
        let engines: Vec<_> =
            lines.iter().map(|line| serde_json::json!({ "number": line.id, "name": line.name })).collect();
        let told = serde_json::json!({ "written": to.display().to_string(), "engines": engines });
        format!("{told:#}\n")
    } else {
        let names: Vec<&str> = lines.iter().map(|line| line.name.as_str()).collect();
        format!(
            "{} is written: {} with all builds, job cards, results and pictures ({}). Any unzip program opens it.\n",
            to.display(),
            super::list::counted(lines.len(), "engine"),
            names.join("; ")
        )
    })
}
