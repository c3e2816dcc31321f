//! `portwright`: starts the app.

use super::failure::Failure;
use super::job::AppJob;
use super::output;
use crate::{record_place, web};
use record::Record;
use std::process::ExitCode;

/// Starts the app and stays until Ctrl-C.
pub(crate) fn run(job: &AppJob) -> Result<ExitCode, Failure> {
    tracing_subscriber::fmt().with_writer(std::io::stderr).with_max_level(tracing::Level::WARN).init();
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .build()
        .map_err(|error| Failure::Other(format!("The app cannot start: {error}.")))?;
    let record = open(job)?;
    runtime.block_on(async {
        let door = web::Door::open(job.port)
            .await
            .map_err(|error| Failure::Other(format!("No port of 127.0.0.1 can be listened on: {error}.")))?;
        let app = web::App::new(door.port(), record).map_err(|error| Failure::Other(error.to_string()))?;
        output::print(&greeting(&door, job))?;
        door.serve(app).await.map_err(|error| Failure::Other(format!("The app stopped: {error}.")))?;
        Ok(ExitCode::SUCCESS)
    })
}

/// The record named, the usual one, or one that is gone with the program (`:memory:`).
fn open(job: &AppJob) -> Result<Record, Failure> {
    if job.record.as_deref().is_some_and(|path| path.as_os_str() == ":memory:") {
        return Record::open_in_memory().map_err(|error| Failure::Other(error.to_string()));
    }
    let place = record_place::find(job.record.as_deref()).map_err(Failure::Other)?;
    Record::open(&place).map_err(|error| Failure::Other(error.to_string()))
}

fn greeting(door: &web::Door, job: &AppJob) -> String {
    let address = door.address();
    let moved = job.port != 0 && job.port != door.port();
    if job.json {
        let told = serde_json::json!({ "address": address, "port": door.port(), "asked_port": job.port });
        return format!("{told}\n");
    }
    let why =
        if moved { format!("Port {} is taken, so another was chosen.\n", job.port) } else { String::new() };
    format!("{why}Portwright is open at {address}\nOnly this computer can reach it. Ctrl-C stops it.\n")
}
