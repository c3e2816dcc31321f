//! What the app answers when it cannot give what was asked: a page with a sentence.

use super::choices::Choices;
use super::page::{Shell, shell};
use axum::http::header::{self, HeaderName};
use axum::http::{HeaderMap, HeaderValue, StatusCode};
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use record::RecordError;

/// A refusal; the outermost layer makes a page of it.
#[derive(Debug, Clone)]
pub(super) struct Refusal {
    pub(super) status: StatusCode,
    title: &'static str,
    sentence: String,
    way: Option<(String, &'static str)>,
}

impl Refusal {
    fn new(status: StatusCode, title: &'static str, sentence: impl Into<String>) -> Self {
        Self { status, title, sentence: sentence.into(), way: None }
    }

    pub(super) fn no_page() -> Self {
        let sentence = "There is no page at this address. The start page lists the engines.";
        Self::new(StatusCode::NOT_FOUND, "No such page", sentence)
    }

    /// Something needed is missing or wrong, so there is no answer yet.
    pub(super) fn not_whole(problems: usize, base: &str) -> Self {
        let entries =
            if problems == 1 { "one entry is".to_owned() } else { format!("{problems} entries are") };
        let sentence = format!(
            "The setting can be worked out once the description is whole: {entries} missing or wrong. What was \
             entered is kept."
        );
        let way = Some((base.to_owned(), "See what is missing"));
        Self { way, ..Self::new(StatusCode::CONFLICT, "Not whole yet", sentence) }
    }

    /// A kept result whose inputs this program reads no more.
    pub(super) fn no_longer_read() -> Self {
        let sentence = "The inputs of this result are kept, but this version of the program cannot read them. Export \
                        the record: its report stands there as it was made.";
        Self::new(StatusCode::CONFLICT, "Not readable any more", sentence)
    }

    /// Something sent that is not taken.
    pub(super) fn not_taken(why: impl Into<String>) -> Self {
        Self::new(StatusCode::UNPROCESSABLE_ENTITY, "Not taken", why)
    }

    /// What was sent from a page without scripts was changed on another page meanwhile.
    pub(super) fn changed_elsewhere(base: &str) -> Self {
        let sentence = format!(
            "The entry was changed on another page meanwhile and was not saved. Go back to {base}, load the page \
             again, and enter it once more."
        );
        Self::new(StatusCode::CONFLICT, "Changed elsewhere", sentence)
    }

    pub(super) fn wrong_method() -> Self {
        let sentence = "This address is only for reading, or only for sending: nothing was changed. Go on from the \
                        start page.";
        Self::new(StatusCode::METHOD_NOT_ALLOWED, "Not done that way", sentence)
    }

    pub(super) fn too_large() -> Self {
        let sentence = "The file is larger than 1 MB and was not read. An engine file has a few kilobytes: is it the \
                        right one?";
        Self::new(StatusCode::PAYLOAD_TOO_LARGE, "Too large", sentence)
    }

    pub(super) fn bad_form(why: &str) -> Self {
        let sentence = format!("What was sent could not be read ({why}). Go back and send it once more.");
        Self::new(StatusCode::BAD_REQUEST, "Not readable", sentence)
    }

    pub(super) fn bad_address() -> Self {
        let sentence = "This address is not written as this program writes them. Go on from the start page.";
        Self::new(StatusCode::BAD_REQUEST, "Not an address", sentence)
    }

    pub(super) fn wrong_host() -> Self {
        let sentence =
            "This program answers only to the address it printed when it started (127.0.0.1 or localhost).";
        Self::new(StatusCode::MISDIRECTED_REQUEST, "Wrong address", sentence)
    }

    pub(super) fn other_site() -> Self {
        let sentence = "Another site tried to send something here. It was not taken.";
        Self::new(StatusCode::FORBIDDEN, "Sent from elsewhere", sentence)
    }

    pub(super) fn broken() -> Self {
        let sentence = "This could not be worked out because of a fault in the program. Your engine file is \
                        unharmed; please report the fault together with it.";
        Self::new(StatusCode::INTERNAL_SERVER_ERROR, "A fault in the program", sentence)
    }

    pub(super) fn not_made(why: impl Into<String>) -> Self {
        Self::new(StatusCode::INTERNAL_SERVER_ERROR, "Not made", why)
    }

    pub(super) fn page(&self, choices: Choices) -> Markup {
        shell(
            choices,
            &Shell { title: self.title, here: None, base: None, class: "narrow" },
            &html! {
                section.panel.refusal {
                    p.eyebrow { (self.status.as_u16()) }
                    h1 { (self.title) }
                    p.lead { (self.sentence) }
                    p.actions {
                        @if let Some((address, words)) = &self.way { a.button.strong href=(address) { (words) } }
                        a.button href="/" { "To the start page" }
                    }
                }
            },
        )
    }
}

impl From<RecordError> for Refusal {
    fn from(error: RecordError) -> Self {
        let (status, title) = match &error {
            RecordError::Missing { .. } => (StatusCode::NOT_FOUND, "Not in the record"),
            RecordError::Refused { .. } | RecordError::Import { .. } => {
                (StatusCode::UNPROCESSABLE_ENTITY, "Not kept")
            }
            _ => (StatusCode::SERVICE_UNAVAILABLE, "The record cannot be used"),
        };
        Self::new(status, title, error.to_string())
    }
}

impl IntoResponse for Refusal {
    fn into_response(self) -> Response {
        let mut response = self.status.into_response();
        response.extensions_mut().insert(self);
        response
    }
}

/// The headers that every answer carries.
pub(super) fn harden(headers: &mut HeaderMap) {
    const POLICY: &str = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; font-src 'self'; \
                          connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";
    let fixed: [(HeaderName, &'static str); 5] = [
        (header::CONTENT_SECURITY_POLICY, POLICY),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (header::REFERRER_POLICY, "no-referrer"),
        (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
        (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
    ];
    for (name, value) in fixed {
        headers.insert(name, HeaderValue::from_static(value));
    }
    // Going back shows what the record holds now, not a page of then.
    headers.entry(header::CACHE_CONTROL).or_insert(HeaderValue::from_static("no-store"));
}
