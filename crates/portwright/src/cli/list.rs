//! `portwright list`: the engines in the record; of engines that are named, every build and job card.

use super::failure::Failure;
use super::output;
use super::record_job::{RecordJob, chosen};
use super::text::Text;
use crate::job_card;
use jiff::Timestamp;
use jiff::tz::TimeZone;
use record::{EngineLine, Record, VisitId};
use serde::Serialize;
use workshop::form::{Path, path};

/// How far a job card is.
#[derive(Debug, Serialize)]
struct Stage {
    /// Name of the step to go on at; `None` when nothing is left.
    step: Option<&'static str>,
    /// Its title.
    title: Option<&'static str>,
    /// What to do next.
    next: Option<String>,
    /// The setting can be worked out.
    readable: bool,
    /// Odd figures that want an answer.
    questions: usize,
}

#[derive(Debug, Serialize)]
struct ListedEngine {
    number: i64,
    name: String,
    invented: bool,
    changed_ms: i64,
    builds: i64,
    job_cards: i64,
    latest_job_card: Option<ListedVisit>,
    /// Only of engines that were named.
    #[serde(skip_serializing_if = "Option::is_none")]
    in_detail: Option<Vec<ListedBuild>>,
}

#[derive(Debug, Serialize)]
struct ListedBuild {
    number: i64,
    name: String,
    changed_ms: i64,
    job_cards: Vec<ListedVisit>,
}

#[derive(Debug, Serialize)]
struct ListedVisit {
    number: i64,
    name: String,
    stage: Stage,
}

/// Prints the list.
pub(crate) fn run(job: &RecordJob, engines: &[String]) -> Result<(), Failure> {
    let record = job.open()?;
    let mut lines = chosen(&record, engines)?;
    if engines.is_empty() {
        lines.sort_by_key(|line| std::cmp::Reverse(line.changed_ms));
    }
    let mut listed = Vec::new();
    for line in lines {
        listed.push(listed_engine(&record, line, !engines.is_empty())?);
    }
    let place = job.place()?.display().to_string();
    output::print(&if job.json {
        format!("{:#}\n", serde_json::json!({ "record": place, "engines": listed }))
    } else if engines.is_empty() {
        overview(&place, &listed)
    } else {
        listed.iter().map(detail).collect()
    })
}

fn listed_engine(record: &Record, line: EngineLine, in_detail: bool) -> Result<ListedEngine, Failure> {
    let latest = line.latest_visit.zip(line.latest_visit_name);
    let latest_job_card = latest.map(|(id, name)| listed_visit(record, id, name)).transpose()?;
    let in_detail = if in_detail { Some(builds(record, line.id)?) } else { None };
    Ok(ListedEngine {
        number: line.id.0,
        name: line.name,
        invented: line.invented,
        changed_ms: line.changed_ms,
        builds: line.builds,
        job_cards: line.visits,
        latest_job_card,
        in_detail,
    })
}

fn builds(record: &Record, engine: record::EngineId) -> Result<Vec<ListedBuild>, Failure> {
    let mut builds = Vec::new();
    for build in record.engine(engine)?.builds {
        let mut job_cards = Vec::new();
        for visit in build.visits {
            job_cards.push(listed_visit(record, visit.id, visit.name)?);
        }
        builds.push(ListedBuild {
            number: build.id.0,
            name: build.name,
            changed_ms: build.changed_ms,
            job_cards,
        });
    }
    Ok(builds)
}

fn listed_visit(record: &Record, visit: VisitId, name: String) -> Result<ListedVisit, Failure> {
    let fields = job_card::fields_of_visit(record, visit)?;
    Ok(ListedVisit { number: visit.0, name, stage: stage(path(&fields)) })
}

fn stage(path: Path) -> Stage {
    let Path { next, readable, questions, .. } = path;
    Stage {
        step: next.as_ref().map(|next| next.step.slug()),
        title: next.as_ref().map(|next| next.step.title()),
        next: next.map(|next| next.text),
        readable,
        questions,
    }
}

fn overview(place: &str, listed: &[ListedEngine]) -> String {
    let mut text = Text::default();
    text.paragraph(0, &format!("{} in {place}", counted(listed.len(), "engine")));
    if !listed.is_empty() {
        text.gap();
        let heads = ["Engine", "No.", "Builds", "Job cards", "Last worked on", "Goes on at"];
        let rows: Vec<Vec<String>> = listed.iter().map(overview_row).collect();
        text.table(&heads.map(str::to_owned), &rows);
    }
    text.into()
}

fn overview_row(engine: &ListedEngine) -> Vec<String> {
    let at = engine.latest_job_card.as_ref().and_then(|visit| visit.stage.title).unwrap_or("");
    let invented = if engine.invented { " (invented)" } else { "" };
    vec![
        format!("{}{invented}", engine.name),
        engine.number.to_string(),
        engine.builds.to_string(),
        engine.job_cards.to_string(),
        day(engine.changed_ms),
        at.to_owned(),
    ]
}

fn detail(engine: &ListedEngine) -> String {
    let mut text = Text::default();
    let invented = if engine.invented { ", invented" } else { "" };
    text.title(&format!("{} (number {}{invented})", engine.name, engine.number));
    for build in engine.in_detail.iter().flatten() {
        text.heading(&format!("{}, last worked on {}", build.name, day(build.changed_ms)));
        for visit in &build.job_cards {
            text.item(2, "-", &format!("{} (job card {})", visit.name, visit.number));
            let stage = &visit.stage;
            let at = stage.title.map_or_else(String::new, |title| format!("{title}: "));
            text.paragraph(
                4,
                &format!("{at}{}", stage.next.as_deref().unwrap_or("Nothing is left to enter.")),
            );
            if stage.questions > 0 {
                let odd = counted(stage.questions, "odd figure");
                text.paragraph(4, &format!("{odd} to be answered."));
            }
        }
    }
    text.gap();
    text.into()
}

/// A number with its noun.
pub(crate) fn counted(number: usize, noun: &str) -> String {
    format!("{number} {noun}{}", if number == 1 { "" } else { "s" })
}

/// The day where the program runs, as 2031-04-05.
fn day(ms: i64) -> String {
    Timestamp::from_millisecond(ms)
        .map_or_else(|_| "unknown".to_owned(), |time| time.to_zoned(TimeZone::system()).date().to_string())
}
