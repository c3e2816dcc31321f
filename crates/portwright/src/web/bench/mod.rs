//! The bench: checks one a screen, what normal looks like, and which fault it is.

mod care;
mod check;
mod find;
mod item;
mod list;
mod log;
mod normal;
mod own;

pub(super) use care::reminder;
pub(super) use check::notes;

use super::App;
use super::refusal::Refusal;
use super::subject::Card;
use axum::Router;
use axum::routing::{get, post};
use diagnosis::check::Checks;
use diagnosis::fault::Tables;
use diagnosis::session::Entries;
use record::{Record, RecordError, VisitId};
use std::sync::Arc;

/// The addresses of this room.
pub(super) fn routes() -> Router<Arc<App>> {
    Router::new()
        .route("/visit/{id}/checks", get(list::show_checks))
        .route("/visit/{id}/check/{check}", get(check::show_check))
        .route("/visit/{id}/care", get(care::show_care))
        .route("/visit/{id}/find", get(find::show_find))
        .route("/visit/{id}/find/ranking", get(find::show_ranking))
        .route("/bench/own", get(own::show_own).post(own::keep_own))
        .route("/visit/{id}/normal", get(normal::show_normal))
        .route("/visit/{id}/normal/drawing", get(normal::show_drawing))
        .route("/visit/{id}/normal/keep", post(normal::keep_good))
}

/// What `data-step` of a check's form begins with.
pub(super) const CHECK_PART: &str = "check-";

/// Name under which the record keeps the workshop's own checks.
const OWN_CHECKS: &str = "own-checks";

/// The checks that are known: the built-in ones and those of the workshop's own file.
///
/// # Errors
/// Those of the record.
pub(crate) fn checks(record: &Record) -> Result<Checks, RecordError> {
    let own = record.choice(OWN_CHECKS)?;
    // A file with errors is never kept, so one that cannot be read comes from another version: the built-in ones stay.
    let own = own.and_then(|text| Checks::read(&text).ok()).unwrap_or_default();
    Ok(Checks::built_in().clone().with(own))
}

/// Name under which the record keeps the workshop's own setting procedures.
pub(super) const OWN_PROCEDURES: &str = "own-procedures";

/// Name under which the record keeps the workshop's own fault tables.
const OWN_TABLES: &str = "own-tables";

/// The fault tables that are known: the built-in ones and those of the workshop's own file.
///
/// # Errors
/// Those of the record.
fn tables(app: &App) -> Result<Tables, RecordError> {
    let own = app.record.choice(OWN_TABLES)?.and_then(|text| Tables::read(&text).ok());
    let built_in = Tables::built_in().clone();
    Ok(match own {
        Some(own) => built_in.with(own),
        None => built_in,
    })
}

/// A job card on the bench.
struct Bench {
    card: Card,
    checks: Checks,
    tables: Tables,
    entries: Entries,
}

impl Bench {
    fn open(app: &App, visit: i64) -> Result<Self, Refusal> {
        let card = Card::open(app, VisitId(visit))?;
        let entries = card.texts();
        Ok(Self { checks: checks(&app.record)?, tables: tables(app)?, entries, card })
    }
}
