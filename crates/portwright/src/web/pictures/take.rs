//! Taking a photo from the form.

use super::super::bench;
use super::super::refusal::Refusal;
use super::super::{App, work};
use super::photo::{self, PhotoError};
use axum::extract::multipart::{Multipart, MultipartError, MultipartRejection};
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::Redirect;
use diagnosis::check::Checks;
use record::{NewPicture, VisitId};
use std::sync::Arc;
use workshop::form::Step;

/// Longest text under a picture, in characters.
pub(super) const LONGEST_CAPTION: usize = 200;

#[derive(Default)]
struct Sent {
    file: Vec<u8>,
    step: String,
    caption: String,
}

/// Keeps a photo on a step of a job card.
pub(super) async fn add(
    State(app): State<Arc<App>>,
    Path(id): Path<i64>,
    form: Result<Multipart, MultipartRejection>,
) -> Result<Redirect, Refusal> {
    let form = form.map_err(|error| Refusal::bad_form(&error.body_text()))?;
    let sent = read_form(form).await?;
    let known = Step::from_slug(&sent.step).is_some()
        || sent
            .step
            .strip_prefix(bench::CHECK_PART)
            .is_some_and(|check| Checks::built_in().get(check).is_some());
    if !known {
        return Err(Refusal::not_taken(
            "The form does not say which step the photo belongs to. Go back and choose a step.",
        ));
    }
    let step = sent.step;
    let caption = caption(&sent.caption)?;
    work(move || {
        let visit = VisitId(id);
        // Before the photo is unpacked: no work for a job card that is not there.
        app.record.visit(visit)?;
        let photo = photo::fit(&sent.file).map_err(|error| Refusal::not_taken(error.to_string()))?;
        let new = NewPicture {
            step: step.clone(),
            caption,
            media_type: "image/jpeg".to_owned(),
            bytes: photo.bytes,
            width: photo.width,
            height: photo.height,
        };
        let picture = app.record.add_picture(visit, &new)?;
        Ok(Redirect::to(&format!("/visit/{id}/pictures?step={step}#picture-{picture}")))
    })
    .await?
}

/// The text under a picture.
pub(super) fn caption(text: &str) -> Result<String, Refusal> {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if text.chars().count() > LONGEST_CAPTION {
        return Err(Refusal::not_taken(format!(
            "The text under a picture has room for {LONGEST_CAPTION} letters. Go back and shorten it."
        )));
    }
    Ok(text)
}

async fn read_form(mut form: Multipart) -> Result<Sent, Refusal> {
    let mut sent = Sent::default();
    while let Some(field) = form.next_field().await.map_err(|error| refuse(&error))? {
        let name = field.name().unwrap_or_default().to_owned();
        let bytes = field.bytes().await.map_err(|error| refuse(&error))?;
        match name.as_str() {
            "photo" => sent.file = bytes.to_vec(),
            "step" => sent.step = String::from_utf8_lossy(&bytes).into_owned(),
            "caption" => sent.caption = String::from_utf8_lossy(&bytes).into_owned(),
            _ => {}
        }
    }
    Ok(sent)
}

fn refuse(error: &MultipartError) -> Refusal {
    if error.status() == StatusCode::PAYLOAD_TOO_LARGE {
        Refusal::not_taken(PhotoError::TooLarge.to_string())
    } else {
        Refusal::bad_form(&error.body_text())
    }
}
