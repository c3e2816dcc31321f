//! Steps that are run one after the other, timed, and listed at the end.

use anyhow::Result;
use std::process::ExitCode;
use std::time::{Duration, Instant};

struct Outcome {
    name: &'static str,
    time: Duration,
    /// A word on what was done, or why it failed.
    result: Result<String, String>,
}

/// The steps done so far.
pub(crate) struct Steps {
    began: Instant,
    done: Vec<Outcome>,
}

impl Steps {
    /// Starts the clock.
    pub(crate) fn begin() -> Self {
        Self { began: Instant::now(), done: Vec::new() }
    }

    /// Runs one step. A failure does not stop the others: all that is wrong is seen in one go.
    pub(crate) fn step(&mut self, name: &'static str, work: impl FnOnce() -> Result<String>) {
        println!("\n=== {name}");
        let began = Instant::now();
        let result = work().map_err(|cause| format!("{cause:#}"));
        if let Err(cause) = &result {
            println!("{cause}");
        }
        self.done.push(Outcome { name, time: began.elapsed(), result });
    }

    /// Prints the times and the verdict, which is also the exit code.
    pub(crate) fn end(self) -> ExitCode {
        println!();
        for outcome in &self.done {
            let (word, note) = match &outcome.result {
                Ok(note) => ("PASS", note.as_str()),
                Err(cause) => ("FAIL", cause.lines().next().unwrap_or_default()),
            };
            println!("{word:>12} [{:>8.3}s] {:<11} {note}", outcome.time.as_secs_f64(), outcome.name);
        }
        let failed = self.done.iter().filter(|outcome| outcome.result.is_err()).count();
        let (all, seconds) = (self.done.len(), self.began.elapsed().as_secs_f64());
        println!("------------");
        println!("     Summary [{seconds:>8.3}s] {all} steps run: {} passed, {failed} failed", all - failed);
        if failed == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
    }
}
