//! What was not measured, from readings that are typed row by row: the form, and what follows from them.

mod form;
mod result;

use super::choices::Choices;
use super::page::{Shell, shell};
use super::refusal::Refusal;
use super::subject::{Card, Subject};
use super::{App, work};
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use maud::{Markup, html};
use record::{Change, VisitId};
use std::sync::Arc;
use workshop::fitting::{self, Entries, entries_from, entries_of};

/// The addresses of this room.
pub(super) fn routes() -> Router<Arc<App>> {
    Router::new()
        .route("/visit/{id}/fit", get(show_page))
        .route("/visit/{id}/fit.json", get(take_json))
        .route("/visit/{id}/fit/demo", post(fill_demo))
}

async fn show_page(
    State(app): State<Arc<App>>,
    choices: Choices,
    subject: Subject,
) -> Result<Markup, Refusal> {
    work(move || {
        let card = Card::open(&app, subject.place.visit.id)?;
        let entries = entries_of(&card.texts());
        let here = format!("{}/fit", subject.base);
        let frame = Shell {
            title: "What was not measured",
            here: Some(&here),
            base: Some(&subject.base),
            class: "fitting bench form",
        };
        Ok(shell(choices, &frame, &page(&subject, &card, &entries, choices)))
    })
    .await?
}

fn page(subject: &Subject, card: &Card, entries: &Entries, choices: Choices) -> Markup {
    html! {
        header.page-head {
            p.eyebrow { a href=(subject.base) { (subject.place.engine.name) ", " (subject.place.visit.name) } }
            h1 { "What was not measured" }
            p.lead {
                "A pulley radius, the stiffness of a wire or the friction in a sheath need not be measured one by one: move the \
                 servo through its travel and back, read the valve at a few places, and what fits these readings best is worked out \
                 here."
            }
        }
        (form::form(&subject.kept.reading.engine, card, entries))
        (result::section(&subject.kept.reading.engine, entries, choices.units))
    }
}

async fn take_json(
    State(app): State<Arc<App>>,
    choices: Choices,
    subject: Subject,
) -> Result<Response, Refusal> {
    work(move || {
        let card = Card::open(&app, subject.place.visit.id)?;
        let readings = entries_of(&card.texts()).readings.ok_or_else(|| {
            Refusal::not_taken("The readings are not whole yet: the page says what is missing.")
        })?;
        let fitted = fitting::fit(&subject.kept.reading.engine, &readings)
            .map_err(|why| Refusal::not_taken(format!("{why}.")))?;
        Ok(axum::Json(fitted.told(&readings, choices.units)).into_response())
    })
    .await?
}

/// Puts the invented readings in, so that it can be tried; only where there are none yet.
async fn fill_demo(State(app): State<Arc<App>>, Path(id): Path<i64>) -> Result<Redirect, Refusal> {
    work(move || {
        let card = Card::open(&app, VisitId(id))?;
        if fitting::row_count(&card.texts()) == 0
            && let Ok(readings) = fitting::read(fitting::DEMO)
        {
            let change = |(key, text): (String, String)| {
                let based_on = card.fields.get(&key).map(|field| field.version);
                Change { key, text, based_on }
            };
            let changes: Vec<Change> = entries_from(&readings).into_iter().map(change).collect();
            app.record.save_fields(card.place.visit.id.into(), &changes)?;
        }
        Ok(Redirect::to(&format!("{}/fit#result", card.base())))
    })
    .await?
}
