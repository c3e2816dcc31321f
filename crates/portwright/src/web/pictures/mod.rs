//! Photos on the steps of a job card.

mod change;
pub(crate) mod photo;
mod show;
mod take;

pub(crate) use show::{caption, on_sheet};

use super::App;
use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::routing::{get, post};
use std::sync::Arc;

/// The addresses of this room.
pub(super) fn routes() -> Router<Arc<App>> {
    // Room for the form's own bytes; the photo in it is measured where it is read.
    let room = DefaultBodyLimit::max(photo::LARGEST_BYTES + 65_536);
    Router::new()
        .route("/visit/{id}/pictures", get(show::show_pictures).merge(post(take::add).layer(room)))
        .route("/picture/{id}", get(show::whole))
        .route("/picture/{id}/small", get(show::small))
        .route("/picture/{id}/caption", post(change::caption))
        .route("/picture/{id}/sheet", post(change::sheet))
        .route("/picture/{id}/delete", post(change::delete))
        .route("/picture/{id}/undelete", post(change::undelete))
}

#[cfg(test)]
mod tests;
