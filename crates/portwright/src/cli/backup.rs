//! `portwright backup`: the whole record in one file, made while it is in use.

use super::failure::Failure;
use super::output;
use super::record_job::RecordJob;
use std::path::Path;

/// Writes the backup.
pub(crate) fn run(job: &RecordJob, file: &Path) -> Result<(), Failure> {
    let record = job.open()?;
    record.backup(file)?;
    let bytes = std::fs::metadata(file).map(|about| about.len()).unwrap_or(0);
    let place = job.place()?;
    output::print(&if job.json {
        let told = serde_json::json!({
            "written": file.display().to_string(),
            "record": place.display().to_string(),
            "bytes": bytes,
        });
        format!("{told:#}\n")
    } else {
        format!(
            "{file} holds the whole record {place} and was checked ({size} kB). Keep it on another disk. It comes back \
             with: portwright restore {file}\n",
            file = file.display(),
            place = place.display(),
            size = bytes.div_ceil(1000),
        )
    })
}
