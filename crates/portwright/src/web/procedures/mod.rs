//! The procedures side by side: which over-travels, which strains the cable, and why; for showing to others.

mod leaf;
mod show;
mod standing;
mod torque;

pub(crate) use standing::standing_document;

use super::bench::OWN_PROCEDURES;
use super::choices::Choices;
use super::page::{Shell, shell};
use super::power;
use super::refusal::Refusal;
use super::subject::Subject;
use super::take::{download, file_stem};
use super::{App, work};
use crate::paper;
use crate::procedures::{USUAL_DRAWS, USUAL_SEED, Wanted, compare, known};
use axum::Router;
use axum::extract::{Query, State};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use maud::Markup;
use quantity::Units;
use record::RecordError;
use serde::Deserialize;
use std::sync::Arc;
use workshop::power::ToldTorque;
use workshop::procedure::{Comparison, Scope};

/// The addresses of this room.
pub(super) fn routes() -> Router<Arc<App>> {
    Router::new()
        .route("/visit/{id}/procedures", get(show_page))
        .route("/visit/{id}/procedures/drawing", get(show_drawing))
        .route("/visit/{id}/procedures.html", get(take_document))
        .route("/visit/{id}/procedures.pdf", get(take_pdf))
        .route("/visit/{id}/procedures.json", get(take_json))
}

/// What is asked for; a wrong word falls back instead of failing.
#[derive(Deserialize)]
pub(super) struct Asked {
    scope: Option<String>,
    travel: Option<String>,
}

impl Asked {
    fn scope(&self) -> Scope {
        if self.scope.as_deref() == Some("like") { Scope::LikeEngines } else { Scope::ThisEngine }
    }

    fn share(&self) -> f64 {
        let percent = self.travel.as_deref().and_then(|text| text.trim().parse::<f64>().ok());
        percent.filter(|percent| percent.is_finite()).map_or(1.0, |percent| (percent / 100.0).clamp(0.0, 1.0))
    }
}

fn comparison(app: &App, subject: &Subject, scope: Scope) -> Result<Arc<Comparison>, RecordError> {
    let own = app.record.choice(OWN_PROCEDURES)?.unwrap_or_default();
    // A file with errors is never kept: one that cannot be read comes from another version, the built-in ones stay.
    let procedures = known(Some(&own)).or_else(|_| known(None)).unwrap_or_else(|_| unreachable!("tested"));
    let wanted = Wanted { scope, draws: USUAL_DRAWS, seed: USUAL_SEED };
    let engine = &subject.kept.reading.engine;
    Ok(app.compared.of(&subject.kept.text, &own, wanted, || compare(engine, &procedures, wanted)))
}

/// What the ways give in torque, where the job card has a map of its entries as they stand.
fn told_torque(
    app: &App,
    subject: &Subject,
    comparison: &Comparison,
    units: Units,
) -> Result<Option<ToldTorque>, RecordError> {
    Ok(power::ways_torque(app, subject, comparison, units)?.map(|known| known.told(units)))
}

async fn show_page(
    State(app): State<Arc<App>>,
    choices: Choices,
    subject: Subject,
    Query(asked): Query<Asked>,
) -> Result<Markup, Refusal> {
    work(move || {
        let comparison = comparison(&app, &subject, asked.scope())?;
        let here = format!("{}/procedures", subject.base);
        let frame = Shell {
            title: "Procedures compared",
            here: Some(&here),
            base: Some(&subject.base),
            class: "procedures bench",
        };
        let torque = told_torque(&app, &subject, &comparison, choices.units)?;
        let page = show::page(&subject, &comparison, torque.as_ref(), choices.units, asked.share());
        Ok(shell(choices, &frame, &page))
    })
    .await?
}

async fn show_drawing(
    State(app): State<Arc<App>>,
    choices: Choices,
    subject: Subject,
    Query(asked): Query<Asked>,
) -> Result<Markup, Refusal> {
    work(move || {
        let comparison = comparison(&app, &subject, asked.scope())?;
        Ok(show::gears(&comparison, choices.units, asked.share()))
    })
    .await?
}

async fn take_document(
    State(app): State<Arc<App>>,
    choices: Choices,
    subject: Subject,
    Query(asked): Query<Asked>,
) -> Result<Response, Refusal> {
    work(move || {
        let comparison = comparison(&app, &subject, asked.scope())?;
        let engine = &subject.kept.reading.engine;
        let name = format!("{}-procedures.html", file_stem(&engine.name));
        let torque = told_torque(&app, &subject, &comparison, choices.units)?;
        let today = paper::today();
        let page = standing_document(engine, &comparison, torque.as_ref(), choices.units, USUAL_SEED, &today);
        Ok(download("text/html; charset=utf-8", &name, page.into_bytes()))
    })
    .await?
}

async fn take_pdf(
    State(app): State<Arc<App>>,
    choices: Choices,
    subject: Subject,
    Query(asked): Query<Asked>,
) -> Result<Response, Refusal> {
    work(move || {
        let comparison = comparison(&app, &subject, asked.scope())?;
        let engine = &subject.kept.reading.engine;
        let torque = told_torque(&app, &subject, &comparison, choices.units)?;
        let bytes = paper::ways_pdf(engine, &comparison, torque, choices.units, USUAL_SEED, paper::today())
            .map_err(Refusal::not_made)?;
        let name = format!("{}-procedures.pdf", file_stem(&engine.name));
        Ok(download("application/pdf", &name, bytes))
    })
    .await?
}

async fn take_json(
    State(app): State<Arc<App>>,
    choices: Choices,
    subject: Subject,
    Query(asked): Query<Asked>,
) -> Result<Response, Refusal> {
    work(move || {
        Ok(axum::Json(comparison(&app, &subject, asked.scope())?.told(choices.units)).into_response())
    })
    .await?
}
