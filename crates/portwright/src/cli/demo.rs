//! `portwright demo`: writes the engine file of the invented demo engine.

use super::failure::Failure;
use super::job::DemoJob;
use super::output::{self, Target};
use std::process::ExitCode;

/// Writes the demo engine.
pub(crate) fn run(job: &DemoJob) -> Result<ExitCode, Failure> {
    let Target::File(path) = &job.target else {
        let told = serde_json::json!({ "engine_file": engine::file::DEMO });
        output::print(&if job.json { format!("{told:#}\n") } else { engine::file::DEMO.to_owned() })?;
        return Ok(ExitCode::SUCCESS);
    };
    if path.is_file() && !job.force {
        return Err(Failure::Other(format!(
            "{} is there already and was left as it is. Choose another name, or add --force to replace it.",
            path.display()
        )));
    }
    job.target.write(engine::file::DEMO.as_bytes())?;
    let name = path.display();
    output::print(&if job.json {
        format!("{:#}\n", serde_json::json!({ "written": name.to_string() }))
    } else {
        format!(
            "{name} is written: an invented engine. Replace its figures by yours, then: portwright set {name}\n"
        )
    })?;
    Ok(ExitCode::SUCCESS)
}
