//! What the setting does to torque: a map made on this computer, shown while it is made, kept in the record.

mod measured;
mod running;
mod show;
pub(super) mod table;
mod traces;

use super::choices::Choices;
use super::page::{Shell, shell};
use super::refusal::Refusal;
use super::subject::{Card, Subject};
use super::take::{download, file_stem};
use super::{App, work};
use crate::torque_map::{self, KIND, Standing, TorqueMap, Wanted};
use axum::Router;
use axum::extract::{Query, State};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use gas::cycle::{Model, ModelError};
use maud::Markup;
use quantity::Units;
use record::{RecordError, ResultId};
use serde::Deserialize;
use std::sync::Arc;
use workshop::power::{USUAL_FOLLOW_RPM, WaysTorque};
use workshop::procedure::Comparison;

/// The addresses of this room.
pub(super) fn routes() -> Router<Arc<App>> {
    let of_both = |router: Router<Arc<App>>, kind: &str| {
        router
            .route(&format!("{kind}/{{id}}/power"), get(show_page))
            .route(&format!("{kind}/{{id}}/power/traces"), get(traces::show_fragment))
            .route(&format!("{kind}/{{id}}/power/traces.csv"), get(traces::take_csv))
            .route(&format!("{kind}/{{id}}/power.json"), get(take_json))
            .route(&format!("{kind}/{{id}}/power.csv"), get(take_csv))
    };
    ["/visit", "/result"]
        .into_iter()
        .fold(Router::new(), of_both)
        .route("/visit/{id}/power/start", post(running::start))
        .route("/visit/{id}/power/stop", post(running::stop))
        .route("/visit/{id}/power/progress", get(running::show_progress))
}

/// What is asked for; a wrong word falls back instead of failing.
#[derive(Debug, Default, Deserialize)]
pub(super) struct Asked {
    /// Engine speed of the traces, rpm.
    speed: Option<String>,
    /// Lift of the traces, per cent of flush.
    lift: Option<String>,
    /// Engine speed over which the actuator needs to go from closed to open at least, rpm.
    follow: Option<String>,
}

impl Asked {
    fn number(text: Option<&String>, usual: f64, (low, high): (f64, f64)) -> f64 {
        let asked = text.and_then(|text| text.trim().parse::<f64>().ok());
        asked.filter(|value| value.is_finite()).unwrap_or(usual).clamp(low, high)
    }

    /// Speed over which the whole travel may be made, rpm.
    fn follow_rpm(&self) -> f64 {
        Self::number(self.follow.as_ref(), USUAL_FOLLOW_RPM, (0.0, 10_000.0))
    }
}

/// A map with what is known of it.
pub(super) struct Found {
    /// The map.
    map: TorqueMap,
    /// It was made from other entries than those of today.
    stale: bool,
    /// The result it is kept as.
    kept: Option<ResultId>,
}

/// What the page is made from.
struct Room {
    /// A map, whole or not.
    found: Option<Found>,
    /// A job that is still at it.
    running: Option<Standing>,
    /// Why no map can be made.
    lacking: Option<ModelError>,
    /// What would be run.
    wanted: Wanted,
    /// What was typed for a map and cannot be run.
    refused: Option<running::Refused>,
}

impl Room {
    fn of(app: &App, subject: &Subject) -> Result<Self, RecordError> {
        let engine = &subject.kept.reading.engine;
        let visit = subject.place.visit.id;
        let job = app.maps.of(visit.0).filter(|_| subject.result.is_none());
        let standing = job.as_ref().map(|job| job.standing());
        Ok(Self {
            found: latest(app, subject)?,
            running: standing.filter(|standing| !standing.ended),
            lacking: Model::of(engine).err(),
            wanted: Wanted::usual(engine),
            refused: None,
        })
    }
}

/// The map that a page about this subject shows: the kept one itself, or the latest of the job card.
fn latest(app: &App, subject: &Subject) -> Result<Option<Found>, RecordError> {
    let visit = subject.place.visit.id;
    let line = match &subject.result {
        Some(result) if result.kind == KIND => Some(result.clone()),
        Some(_) => None,
        None => app.record.results(visit)?.into_iter().find(|line| line.kind == KIND),
    };
    let Some(line) = line else { return Ok(None) };
    let kept = app.record.result(line.id)?;
    // One that another version wrote differently is passed over: it can be run again.
    let map = serde_json::from_str::<TorqueMap>(&kept.report_json).ok();
    let stale = kept.inputs_text != subject.kept.text;
    Ok(map.map(|map| Found { map, stale, kept: Some(line.id) }))
}

/// Torque of the ways of setting, where the job card has a map that was made from its entries as they stand.
pub(super) fn ways_torque(
    app: &App,
    subject: &Subject,
    comparison: &Comparison,
    units: Units,
) -> Result<Option<WaysTorque>, RecordError> {
    let found = latest(app, subject)?.filter(|found| !found.stale);
    let grid = found.and_then(|found| found.map.grid());
    Ok(grid.and_then(|grid| workshop::power::ways_torque(&subject.kept.answer(units), &grid, comparison)))
}

async fn show_page(
    State(app): State<Arc<App>>,
    choices: Choices,
    subject: Subject,
    Query(asked): Query<Asked>,
) -> Result<Markup, Refusal> {
    work(move || {
        let room = Room::of(&app, &subject)?;
        write(&app, choices, &subject, &room, &asked)
    })
    .await?
}

fn write(
    app: &App,
    choices: Choices,
    subject: &Subject,
    room: &Room,
    asked: &Asked,
) -> Result<Markup, Refusal> {
    let card = Card::open(app, subject.place.visit.id)?;
    let here = format!("{}/power", subject.base);
    let frame = Shell {
        title: "Torque and power",
        here: Some(&here),
        base: Some(&subject.base),
        class: "power procedures bench",
    };
    Ok(shell(choices, &frame, &show::page(subject, &card, room, choices.units, asked)))
}

async fn take_json(State(app): State<Arc<App>>, subject: Subject) -> Result<Response, Refusal> {
    work(move || match latest(&app, &subject)? {
        Some(found) => Ok(axum::Json(found.map).into_response()),
        None => Err(Refusal::no_page()),
    })
    .await?
}

async fn take_csv(State(app): State<Arc<App>>, subject: Subject) -> Result<Response, Refusal> {
    work(move || match latest(&app, &subject)? {
        Some(found) => {
            let name = format!("{}-torque.csv", file_stem(&subject.kept.reading.engine.name));
            Ok(download("text/csv; charset=utf-8", &name, torque_map::csv(&found.map).into_bytes()))
        }
        None => Err(Refusal::no_page()),
    })
    .await?
}
