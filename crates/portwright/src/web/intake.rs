//! Taking an engine file: kept as a new engine when it can be read, else given back with every error beside its lines.

use super::choices::Choices;
use super::edit::{self, Draft};
use super::form::save;
use super::refusal::Refusal;
use super::subject::{Card, base_of};
use super::{App, LARGEST_UPLOAD, work};
use axum::extract::State;
use axum::extract::multipart::{Multipart, MultipartError, MultipartRejection};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use engine::file::fields::fields_of;
use record::RecordError;
use std::collections::BTreeMap;
use std::sync::Arc;

/// What the form sent.
#[derive(Default)]
struct Sent {
    file: Vec<u8>,
    text: Vec<u8>,
    /// Take it although something is wrong with it.
    anyway: bool,
}

/// Takes a file that was dropped or chosen, or a text that was written.
pub(super) async fn take_engine(
    State(app): State<Arc<App>>,
    choices: Choices,
    form: Result<Multipart, MultipartRejection>,
) -> Result<Response, Refusal> {
    let form = form.map_err(|error| Refusal::bad_form(&error.body_text()))?;
    let sent = read_form(form).await?;
    let anyway = sent.anyway;
    let bytes = if sent.file.is_empty() { with_plain_line_ends(sent.text) } else { sent.file };
    if bytes.len() > LARGEST_UPLOAD {
        return Err(Refusal::too_large());
    }
    work(move || {
        let text = String::from_utf8_lossy(&bytes);
        let read = engine::file::read(&bytes).map(|_| ());
        let fields = fields_of(&text);
        let (problems, can_be_kept) = match (read, fields) {
            (Ok(()), Ok(fields)) => return Ok(Redirect::to(&add(&app, &fields)?).into_response()),
            (Err(_), Ok(fields)) if anyway => {
                return Ok(Redirect::to(&add(&app, &fields)?).into_response());
            }
            (Err(problems), fields) => (problems, fields.is_ok()),
            (Ok(()), Err(problems)) => (problems, false),
        };
        let draft = Draft { text: &text, problems: &problems, notice: None, can_be_kept, of: None };
        Ok((StatusCode::UNPROCESSABLE_ENTITY, edit::page(choices, &draft)).into_response())
    })
    .await?
}

/// Puts an engine file into the record as a new engine and gives the address of its job card.
fn add(app: &App, fields: &BTreeMap<String, String>) -> Result<String, RecordError> {
    let text = |key: &str| fields.get(key).map_or("", |text| text.trim());
    let name = if text("engine.name").is_empty() { "Engine without a name" } else { text("engine.name") };
    let (_, _, visit) = app.record.create_engine(name, text("engine.invented") == "true")?;
    let card = Card::open(app, visit)?;
    save::replace(app, &card, fields)?;
    Ok(base_of(visit))
}

/// The demo engine, on the first start.
pub(super) fn add_demo(app: &App) -> Result<(), RecordError> {
    // Its file is part of the program and is read in tests.
    fields_of(engine::file::DEMO).map_or(Ok(()), |fields| add(app, &fields).map(|_| ()))
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
            "anyway" => sent.anyway = true,
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
