//! The bench: checks one a screen, what normal looks like, and which fault it is.

mod check;
mod item;
mod list;
mod normal;

pub(super) use check::notes;

use super::App;
use super::refusal::Refusal;
use super::subject::Card;
use axum::Router;
use axum::routing::{get, post};
use diagnosis::check::Checks;
use diagnosis::session::Entries;
use record::{RecordError, VisitId};
use std::sync::Arc;

/// The addresses of this room.
pub(super) fn routes() -> Router<Arc<App>> {
    Router::new()
        .route("/visit/{id}/checks", get(list::show_checks))
        .route("/visit/{id}/check/{check}", get(check::show_check))
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
pub(super) fn checks(app: &App) -> Result<Checks, RecordError> {
    let own = app.record.choice(OWN_CHECKS)?;
    // A file with errors is never kept, so one that cannot be read comes from another version: the built-in ones stay.
    let own = own.and_then(|text| Checks::read(&text).ok()).unwrap_or_default();
    Ok(Checks::built_in().clone().with(own))
}

/// A job card on the bench.
struct Bench {
    card: Card,
    checks: Checks,
    entries: Entries,
}

impl Bench {
    fn open(app: &App, visit: i64) -> Result<Self, Refusal> {
        let card = Card::open(app, VisitId(visit))?;
        let entries = card.texts();
        Ok(Self { checks: checks(app)?, entries, card })
    }
}
