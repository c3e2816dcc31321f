//! Files to take away: the engine file, the same with return values, the whole answer as JSON.

use super::choices::Choices;
use super::refusal::Refusal;
use super::subject::{Card, Subject};
use super::{App, work};
use crate::paper::today;
use crate::returns::with_returns;
use axum::Json;
use axum::extract::{Path, State};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use engine::file::fields::compose;
use quantity::Units;
use record::VisitId;
use std::sync::Arc;

/// The engine file as the fields stand, whole or not.
pub(super) async fn engine_file(
    State(app): State<Arc<App>>,
    Path(id): Path<i64>,
) -> Result<Response, Refusal> {
    let card = work(move || Card::open(&app, VisitId(id))).await??;
    let name = format!("{}.toml", file_stem(&card.place.engine.name));
    Ok(download("application/toml", &name, compose(&card.file_texts()).toml.into_bytes()))
}

/// The engine file with the return values of the proposed setting.
pub(super) async fn returns_file(subject: Subject) -> Result<Response, Refusal> {
    let kept = subject.kept;
    let name = format!("{}-returns.toml", file_stem(&kept.reading.engine.name));
    let date = today();
    let text = work(move || with_returns(&kept.text, &kept.answer(Units::Metric).report, &date)).await?;
    Ok(download("application/toml", &name, text.map_err(Refusal::not_made)?.into_bytes()))
}

/// The whole answer.
pub(super) async fn report_json(choices: Choices, subject: Subject) -> Result<Response, Refusal> {
    let answer = work(move || subject.kept.answer(choices.units)).await?;
    Ok(Json(&answer.report).into_response())
}

/// Bytes that the browser saves under a name.
pub(super) fn download(kind: &'static str, name: &str, bytes: Vec<u8>) -> Response {
    let disposition = format!("attachment; filename=\"{name}\"");
    ([(CONTENT_TYPE, kind.to_owned()), (CONTENT_DISPOSITION, disposition)], bytes).into_response()
}

/// A file name made of the engine's name: letters, figures and hyphens only.
pub(super) fn file_stem(name: &str) -> String {
    let plain: String =
        name.chars().map(|c| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { ' ' }).collect();
    let stem = plain.split_whitespace().take(6).collect::<Vec<_>>().join("-");
    if stem.is_empty() { "engine".to_owned() } else { stem }
}

#[cfg(test)]
mod tests {
    use super::file_stem;

    #[test]
    fn exact_file_names_hold_nothing_that_a_header_could_trip_over() {
        assert_eq!(file_stem("Old \"Nelly\"\r\n125 / blade"), "old-nelly-125-blade");
        assert_eq!(file_stem("Ω"), "engine");
    }
}
