//! The comparison, asked without a socket.

use super::super::{App, router};
use axum::body::{Body, to_bytes};
use axum::http::{Request, StatusCode, header};
use engine::file::fields::fields_of;
use record::{Change, Owner, Record, VisitId};
use std::sync::Arc;
use tower::ServiceExt;

const HOST: &str = "127.0.0.1:7373";

/// The demo engine twice: a job card, and a build after a made-up job with a longer stroke and another reading.
fn record() -> (Record, VisitId, VisitId) {
    let record = Record::open_in_memory().unwrap();
    let (engine, build, first) = record.create_engine("Invented single", true).unwrap();
    let put = |owner: Owner, key: &str, text: &str| {
        let seen = record.fields(owner).unwrap().get(key).map(|field| field.version);
        let change = Change { key: key.to_owned(), text: text.to_owned(), based_on: seen };
        record.save_fields(owner, &[change]).unwrap();
    };
    for (key, text) in fields_of(engine::file::DEMO).unwrap() {
        let of_visit = ["found.", "gates.", "returns."].iter().any(|start| key.starts_with(start));
        put(if of_visit { first.into() } else { build.into() }, &key, &text);
    }
    let later = record.create_build(engine, "After the job", Some(build)).unwrap();
    let second = record.create_visit(later, "Second job card", Some(first)).unwrap();
    put(later.into(), "crank.stroke", "55.50 mm ± 0.02 mm");
    put(second.into(), "found.note", "<b>cable renewed</b>");
    (record, first, second)
}

async fn get(app: &axum::Router, path: &str) -> (StatusCode, String) {
    let request = Request::get(path).header(header::HOST, HOST).body(Body::empty()).unwrap();
    let response = app.clone().oneshot(request).await.unwrap();
    let status = response.status();
    let bytes = to_bytes(response.into_body(), 10_000_000).await.unwrap();
    (status, String::from_utf8_lossy(&bytes).replace('\u{a0}', " "))
}

#[tokio::test]
async fn agrees_the_page_shows_what_the_comparison_finds_in_order_of_time() {
    let (record, first, second) = record();
    let a = crate::job_card::fields_of_visit(&record, first).unwrap();
    let b = crate::job_card::fields_of_visit(&record, second).unwrap();
    let found = workshop::compare::compare(&a, &b, quantity::Units::Metric);
    assert!(!found.rows.is_empty());
    let app = router(Arc::new(App::new(7373, record).unwrap()));
    // Asked the wrong way round on purpose: the earlier one is on the left all the same.
    let (status, page) = get(&app, &format!("/compare?a=visit-{second}&b=visit-{first}")).await;
    assert_eq!(status, StatusCode::OK, "{page}");
    let shown = |text: &str| page.contains(&maud::html! { (text.replace('\u{a0}', " ")) }.into_string());
    for row in &found.rows {
        assert!(shown(&row.label), "{}", row.label);
        assert!(row.a.iter().chain(&row.b).all(|text| shown(text)), "{row:?}");
        assert!(row.difference.iter().all(|figure| shown(&figure.text)), "{row:?}");
    }
    assert!(found.words.iter().all(|words| shown(words)), "{:?}", found.words);
    assert!(page.contains("real"));
    assert!(!page.contains("<b>cable"), "what was typed must not become part of the page");
    let (status, again) = get(&app, "/compare?engine=1").await;
    assert_eq!(status, StatusCode::OK);
    assert!(again.contains("After the job, Second job card"), "the last two are offered");
}

#[tokio::test]
async fn refuses_addresses_that_name_nothing() {
    let (record, first, _) = record();
    let app = router(Arc::new(App::new(7373, record).unwrap()));
    let cases = [
        ("/compare", StatusCode::UNPROCESSABLE_ENTITY),
        ("/compare?a=visit-99&b=visit-1", StatusCode::NOT_FOUND),
        ("/compare?a=engine-1&b=visit-1", StatusCode::BAD_REQUEST),
        ("/compare?a=visit&b=visit-1", StatusCode::BAD_REQUEST),
        ("/compare?engine=77", StatusCode::NOT_FOUND),
    ];
    for (path, expected) in cases {
        let (status, page) = get(&app, path).await;
        assert_eq!(status, expected, "{path}: {page}");
        assert!(page.contains("<h1>") && !page.contains("panicked"), "{path}");
    }
    let (status, page) = get(&app, &format!("/compare?a=visit-{first}&b=visit-{first}")).await;
    assert_eq!(status, StatusCode::OK);
    assert!(page.contains("Both sides are the same"));
}
