//! Taking an engine file: kept and shown when it can be read, else given back with every error beside its lines.

use super::choices::Choices;
use super::edit::{self, Draft};
use super::refusal::Refusal;
use super::{App, LARGEST_UPLOAD, work};
use axum::extract::State;
use axum::extract::multipart::{Multipart, MultipartError, MultipartRejection};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use std::sync::Arc;

/// What the form sent.
#[derive(Default)]
struct Sent {
    file: Vec<u8>,
    text: Vec<u8>,
}

/// Takes a file that was dropped or chosen, or a text that was written.
pub(super) async fn take_engine(
    State(app): State<Arc<App>>,
    choices: Choices,
    form: Result<Multipart, MultipartRejection>,
) -> Result<Response, Refusal> {
    let form = form.map_err(|error| Refusal::bad_form(&error.body_text()))?;
    let sent = read_form(form).await?;
    let bytes = if sent.file.is_empty() { with_plain_line_ends(sent.text) } else { sent.file };
    if bytes.len() > LARGEST_UPLOAD {
        return Err(Refusal::too_large());
    }
    let kept = work(move || app.shelf.keep(&bytes).map_err(|problems| (bytes, problems))).await?;
    Ok(match kept {
        Ok(kept) => Redirect::to(&format!("/engine/{}", kept.id)).into_response(),
        Err((bytes, problems)) => {
            let text = String::from_utf8_lossy(&bytes);
            let page = edit::page(choices, &Draft { text: &text, problems: &problems, name: None, id: None });
            (StatusCode::UNPROCESSABLE_ENTITY, page).into_response()
        }
    })
}

/// The address is only for sending; whoever reloads it begins anew.
pub(super) async fn to_start() -> Redirect {
    Redirect::to("/")
}

async fn read_form(mut form: Multipart) -> Result<Sent, Refusal> {
    let mut sent = Sent::default();
    while let Some(field) = form.next_field().await.map_err(|error| refuse(&error))? {
        let name = field.name().unwrap_or_default().to_owned();
        let bytes = field.bytes().await.map_err(|error| refuse(&error))?;
        match name.as_str() {
            "file" => sent.file = bytes.to_vec(),
            "text" => sent.text = bytes.to_vec(),
            _ => {}
        }
    }
    Ok(sent)
}

fn refuse(error: &MultipartError) -> Refusal {
    if error.status() == StatusCode::PAYLOAD_TOO_LARGE {
        Refusal::too_large()
    } else {
        Refusal::bad_form(&error.body_text())
    }
}

/// Forms send CR LF; the file had LF, and the same text must keep its address.
fn with_plain_line_ends(text: Vec<u8>) -> Vec<u8> {
    let mut plain = Vec::with_capacity(text.len());
    for (at, &byte) in text.iter().enumerate() {
        if byte != b'\r' || text.get(at + 1) != Some(&b'\n') {
            plain.push(byte);
        }
    }
    plain
}

#[cfg(test)]
mod tests {
    use super::with_plain_line_ends;

    #[test]
    fn exact_line_ends_of_forms_are_undone() {
        assert_eq!(with_plain_line_ends(b"a\r\nb\rc\n".to_vec()), b"a\nb\rc\n");
    }
}
