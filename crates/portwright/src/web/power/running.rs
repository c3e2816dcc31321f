//! Starting, watching and stopping a map.

use super::super::choices::Choices;
use super::super::refusal::Refusal;
use super::super::subject::Subject;
use super::super::{App, work};
use super::{Asked, Room, latest, write};
use crate::torque_map::{Job, KIND, Standing, Typed, Wanted};
use axum::extract::rejection::FormRejection;
use axum::extract::{Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use gas::cycle::Model;
use maud::{Markup, html};
use record::{NewResult, VisitId};
use serde::Deserialize;
use std::sync::Arc;

/// What was typed into the form.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct Sent {
    pub(super) from: String,
    pub(super) to: String,
    pub(super) speeds: String,
    pub(super) lifts: String,
    pub(super) throttle: String,
    pub(super) leak: String,
    pub(super) petals: String,
    pub(super) scavenging: String,
    /// Go on with what was stopped.
    go_on: String,
}

/// What was typed and cannot be run: the page shows it again with the reason.
#[derive(Debug)]
pub(super) struct Refused {
    pub(super) sent: Sent,
    /// Name of the field that is wrong.
    pub(super) field: &'static str,
    pub(super) text: String,
}

/// Begins a map, or goes on with one that was stopped.
pub(super) async fn start(
    State(app): State<Arc<App>>,
    choices: Choices,
    subject: Subject,
    form: Result<Form<Sent>, FormRejection>,
) -> Result<Response, Refusal> {
    let Form(sent) = form.map_err(|error| Refusal::bad_form(&error.body_text()))?;
    let base = subject.base.clone();
    work(move || {
        let engine = &subject.kept.reading.engine;
        let begun = latest(&app, &subject)?.filter(|found| !found.stale).map(|found| found.map);
        let wanted = match &begun {
            Some(begun) if !sent.go_on.is_empty() => begun.wanted.clone(),
            _ => match Wanted::typed(engine, &sent.typed()) {
                Ok(wanted) => wanted,
                Err(problem) => {
                    let mut room = Room::of(&app, &subject)?;
                    room.refused = Some(Refused { sent, field: problem.field, text: problem.text });
                    let page = write(&app, choices, &subject, &room, &Asked::default())?;
                    return Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response());
                }
            },
        };
        let text = subject.kept.text.clone();
        let begun = begun.filter(|map| !map.whole());
        let (job, model) =
            Job::new(text, engine, wanted, begun).map_err(|why| Refusal::not_taken(why.to_string()))?;
        let job = Arc::new(job);
        if app.maps.put(subject.place.visit.id.0, &job) {
            let visit = subject.place.visit.id;
            std::thread::spawn(move || make(&app, visit, &job, &model));
        }
        Ok(Redirect::to(&format!("{base}/power#map")).into_response())
    })
    .await?
}

impl Sent {
    fn typed(&self) -> Typed<'_> {
        Typed {
            from: &self.from,
            to: &self.to,
            speeds: &self.speeds,
            lifts: &self.lifts,
            throttle: &self.throttle,
            leak: &self.leak,
            petals: &self.petals,
            scavenging: &self.scavenging,
        }
    }
}

/// Runs a job to its end and keeps what came of it, whole or not: what was run is not lost by stopping.
fn make(app: &App, visit: VisitId, job: &Job, model: &Model) {
    job.run(model, |map| {
        let Ok(report_json) = serde_json::to_string(map) else { return };
        let new = NewResult {
            kind: KIND.to_owned(),
            program_version: env!("CARGO_PKG_VERSION").to_owned(),
            inputs_text: job.text.clone(),
            report_json,
        };
        if let Err(why) = app.record.save_result(visit, &new) {
            tracing::error!("the map could not be kept: {why}");
        }
    });
}

/// Tells it to stop; what was run is kept.
pub(super) async fn stop(State(app): State<Arc<App>>, Path(id): Path<i64>) -> Redirect {
    if let Some(job) = app.maps.of(id) {
        job.stop();
    }
    Redirect::to(&format!("/visit/{id}/power#map"))
}

/// How far it is, for the script that asks again and again.
pub(super) async fn show_progress(State(app): State<Arc<App>>, Path(id): Path<i64>) -> Markup {
    match app.maps.of(id).map(|job| job.standing()) {
        Some(standing) => progress(&standing),
        None => html! { p data-ended { "Nothing is running." } },
    }
}

/// How far it is, in words and as a bar.
pub(super) fn progress(standing: &Standing) -> Markup {
    let Standing { done, all, .. } = *standing;
    let share = (100 * done).checked_div(all).unwrap_or(0);
    html! {
        p data-ended[standing.ended] {
            @if standing.ended { "Done." }
            @else if standing.stopped { "Stopping after the turns that are being run…" }
            @else { (done) " of " (all) " speeds are run." }
        }
        progress max="100" value=(share) aria-label="Speeds run" { (share) " %" }
    }
}
