//! What can be done with a picture: another text, on the sheet or not, deleted, brought back.

use super::super::refusal::Refusal;
use super::super::{App, work};
use super::take;
use axum::extract::rejection::FormRejection;
use axum::extract::{Form, Path, State};
use axum::response::Redirect;
use record::{PictureId, Record, RecordError};
use serde::Deserialize;
use std::sync::Arc;

/// Text of a form.
#[derive(Deserialize)]
pub(super) struct Caption {
    #[serde(default)]
    caption: String,
}

/// A ticked box is sent, one that is not ticked is not.
#[derive(Deserialize)]
pub(super) struct OnSheet {
    on: Option<String>,
}

type Sent<T> = Result<Form<T>, FormRejection>;

/// Another text under it.
pub(super) async fn caption(
    State(app): State<Arc<App>>,
    Path(id): Path<i64>,
    form: Sent<Caption>,
) -> Result<Redirect, Refusal> {
    let Form(sent) = form.map_err(|error| Refusal::bad_form(&error.body_text()))?;
    let caption = take::caption(&sent.caption)?;
    change(app, id, move |record, picture| record.set_caption(picture, &caption)).await
}

/// Printed on the sheet, or not.
pub(super) async fn sheet(
    State(app): State<Arc<App>>,
    Path(id): Path<i64>,
    form: Sent<OnSheet>,
) -> Result<Redirect, Refusal> {
    let Form(sent) = form.map_err(|error| Refusal::bad_form(&error.body_text()))?;
    change(app, id, move |record, picture| record.set_on_sheet(picture, sent.on.is_some())).await
}

/// Marks it as deleted.
pub(super) async fn delete(State(app): State<Arc<App>>, Path(id): Path<i64>) -> Result<Redirect, Refusal> {
    work(move || {
        let picture = app.record.picture(PictureId(id))?;
        app.record.delete_picture(PictureId(id))?;
        Ok(Redirect::to(&format!("/visit/{}/pictures?deleted={id}", picture.line.visit)))
    })
    .await?
}

/// Brings it back.
pub(super) async fn undelete(State(app): State<Arc<App>>, Path(id): Path<i64>) -> Result<Redirect, Refusal> {
    change(app, id, |record, picture| record.undelete_picture(picture)).await
}

async fn change(
    app: Arc<App>,
    id: i64,
    what: impl FnOnce(&Record, PictureId) -> Result<(), RecordError> + Send + 'static,
) -> Result<Redirect, Refusal> {
    work(move || {
        what(&app.record, PictureId(id))?;
        let visit = app.record.picture(PictureId(id))?.line.visit;
        Ok(Redirect::to(&format!("/visit/{visit}/pictures#picture-{id}")))
    })
    .await?
}
