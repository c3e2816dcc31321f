//! `portwright import`: the engines of an archive added to the record.

use super::failure::Failure;
use super::output;
use super::record_job::RecordJob;
use std::fs::File;
use std::io::BufReader;
use std::path::Path;

/// Adds the engines.
pub(crate) fn run(job: &RecordJob, file: &Path) -> Result<(), Failure> {
    let unreadable = |why: &str| {
        Failure::Unreadable(format!(
            "{} cannot be read ({why}). Name a file that portwright export wrote; nothing was added.",
            file.display()
        ))
    };
    if file.is_dir() {
        return Err(unreadable("it is a folder"));
    }
    // Before the record is opened: a wrong name must not begin a record.
    let archive = File::open(file).map_err(|cause| unreadable(&cause.to_string()))?;
    let record = job.open_or_begin()?;
    let ids = record.import(BufReader::new(archive))?;
    let mut engines = Vec::new();
    for id in ids {
        engines.push(record.engine(id)?.line);
    }
    output::print(&if job.json {
        let engines: Vec<_> =
            engines.iter().map(|line| serde_json::json!({ "number": line.id, "name": line.name })).collect();
        let told = serde_json::json!({ "added": engines, "record": job.place()?.display().to_string() });
        format!("{told:#}\n")
    } else {
        let names: Vec<String> =
            engines.iter().map(|line| format!("  {}  {}\n", line.id, line.name)).collect();
        let count = super::list::counted(engines.len(), "engine");
        format!("{count} added to {}:\n{}", job.place()?.display(), names.concat())
    })
}
