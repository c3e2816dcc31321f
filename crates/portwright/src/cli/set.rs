//! `portwright set`: the setting.

use super::failure::Failure;
use super::job::SetJob;
use super::{exit_code, output, terminal};
use crate::paper::today;
use crate::returns::with_returns;
use crate::shelf::Kept;
use quantity::Units;
use std::process::ExitCode;

/// Prints the setting, and writes the return values when asked to.
pub(crate) fn run(job: &SetJob) -> Result<ExitCode, Failure> {
    let kept = job.source.read()?;
    let answer = kept.answer(job.units);
    let report = &answer.report;
    let mut text = if job.json {
        let json = serde_json::to_string_pretty(report).map_err(|error| Failure::Other(error.to_string()))?;
        format!("{json}\n")
    } else {
        terminal::setting(report)
    };
    if let Some(target) = &job.returns {
        let file = returns_file(&kept, &today()).map_err(Failure::Other)?;
        target.write(file.as_bytes())?;
        if let (super::output::Target::File(path), false) = (target, job.json) {
            text +=
                &format!("\nThe engine file with these return values is written to {}.\n", path.display());
        }
    }
    output::print(&text)?;
    Ok(exit_code(report.outcome))
}

fn returns_file(kept: &Kept, date: &str) -> Result<String, String> {
    with_returns(&kept.text, &kept.answer(Units::Metric).report, date)
}
