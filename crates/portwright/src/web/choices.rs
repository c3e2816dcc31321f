//! The visitor's choices, units and colours: asked for by `?units=` and `?theme=`, kept in cookies.

use super::refusal::{self, Refusal};
use axum::extract::{FromRequestParts, Request};
use axum::http::header::{COOKIE, SET_COOKIE};
use axum::http::request::Parts;
use axum::http::{HeaderValue, StatusCode};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use quantity::Units;
use std::convert::Infallible;

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
    /// Its name in addresses, cookies and the page.
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

/// Reads the choices, hands them to the page, keeps new ones, and dresses refusals as pages.
pub(super) async fn carry(mut request: Request, next: Next) -> Response {
    let mut choices = Choices::default();
    for header in request.headers().get_all(COOKIE) {
        for pair in header.to_str().unwrap_or_default().split(';') {
            if let Some((name, value)) =
                pair.trim().strip_prefix("portwright_").and_then(|p| p.split_once('='))
            {
                choices.take(name, value);
            }
        }
    }
    let mut kept = Vec::new();
    for pair in request.uri().query().unwrap_or_default().split('&') {
        if let Some((name, value)) = pair.split_once('=')
            && choices.take(name, value)
        {
            kept.push(format!("portwright_{name}={value}; Path=/; Max-Age=31536000; SameSite=Strict; HttpOnly"));
        }
    }
    request.extensions_mut().insert(choices);
    let mut response = dressed(next.run(request).await, choices);
    for cookie in kept {
        if let Ok(value) = HeaderValue::from_str(&cookie) {
            response.headers_mut().append(SET_COOKIE, value);
        }
    }
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
