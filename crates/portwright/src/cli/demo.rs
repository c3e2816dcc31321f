//! `portwright demo`: writes the engine file of the invented demo engine.

use super::failure::Failure;
use super::job::DemoJob;
use super::output::{self, Target};
use std::process::ExitCode;

/// Writes the demo engine.
pub(crate) fn run(job: &DemoJob) -> Result<ExitCode, Failure> {
    let (key, text) = if job.readings {
        ("readings", workshop::fitting::DEMO)
    } else {
        ("engine_file", engine::file::DEMO)
    };
    let Target::File(path) = &job.target else {
        let told = serde_json::json!({ key: text });
        output::print(&if job.json { format!("{told:#}\n") } else { text.to_owned() })?;
        return Ok(ExitCode::SUCCESS);
    };
    if path.is_file() && !job.force {
        return Err(Failure::Other(format!(
            "{} is there already and was left as it is. Choose another name, or add --force to replace it.",
            path.display()
        )));
    }
    job.target.write(text.as_bytes())?;
    let name = path.display();
    output::print(&if job.json {
        format!("{:#}\n", serde_json::json!({ "written": name.to_string() }))
    } else if job.readings {
        format!("{name} is written: invented readings of the demo engine, for portwright fit.\n")
    } else {
        format!(
            "{name} is written: an invented engine. Replace its figures by yours, then: portwright set {name}\n"
        )
    })?;
    Ok(ExitCode::SUCCESS)
}
