//! The pages, asked without a socket.

mod bench;
mod listed;
mod power;
mod saved;

use super::*;
use crate::shelf::Kept;
use axum::body::{Body, to_bytes};
use axum::http::{Request, Response, StatusCode, header};
use engine::file::fields::fields_of;
use tower::ServiceExt;

const PORT: u16 = 7373;
const HOST: &str = "127.0.0.1:7373";

fn app() -> Router {
    router(Arc::new(App::new(PORT, Record::open_in_memory().unwrap()).unwrap()))
}

/// One answer with its body.
struct Got {
    status: StatusCode,
    headers: axum::http::HeaderMap,
    bytes: Vec<u8>,
}

impl Got {
    fn text(&self) -> String {
        String::from_utf8_lossy(&self.bytes).into_owned()
    }

    fn header(&self, name: header::HeaderName) -> &str {
        self.headers.get(name).and_then(|value| value.to_str().ok()).unwrap_or_default()
    }
}

async fn send(app: &Router, request: Request<Body>) -> Got {
    let response: Response<Body> = app.clone().oneshot(request).await.unwrap();
    let (parts, body) = response.into_parts();
    let bytes = to_bytes(body, 20_000_000).await.unwrap().to_vec();
    Got { status: parts.status, headers: parts.headers, bytes }
}

async fn get_page(app: &Router, path: &str) -> Got {
    send(app, Request::get(path).header(header::HOST, HOST).body(Body::empty()).unwrap()).await
}

/// A form with one field as a browser sends it.
fn form(field: &str, bytes: &[u8]) -> Request<Body> {
    let file = if field == "file" { "; filename=\"a.toml\"" } else { "" };
    let mut body =
        format!("--edge\r\nContent-Disposition: form-data; name=\"{field}\"{file}\r\n\r\n").into_bytes();
    body.extend_from_slice(bytes);
    body.extend_from_slice(b"\r\n--edge--\r\n");
    Request::post("/engine")
        .header(header::HOST, HOST)
        .header(header::ORIGIN, format!("http://{HOST}"))
        .header("sec-fetch-site", "same-origin")
        .header(header::CONTENT_TYPE, "multipart/form-data; boundary=edge")
        .body(Body::from(body))
        .unwrap()
}

/// Address of the demo engine's job card: it is the first in a new record.
const DEMO_CARD: &str = "/visit/1";

/// Sends a form as a browser does.
async fn post(app: &Router, path: &str, fields: &[(&str, &str)]) -> Got {
    let body = serde_urlencoded::to_string(fields).unwrap();
    let request = Request::post(path)
        .header(header::HOST, HOST)
        .header(header::ORIGIN, format!("http://{HOST}"))
        .header("sec-fetch-site", "same-origin")
        .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded");
    send(app, request.body(Body::from(body)).unwrap()).await
}

/// Sends a form that leads on to another page, and gives that page's address.
async fn led_to(app: &Router, path: &str, fields: &[(&str, &str)]) -> String {
    let got = post(app, path, fields).await;
    assert_eq!(got.status, StatusCode::SEE_OTHER, "{path}: {}", got.text());
    got.header(header::LOCATION).to_owned()
}

#[tokio::test]
async fn regress_the_setting_of_the_demo_is_whole() {
    let app = app();
    let got = get_page(&app, "/visit/1/setting").await;
    assert_eq!(got.status, StatusCode::OK);
    let (page, kept) = (got.text(), Kept::read(engine::file::DEMO.as_bytes()).ok().unwrap());
    let report = &kept.answer(quantity::Units::Metric).report;
    let page = page.replace('\u{a0}', " ");
    let shown = |text: &str| page.contains(&maud::html! { (text) }.into_string());
    assert!(shown(&report.headline), "no headline");
    assert!(shown(&report.matters));
    for step in &report.steps {
        assert!(shown(&step.title) && shown(&step.action), "{}", step.title);
    }
    for value in &report.returns {
        assert!(shown(&value.figure.text), "{}", value.name);
    }
    assert!(page.contains("Invented engine, invented figures"));
    // Gear, port, travel curve, areas and both ends are drawn, with something in them.
    assert!(page.matches("<svg xmlns").count() >= 5);
    assert!(page.matches("<path").count() > 20);
    assert!(page.contains("type=\"range\"") && page.contains("aria-live=\"polite\""));
}

#[tokio::test]
async fn regress_every_address_of_a_job_card_answers() {
    let app = app();
    let at = DEMO_CARD;
    for (path, kind) in [
        ("", "text/html"),
        ("/setting", "text/html"),
        ("/step/crank", "text/html"),
        ("/step/ports", "text/html"),
        ("/step/returns", "text/html"),
        ("/sketch?key=crank.bore", "text/html"),
        ("/edit", "text/html"),
        ("/sheet", "text/html"),
        ("/drawing?which=found&travel=20&crank=90", "text/html"),
        ("/file", "application/toml"),
        ("/returns.toml", "application/toml"),
        ("/report.json", "application/json"),
        ("/sheet.pdf", "application/pdf"),
    ] {
        let got = get_page(&app, &format!("{at}{path}")).await;
        assert_eq!(got.status, StatusCode::OK, "{path}: {}", got.text());
        assert!(got.header(header::CONTENT_TYPE).starts_with(kind), "{path}");
        assert_eq!(kind == "application/pdf", got.bytes.starts_with(b"%PDF-"), "{path}");
    }
    let file = get_page(&app, &format!("{at}/file")).await.text();
    assert_eq!(fields_of(&file).unwrap(), fields_of(engine::file::DEMO).unwrap());
    let report: serde_json::Value =
        serde_json::from_slice(&get_page(&app, &format!("{at}/report.json")).await.bytes).unwrap();
    assert!(report["steps"].as_array().is_some_and(|steps| !steps.is_empty()));
    let returns = get_page(&app, &format!("{at}/returns.toml")).await;
    assert!(Kept::read(&returns.bytes).is_ok_and(|kept| kept.reading.engine.returns.is_some()));
}

#[tokio::test]
async fn regress_the_drawing_follows_the_sliders() {
    let app = app();
    let at = DEMO_CARD;
    let drawing = async |query: &str| get_page(&app, &format!("{at}/drawing?{query}")).await.text();
    let (low, high) = (drawing("travel=5&crank=90").await, drawing("travel=60&crank=90").await);
    assert_ne!(low, high);
    assert!(low.contains("Actuator 5.0°"), "{low}");
    assert_ne!(drawing("travel=60&crank=170").await, high);
    assert_ne!(drawing("travel=60&crank=90&which=found").await, high);
    // What is no number, or far out of range, is drawn at a place that exists.
    for odd in ["travel=NaN&crank=inf", "travel=-9e99&crank=abc", "travel=&which=", "travel=1e300"] {
        let got = get_page(&app, &format!("{at}/drawing?{odd}")).await;
        assert_eq!(got.status, StatusCode::OK, "{odd}");
        assert!(!got.text().contains("NaN"), "{odd}");
    }
}

#[tokio::test]
async fn round_trips_units_and_colours_through_the_record() {
    let record = Record::open_in_memory().unwrap();
    let shared = Arc::new(App::new(PORT, record).unwrap());
    let (app, at) = (router(Arc::clone(&shared)), format!("{DEMO_CARD}/setting"));
    let file = get_page(&app, "/visit/1/file").await.text();
    let metric = get_page(&app, &at).await.text();
    let inch = get_page(&app, &format!("{at}?units=inch")).await.text();
    assert!(inch.contains("\u{202f}in") || inch.contains(" in<"), "no inches shown");
    assert_eq!(get_page(&app, &at).await.text(), inch);
    assert_eq!(shared.record.choice("units").unwrap().as_deref(), Some("inch"));
    assert_eq!(choices::remembered(&shared.record).unwrap().units, quantity::Units::Inch);
    // A page of another site chooses nothing, whatever it links to.
    let linked = Request::get(format!("{at}?units=metric&theme=dark"))
        .header(header::HOST, HOST)
        .header("sec-fetch-site", "cross-site");
    send(&app, linked.body(Body::empty()).unwrap()).await;
    assert_eq!(get_page(&app, &at).await.text(), inch);
    assert_eq!(get_page(&app, &format!("{at}?units=metric")).await.text(), metric);
    assert_eq!(get_page(&app, "/visit/1/file").await.text(), file, "units must not touch what was entered");
}

#[tokio::test]
async fn refuses_a_file_with_errors_and_gives_it_back_whole() {
    let app = app();
    let text = engine::file::DEMO.replacen("bore = \"", "bore = \"-", 1);
    for field in ["file", "text"] {
        let got = send(&app, form(field, text.as_bytes())).await;
        assert_eq!(got.status, StatusCode::UNPROCESSABLE_ENTITY);
        let page = got.text();
        let line = text.lines().position(|line| line.starts_with("bore = \"-")).unwrap() + 1;
        assert!(page.contains(&format!("Line {line}")), "the line must be named");
        assert!(page.contains("crank.bore"));
        let inside = page.split_once("<textarea").and_then(|(_, rest)| rest.split_once('>')).unwrap().1;
        let given = inside.split_once("</textarea>").unwrap().0;
        assert_eq!(given, maud::html! { "\n" (text) }.into_string(), "the text must come back as it was");
    }
}

#[tokio::test]
async fn refuses_noise_of_every_kind() {
    let app = app();
    let noise: Vec<u8> = (0..900_000u32).map(|n| (n.wrapping_mul(2_654_435_761) >> 13) as u8).collect();
    let empty: &[u8] = b"";
    for bytes in [empty, b"\0\0\0", b"\xff\xfe\x00", b"]]]]", &noise] {
        let got = send(&app, form("file", bytes)).await;
        assert_eq!(got.status, StatusCode::UNPROCESSABLE_ENTITY, "{:?}", &bytes[..bytes.len().min(9)]);
        assert!(got.text().contains("to mend"));
    }
    let got = send(&app, form("file", &vec![b'a'; 10_000_000])).await;
    assert_eq!(got.status, StatusCode::PAYLOAD_TOO_LARGE);
    assert!(got.text().contains("larger than 1 MB"));
    let bare = Request::post("/engine").header(header::HOST, HOST).body(Body::from("x")).unwrap();
    assert_eq!(send(&app, bare).await.status, StatusCode::BAD_REQUEST);
}

#[tokio::test]
async fn refuses_other_hosts_and_other_sites() {
    let app = app();
    let elsewhere = Request::get("/").header(header::HOST, "evil.example").body(Body::empty()).unwrap();
    let got = send(&app, elsewhere).await;
    assert_eq!(got.status, StatusCode::MISDIRECTED_REQUEST);
    assert!(!got.text().contains("Invented 125"), "nothing may be read through another name");
    assert_eq!(
        send(&app, Request::get("/").body(Body::empty()).unwrap()).await.status,
        StatusCode::MISDIRECTED_REQUEST
    );
    for (name, value) in [
        ("origin", "http://evil.example"),
        ("origin", "http://127.0.0.1:8080"),
        ("sec-fetch-site", "cross-site"),
        ("sec-fetch-site", "same-site"),
    ] {
        let mut request = form("text", engine::file::DEMO.as_bytes());
        request.headers_mut().insert(name, value.parse().unwrap());
        assert_eq!(send(&app, request).await.status, StatusCode::FORBIDDEN, "{name}: {value}");
    }
}

#[tokio::test]
async fn refuses_what_is_not_there_with_a_sentence() {
    let app = app();
    for (method, path, status) in [
        ("GET", "/nothing", StatusCode::NOT_FOUND),
        ("GET", "/engine/99", StatusCode::NOT_FOUND),
        ("GET", "/visit/99/setting", StatusCode::NOT_FOUND),
        ("GET", "/visit/99/step/crank", StatusCode::NOT_FOUND),
        ("GET", "/visit/1/step/setting", StatusCode::NOT_FOUND),
        ("GET", "/result/1/setting", StatusCode::NOT_FOUND),
        ("GET", "/visit/..%2f..%2fetc/sheet", StatusCode::NOT_FOUND),
        ("GET", "/visit/%ff/sheet", StatusCode::NOT_FOUND),
        ("GET", "/visit/abc/file", StatusCode::BAD_REQUEST),
        ("GET", "/?name=1&name=2", StatusCode::BAD_REQUEST),
        ("GET", "/visit/1/rename", StatusCode::METHOD_NOT_ALLOWED),
        ("GET", "/assets/secret", StatusCode::NOT_FOUND),
        ("DELETE", "/", StatusCode::METHOD_NOT_ALLOWED),
        ("PUT", "/engine", StatusCode::METHOD_NOT_ALLOWED),
    ] {
        let request = Request::builder().method(method).uri(path).header(header::HOST, HOST);
        let got = send(&app, request.body(Body::empty()).unwrap()).await;
        assert_eq!(got.status, status, "{method} {path}");
        assert!(got.text().contains("class=\"lead\""), "{method} {path} needs a sentence");
    }
}

#[tokio::test]
async fn regress_every_answer_is_hardened_and_nothing_comes_from_elsewhere() {
    let app = app();
    let at = DEMO_CARD;
    for path in [
        "/".to_owned(),
        "/nothing".to_owned(),
        "/help".to_owned(),
        at.to_owned(),
        format!("{at}/setting"),
        format!("{at}/step/ports"),
        format!("{at}/sheet"),
        format!("{at}/edit"),
    ] {
        let got = get_page(&app, &path).await;
        let policy = got.header(header::CONTENT_SECURITY_POLICY).to_owned();
        assert!(policy.contains("default-src 'none'") && !policy.contains("unsafe"), "{policy}");
        assert_eq!(got.header(header::X_CONTENT_TYPE_OPTIONS), "nosniff");
        assert_eq!(got.header(header::REFERRER_POLICY), "no-referrer");
        let page = got.text();
        assert!(
            !page.contains(" style=") && !page.contains("<style"),
            "{path}: the policy forbids inline style"
        );
        assert!(!page.contains("<script>") && !page.contains(" onclick"), "{path}");
        let elsewhere = page.replace("http://www.w3.org/2000/svg", "");
        assert!(!elsewhere.contains("https://") && !elsewhere.contains("http://"), "{path}");
    }
}

#[tokio::test]
async fn regress_help_explains_every_key() {
    let page = get_page(&app(), "/help").await.text();
    for section in engine::file::spec().sections {
        for key in section.keys {
            assert!(page.contains(&format!("<code>{}</code>", key.name)), "{}.{}", section.path, key.name);
        }
    }
}

#[tokio::test]
async fn regress_assets_are_all_there() {
    let app = app();
    let page = get_page(&app, "/").await.text();
    assert!(page.contains("Invented 125"), "{page}");
    let addresses: Vec<&str> = page.split('"').filter(|part| part.starts_with("/assets/")).collect();
    assert!(addresses.len() >= 4);
    for address in addresses {
        assert_eq!(get_page(&app, address).await.status, StatusCode::OK, "{address}");
    }
    for script in [
        "moving.js",
        "readout.js",
        "drop.js",
        "editor.js",
        "paper.js",
        "fields.js",
        "unsent.js",
        "sketches.js",
    ] {
        let got = get_page(&app, &format!("/assets/{script}")).await;
        assert!(got.header(header::CONTENT_TYPE).starts_with("text/javascript"), "{script}");
    }
}

#[tokio::test]
async fn regress_a_taken_port_is_told_apart() {
    let first = Door::open(0).await.unwrap();
    let second = Door::open(first.port()).await.unwrap();
    assert_ne!(first.port(), second.port());
    assert!(second.address().starts_with("http://127.0.0.1:"));
}
