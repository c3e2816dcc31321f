//! `portwright find`: causes by probability, and the next best check.

use super::bench_job::BenchJob;
use super::failure::Failure;
use super::output;
use super::text::Text;
use diagnosis::fault::{NextTest, RankedCause, Ranking, find};
use diagnosis::session;
use std::process::ExitCode;

/// Causes that are printed in full.
const SHOWN: usize = 5;
/// Checks that are proposed.
const PROPOSED: usize = 3;

/// Prints the ranking.
pub(crate) fn run(job: &BenchJob) -> Result<ExitCode, Failure> {
    let bench = job.read()?;
    let case = session::case(&bench.checks, &bench.entries, job.units);
    let ranking = find(&bench.tables, &bench.checks, &case).map_err(Failure::Usage)?;
    output::print(&if job.json {
        let json =
            serde_json::to_string_pretty(&ranking).map_err(|error| Failure::Other(error.to_string()))?;
        format!("{json}\n")
    } else {
        as_text(&ranking, case.findings.len())
    })?;
    Ok(ExitCode::SUCCESS)
}

fn as_text(ranking: &Ranking, findings: usize) -> String {
    let mut text = Text::default();
    text.title(&format!("Causes by probability, from {findings} findings"));
    text.gap();
    for cause in ranking.causes.iter().take(SHOWN) {
        cause_lines(&mut text, cause);
    }
    text.paragraph(0, &format!("Nothing wrong: {:.0} %.", 100.0 * ranking.nothing));
    if let Some(conflict) = &ranking.conflict {
        text.paragraph(0, conflict);
    }
    if let Some(settled) = &ranking.settled {
        text.gap();
        text.paragraph(0, settled);
    }
    if !ranking.next.is_empty() {
        text.gap();
        text.heading("Next checks, the one that tells most for its time first");
        for next in ranking.next.iter().take(PROPOSED) {
            next_lines(&mut text, next);
        }
    }
    text.gap();
    for line in ranking.alike.iter().chain(&ranking.assumptions) {
        text.item(0, "-", line);
    }
    text.into()
}

fn cause_lines(text: &mut Text, cause: &RankedCause) {
    let apart = if cause.not_the_valve { " (not the valve)" } else { "" };
    text.heading(&format!("{:>3.0} %  {}{apart}", 100.0 * cause.probability, cause.name));
    for reason in cause.because.iter().take(3) {
        text.item(7, "+", &reason.text);
    }
    for reason in cause.against.iter().take(3) {
        text.item(7, "-", &reason.text);
    }
    text.paragraph(7, &cause.remedy);
}

fn next_lines(text: &mut Text, next: &NextTest) {
    let off = if next.minutes_off > 0.0 {
        format!(" + {:.0} min off and on", next.minutes_off)
    } else {
        String::new()
    };
    text.paragraph(
        2,
        &format!("{} ({}): {:.0} min{off}, {:.2} bit", next.title, next.check, next.minutes, next.bits),
    );
    for outcome in &next.outcomes {
        let mut told =
            format!("{} ({:.0} %)", outcome.says.trim_end_matches('.'), 100.0 * outcome.probability);
        if !outcome.points_to.is_empty() {
            told.push_str(&format!(", points to: {}", outcome.points_to.join("; ")));
        }
        if !outcome.rules_out.is_empty() {
            told.push_str(&format!(", rules out: {}", outcome.rules_out.join("; ")));
        }
        text.item(4, "-", &format!("{told}."));
    }
}
