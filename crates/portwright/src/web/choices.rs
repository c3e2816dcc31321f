//! The visitor's choices, units and colours: asked for by `?units=` and `?theme=`, kept in the record.

use super::refusal::{self, Refusal};
use super::{App, guard, work};
use axum::extract::{FromRequestParts, Request, State};
use axum::http::StatusCode;
use axum::http::request::Parts;
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use quantity::Units;
use record::{Record, RecordError};
use std::convert::Infallible;
use std::sync::Arc;

/// Light or dark.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum Theme {
    /// As the system has it.
    #[default]
    Auto,
    /// Light.
    Light,
    /// Dark.
    Dark,
}

impl Theme {
    /// Its name in addresses, record and page.
    pub(super) fn name(self) -> &'static str {
        match self {
            Self::Auto => "auto",
            Self::Light => "light",
            Self::Dark => "dark",
        }
    }

    /// The one that the switch goes to.
    pub(super) fn next(self) -> Self {
        match self {
            Self::Auto => Self::Dark,
            Self::Dark => Self::Light,
            Self::Light => Self::Auto,
        }
    }
}

/// What the visitor chose.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Choices {
    /// Units shown.
    pub(super) units: Units,
    /// Light or dark.
    pub(super) theme: Theme,
}

impl Choices {
    fn take(&mut self, name: &str, value: &str) -> bool {
        match (name, value) {
            ("units", "metric") => self.units = Units::Metric,
            ("units", "inch") => self.units = Units::Inch,
            ("theme", "auto") => self.theme = Theme::Auto,
            ("theme", "light") => self.theme = Theme::Light,
            ("theme", "dark") => self.theme = Theme::Dark,
            _ => return false,
        }
        true
    }
}

impl<S: Sync> FromRequestParts<S> for Choices {
    type Rejection = Infallible;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Self, Infallible> {
        Ok(parts.extensions.get::<Self>().copied().unwrap_or_default())
    }
}

/// Those that the record remembers, each on its own.
pub(super) fn remembered(record: &Record) -> Result<Choices, RecordError> {
    let mut choices = Choices::default();
    for name in ["units", "theme"] {
        if let Some(value) = record.choice(name)? {
            choices.take(name, &value);
        }
    }
    Ok(choices)
}

/// Hands the choices to the page, keeps new ones in the record, and dresses refusals as pages.
pub(super) async fn carry(State(app): State<Arc<App>>, mut request: Request, next: Next) -> Response {
    let mut choices = app.choices();
    let mut chosen = Vec::new();
    for pair in request.uri().query().unwrap_or_default().split('&') {
        if let Some((name, value)) = pair.split_once('=')
            && choices.take(name, value)
        {
            chosen.push((name.to_owned(), value.to_owned()));
        }
    }
    let from_here = guard::is_opened_from_here(request.headers());
    request.extensions_mut().insert(choices);
    let response = next.run(request).await;
    if from_here && response.status().is_success() && !chosen.is_empty() {
        app.set_choices(choices);
        // The page has what it asked for; a choice that the record could not keep is asked for again next time.
        let kept =
            work(move || chosen.iter().try_for_each(|(name, value)| app.record.set_choice(name, value)));
        if let Ok(Err(error)) = kept.await {
            tracing::warn!("a choice was not kept: {error}");
        }
    }
    let mut response = dressed(response, choices);
    refusal::harden(response.headers_mut());
    response
}

/// A refusal becomes a page in the visitor's colours, whoever refused.
fn dressed(response: Response, choices: Choices) -> Response {
    let refusal = response.extensions().get::<Refusal>().cloned().or_else(|| match response.status() {
        StatusCode::PAYLOAD_TOO_LARGE => Some(Refusal::too_large()),
        // An address that cannot be taken apart: the router says so in plain text.
        StatusCode::BAD_REQUEST => Some(Refusal::bad_address()),
        _ => None,
    });
    match refusal {
        Some(refusal) => (refusal.status, refusal.page(choices)).into_response(),
        None => response,
    }
}
