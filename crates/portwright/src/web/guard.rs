//! Who may ask: only this computer's own browser, by the address that was printed.
//!
//! Binding to the loopback address is not enough: any site open in the browser can send requests to it, and a name
//! that resolves to 127.0.0.1 would even let it read the answers.

use super::App;
use super::refusal::Refusal;
use axum::extract::{Request, State};
use axum::http::{HeaderMap, Method, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use std::sync::Arc;

/// Refuses a request for another host, and one that changes something and comes from another site.
pub(super) async fn check(State(app): State<Arc<App>>, request: Request, next: Next) -> Response {
    // HTTP/2 and absolute addresses carry the host in the address itself.
    let host = text(request.headers(), header::HOST.as_str())
        .or_else(|| request.uri().authority().map(ToString::to_string))
        .unwrap_or_default();
    if !is_ours(&host, app.port) {
        return Refusal::wrong_host().into_response();
    }
    let reading = matches!(*request.method(), Method::GET | Method::HEAD);
    if !reading && !sent_from_here(request.headers(), app.port) {
        return Refusal::other_site().into_response();
    }
    next.run(request).await
}

/// True for a page that was opened by hand or from one of our own: a link on another site chooses nothing for us.
pub(super) fn is_opened_from_here(headers: &HeaderMap) -> bool {
    text(headers, "sec-fetch-site").is_none_or(|site| site == "same-origin" || site == "none")
}

fn text(headers: &HeaderMap, name: &str) -> Option<String> {
    headers.get(name).map(|value| value.to_str().unwrap_or("?").to_owned())
}

fn is_ours(host: &str, port: u16) -> bool {
    ["127.0.0.1", "localhost", "[::1]"].iter().any(|name| {
        host.strip_prefix(name)
            .is_some_and(|rest| rest == format!(":{port}") || (rest.is_empty() && port == 80))
    })
}

/// Browsers say where a form was sent from. What says nothing at all (a command line) is no other site's page.
///
/// Our own forms come with the origin "null", because our pages tell browsers to say nothing of where they were sent
/// from; then the browser's own word on the site must be there.
fn sent_from_here(headers: &HeaderMap, port: u16) -> bool {
    let site = text(headers, "sec-fetch-site");
    let same_site = site.as_deref().map(|site| site == "same-origin" || site == "none");
    match text(headers, header::ORIGIN.as_str()).as_deref() {
        None => same_site.unwrap_or(true),
        Some("null") => same_site.unwrap_or(false),
        Some(origin) => {
            origin.strip_prefix("http://").is_some_and(|host| is_ours(host, port))
                && same_site.unwrap_or(true)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn refuses_what_another_page_sends() {
        let sent = |origin: Option<&str>, site: Option<&str>| {
            let mut headers = HeaderMap::new();
            for (name, value) in [("origin", origin), ("sec-fetch-site", site)] {
                if let Some(value) = value.and_then(|value| value.parse().ok()) {
                    headers.insert(name, value);
                }
            }
            sent_from_here(&headers, 7373)
        };
        assert!(sent(None, None));
        assert!(sent(Some("null"), Some("same-origin")));
        assert!(sent(Some("http://localhost:7373"), None));
        assert!(!sent(Some("null"), None));
        assert!(!sent(Some("null"), Some("cross-site")));
        assert!(!sent(Some("http://evil.example"), Some("same-origin")));
        assert!(!sent(Some("https://127.0.0.1:7373"), None));
    }

    #[test]
    fn refuses_hosts_that_only_look_like_ours() {
        for host in ["127.0.0.1:7373", "localhost:7373", "[::1]:7373"] {
            assert!(is_ours(host, 7373), "{host}");
        }
        for host in [
            "",
            "127.0.0.1",
            "127.0.0.1:80",
            "localhost.example:7373",
            "evil.example",
            "127.0.0.1:7373.example",
            "?",
        ] {
            assert!(!is_ours(host, 7373), "{host}");
        }
    }
}
