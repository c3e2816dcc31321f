//! `portwright restore`: a backup in the place of the record.

use super::failure::Failure;
use super::output;
use super::record_job::RecordJob;
use record::{Record, RecordError};
use std::path::Path;

/// Puts the backup in place; what stood there is kept beside.
pub(crate) fn run(job: &RecordJob, file: &Path) -> Result<(), Failure> {
    if !file.exists() {
        return Err(Failure::Unreadable(format!(
            "There is no file {}. Name the backup to bring back; the record was left as it is.",
            file.display()
        )));
    }
    let place = job.place()?;
    let restored = Record::restore(file, &place).map_err(|error| match error {
        RecordError::Locked { .. } => Failure::InUse(format!(
            "The record {} is open in the app, so nothing was changed. Stop the app (Ctrl-C where it runs), then \
             restore again.",
            place.display()
        )),
        other => other.into(),
    })?;
    let kept = restored.kept.map(|kept| kept.display().to_string());
    output::print(&if job.json {
        let told = serde_json::json!({
            "restored": file.display().to_string(),
            "record": place.display().to_string(),
            "kept": kept,
        });
        format!("{told:#}\n")
    } else {
        let before = kept.map_or_else(
            || "There was no record before.".to_owned(),
            |kept| format!("What stood there before is kept as {kept}."),
        );
        format!("{} is back in its place from {}. {before}\n", place.display(), file.display())
    })
}
