//! Pictures, sent and asked for without a socket.

use super::super::{App, router};
use axum::body::{Body, to_bytes};
use axum::http::{HeaderMap, Request, StatusCode, header};
use record::{PictureId, Record, VisitId};
use std::sync::Arc;
use tower::ServiceExt;

const HOST: &str = "127.0.0.1:7373";

struct Got {
    status: StatusCode,
    headers: HeaderMap,
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

fn app() -> (Arc<App>, axum::Router, VisitId) {
    let record = Record::open_in_memory().unwrap();
    let (_, _, visit) = record.create_engine("Invented single", true).unwrap();
    let app = Arc::new(App::new(7373, record).unwrap());
    (Arc::clone(&app), router(app), visit)
}

async fn send(router: &axum::Router, request: Request<Body>) -> Got {
    let (parts, body) = router.clone().oneshot(request).await.unwrap().into_parts();
    let bytes = to_bytes(body, 20_000_000).await.unwrap().to_vec();
    Got { status: parts.status, headers: parts.headers, bytes }
}

async fn get(router: &axum::Router, path: &str) -> Got {
    send(router, Request::get(path).header(header::HOST, HOST).body(Body::empty()).unwrap()).await
}

async fn post(router: &axum::Router, path: &str, form: &str) -> Got {
    let request = Request::post(path)
        .header(header::HOST, HOST)
        .header(header::ORIGIN, format!("http://{HOST}"))
        .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded");
    send(router, request.body(Body::from(form.to_owned())).unwrap()).await
}

fn upload(visit: VisitId, step: &str, photo: &[u8], origin: &str) -> Request<Body> {
    let mut body = format!(
        "--edge\r\nContent-Disposition: form-data; name=\"step\"\r\n\r\n{step}\r\n--edge\r\nContent-Disposition: \
         form-data; name=\"caption\"\r\n\r\n<edge> of the blade\r\n--edge\r\nContent-Disposition: form-data; \
         name=\"photo\"; filename=\"a.jpg\"\r\nContent-Type: image/jpeg\r\n\r\n"
    )
    .into_bytes();
    body.extend_from_slice(photo);
    body.extend_from_slice(b"\r\n--edge--\r\n");
    Request::post(format!("/visit/{visit}/pictures"))
        .header(header::HOST, HOST)
        .header(header::ORIGIN, origin)
        .header(header::CONTENT_TYPE, "multipart/form-data; boundary=edge")
        .body(Body::from(body))
        .unwrap()
}

fn ours(visit: VisitId, step: &str, photo: &[u8]) -> Request<Body> {
    upload(visit, step, photo, &format!("http://{HOST}"))
}

fn png(width: u32, height: u32) -> Vec<u8> {
    let picture = image::RgbImage::from_fn(width, height, |x, y| {
        image::Rgb([(x % 251) as u8, (y % 241) as u8, ((x * y) % 239) as u8])
    });
    let mut bytes = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut bytes, image::ImageFormat::Png).unwrap();
    bytes.into_inner()
}

#[tokio::test]
async fn round_trips_a_photo_with_text_sheet_delete_and_undo() {
    let (app, router, visit) = app();
    let kept = send(&router, ours(visit, "as-found", &png(1800, 900))).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.text());
    assert_eq!(kept.header(header::LOCATION), format!("/visit/{visit}/pictures?step=as-found#picture-1"));
    let line = app.record.picture(PictureId(1)).unwrap().line;
    assert_eq!((line.width, line.height, line.step.as_str()), (1600, 800, "as-found"));
    let address = format!("/visit/{visit}/pictures");
    let page = get(&router, &address).await.text();
    assert!(page.contains("capture=\"environment\"") && page.contains("accept=\"image/*\""));
    assert!(page.contains("/picture/1/small") && page.contains("&lt;edge&gt; of the blade"));
    assert!(page.contains("is dropped"), "the page says what becomes of the place");

    let whole = get(&router, "/picture/1").await;
    assert_eq!(whole.header(header::CONTENT_TYPE), "image/jpeg");
    assert_eq!(whole.header(header::X_CONTENT_TYPE_OPTIONS), "nosniff");
    let small = image::load_from_memory(&get(&router, "/picture/1/small").await.bytes).unwrap();
    assert_eq!((small.width(), small.height()), (320, 160));

    post(&router, "/picture/1/caption", "caption=blade+as+found").await;
    let sheet = || super::on_sheet(&app.record, visit).unwrap().into_string();
    assert!(sheet().is_empty(), "not printed before it is asked for");
    post(&router, "/picture/1/sheet", "on=yes").await;
    assert!(sheet().contains("blade as found") && sheet().contains("src=\"/picture/1\""), "{}", sheet());
    let gone = post(&router, "/picture/1/delete", "").await;
    assert_eq!(gone.header(header::LOCATION), format!("{address}?deleted=1"));
    assert!(sheet().is_empty());
    let page = get(&router, &format!("{address}?deleted=1")).await.text();
    assert!(page.contains("/picture/1/undelete") && !page.contains("/picture/1/small"));
    post(&router, "/picture/1/undelete", "").await;
    assert!(sheet().contains("blade as found"));
    post(&router, "/picture/1/sheet", "").await;
    assert!(sheet().is_empty());
}

#[tokio::test]
async fn refuses_hostile_and_wrong_uploads_with_one_sentence_and_keeps_nothing() {
    let (app, router, visit) = app();
    let whole = png(200, 200);
    let cases: [(&str, &[u8], &str); 6] = [
        ("as-found", b"<svg xmlns='http://www.w3.org/2000/svg'><script/></svg>", "no photo of a kind"),
        ("as-found", b"", "No photo was sent"),
        ("as-found", &whole[..whole.len() / 2], "cut short or broken"),
        ("as-found", &vec![0xFF; 12_000_001], "larger than 12 MB"),
        ("as-found", &vec![0xFF; 13_000_000], "larger than 12 MB"),
        ("no-step", &whole, "which step"),
    ];
    for (step, photo, words) in cases {
        let got = send(&router, ours(visit, step, photo)).await;
        assert_eq!(got.status, StatusCode::UNPROCESSABLE_ENTITY, "{words}: {}", got.text());
        assert!(got.text().contains(words), "{words}: {}", got.text());
    }
    let got = send(&router, upload(visit, "as-found", &whole, "http://evil.example")).await;
    assert_eq!(got.status, StatusCode::FORBIDDEN);
    let got = send(&router, ours(VisitId(99), "as-found", &whole)).await;
    assert_eq!(got.status, StatusCode::NOT_FOUND);
    assert!(app.record.pictures(visit).unwrap().is_empty());
    assert_eq!(get(&router, "/picture/1").await.status, StatusCode::NOT_FOUND);
    assert_eq!(post(&router, "/picture/1/delete", "").await.status, StatusCode::NOT_FOUND);
}
