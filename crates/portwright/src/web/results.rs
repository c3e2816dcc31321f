//! Results that were kept: each with the inputs that made it, opened again as it was.

use super::choices::Choices;
use super::refusal::Refusal;
use super::subject::Subject;
use super::{App, moment, work};
use crate::torque_map::KIND;
use axum::extract::{Path, State};
use axum::response::Redirect;
use maud::{Markup, html};
use quantity::Units;
use record::{NewResult, ResultId, ResultLine};
use std::sync::Arc;

/// Keeps the answer of a job card as it stands. The same again is not kept twice.
pub(super) fn keep(app: &App, subject: &Subject, units: Units) -> Result<ResultId, Refusal> {
    let report = &subject.kept.answer(units).report;
    let report_json = serde_json::to_string(report).map_err(|_| Refusal::broken())?;
    let new = NewResult {
        kind: "setting".to_owned(),
        program_version: env!("CARGO_PKG_VERSION").to_owned(),
        inputs_text: subject.kept.text.clone(),
        report_json,
    };
    Ok(app.record.save_result(subject.place.visit.id, &new)?)
}

/// 'Keep this answer'.
pub(super) async fn keep_answer(
    State(app): State<Arc<App>>,
    choices: Choices,
    subject: Subject,
) -> Result<Redirect, Refusal> {
    let base = subject.base.clone();
    work(move || keep(&app, &subject, choices.units)).await??;
    Ok(Redirect::to(&format!("{base}#results")))
}

/// The way from a result to its answer.
pub(super) async fn to_answer(Path(id): Path<i64>) -> Redirect {
    Redirect::to(&format!("/result/{id}/setting"))
}

/// Says of a kept result when it was made and where it belongs.
pub(super) fn banner(subject: &Subject) -> Markup {
    html! {
        @if let Some(result) = &subject.result {
            p.banner {
                "Kept on " (moment::date_and_time(result.made_ms)) " with version " (result.program_version)
                ", worked out here from the entries of then. "
                a href={ "/visit/" (result.visit) } { "To the job card as it is now" }
            }
        }
    }
}

/// The results of a job card, the latest first.
pub(super) fn list(results: &[ResultLine]) -> Markup {
    html! {
        section.panel #results aria-labelledby="results-title" {
            h2 #results-title { "Kept results" }
            @if results.is_empty() {
                p.muted { "None yet. One is kept when the sheet is printed, 'Keep this answer' is pressed or a torque map is made." }
            } @else {
                ul.rows {
                    @for result in results {
                        li {
                            @let map = result.kind == KIND;
                            a.row-link href={ "/result/" (result.id) @if map { "/power" } @else { "/setting" } } {
                                strong { @if map { "Torque map of " } @else { "Setting of " } (moment::date_and_time(result.made_ms)) }
                                span.muted.small { "version " (result.program_version) }
                            }
                            @if !map { a.button.plain href={ "/result/" (result.id) "/sheet" } { "Sheet" } }
                        }
                    }
                }
            }
        }
    }
}
