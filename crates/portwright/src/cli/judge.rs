//! `portwright judge`: bench checks, judged.

use super::bench_job::BenchJob;
use super::failure::Failure;
use super::output;
use super::text::Text;
use diagnosis::check::{Checks, State};
use diagnosis::session::{self, Judged, Verdict};
use diagnosis::sweep::{Outcome, Sweep};
use serde_json::{Value, json};
use std::process::ExitCode;

/// Prints what the checks came to.
pub(crate) fn run(job: &BenchJob) -> Result<ExitCode, Failure> {
    let bench = job.read()?;
    let judged = session::judged(&bench.checks, &bench.entries, job.units);
    let begun: Vec<&Judged<'_>> = judged.iter().filter(|one| one.judgement.state != State::NotDone).collect();
    let sweep = session::sweep(&bench.entries).and_then(Result::ok);
    output::print(&if job.json {
        let mut json = as_json(&bench.checks, &begun, judged.len());
        if let Some(sweep) = &sweep {
            json["sweep"] = json!(sweep);
        }
        format!("{json:#}\n")
    } else {
        let mut text = as_text(&begun, judged.len());
        if let Some(sweep) = &sweep {
            text.push_str(&sweep_text(sweep));
        }
        text
    })?;
    let swept = sweep.map_or(0, |sweep| match sweep.outcome {
        _ if !sweep.questions.is_empty() => 3,
        Some(Outcome::Jumps | Outcome::Open) => 9,
        Some(Outcome::Clean) | None => 0,
    });
    Ok(ExitCode::from(match exit_code(&begun) {
        0 => swept,
        code => code,
    }))
}

fn exit_code(begun: &[&Judged<'_>]) -> u8 {
    if begun.iter().any(|one| one.judgement.state == State::Asked) {
        3
    } else if begun.iter().any(|one| one.judgement.passes == Some(false)) {
        9
    } else {
        0
    }
}

fn word(one: &Judged<'_>) -> &'static str {
    match (one.judgement.state, one.judgement.passes) {
        (State::NotDone, _) => "not done",
        (State::Started, _) => "begun",
        (State::Asked, _) => "question",
        (State::Done, Some(true)) => "pass",
        (State::Done, Some(false)) => "FAIL",
        (State::Done, None) => "cannot tell",
    }
}

fn as_text(begun: &[&Judged<'_>], known: usize) -> String {
    let mut text = Text::default();
    text.title(&format!("Bench checks: {} of {known} begun", begun.len()));
    for one in begun {
        text.gap();
        text.heading(&format!("{}: {}", one.check.title, word(one)));
        text.paragraph(2, &one.judgement.text);
        for told in &one.judgement.items {
            let asks = one.check.item(&told.key).map_or("", |item| item.asks.as_str());
            if let Some(shown) = &told.shown {
                let shown = shown.trim_end_matches('.');
                let told = if told.text.trim_end_matches('.') == shown { "" } else { &told.text };
                text.paragraph(2, format!("{asks} {shown}. {told}").trim_end());
            }
            if let Some(question) = &told.question {
                text.paragraph(4, &format!("{} {} {}", question.text, question.likely, question.confirm));
            }
        }
        if let Some(means) = &one.judgement.means {
            text.paragraph(2, means);
        }
    }
    text.gap();
    text.paragraph(
        0,
        "± covers about 95 %. The maker's manual comes first: enter its limits beside the readings.",
    );
    text.into()
}

fn sweep_text(sweep: &Sweep) -> String {
    let mut text = Text::default();
    text.gap();
    text.heading("Sweep of the position sensor");
    text.paragraph(2, &sweep.text);
    for question in &sweep.questions {
        text.item(2, "?", &question.text);
    }
    for finding in &sweep.findings {
        let verdict = match finding.verdict {
            Some(Verdict::Pass) => "pass",
            Some(Verdict::Fail) => "FAIL",
            Some(Verdict::CannotTell) => "cannot tell",
            None => "noted",
        };
        text.item(2, "-", &format!("{} ({verdict}): {}", finding.title, finding.text));
    }
    text.into()
}

fn as_json(checks: &Checks, begun: &[&Judged<'_>], known: usize) -> Value {
    let all: Vec<Value> = begun
        .iter()
        .map(|one| {
            let (own, off) = checks.minutes(one.check, &[]);
            json!({
                "check": one.check.key, "title": one.check.title, "verdict": word(one).to_lowercase(),
                "judgement": one.judgement, "minutes": own, "minutes_off": off, "source": one.check.source,
            })
        })
        .collect();
    json!({ "checks": all, "known": known })
}
