//! What is typed into forms: saved as it is left, never lost, never written over in silence.

use super::*;
use serde_json::Value;

async fn leave(app: &Router, key: &str, text: &str, version: &str, step: &str) -> Value {
    let fields = [("key", key), ("text", text), ("version", version), ("step", step)];
    let got = post(app, "/visit/1/field", &fields).await;
    assert_eq!(got.status, StatusCode::OK, "{}", got.text());
    serde_json::from_slice(&got.bytes).unwrap()
}

#[tokio::test]
async fn round_trips_a_field_and_says_how_it_was_understood() {
    let app = app();
    let told = leave(&app, "crank.bore", "54.2 ± 0.1 mm", "1", "crank").await;
    assert_eq!((told["version"].as_i64(), told["clash"].is_null()), (Some(2), true));
    let note = told["notes"]["crank.bore"][0].as_str().unwrap();
    assert!(note.contains("Read as") && note.contains("54.2"), "{note}");
    let page = get_page(&app, "/visit/1/step/crank").await.text();
    assert!(page.contains("value=\"54.2 ± 0.1 mm\"") && page.contains("name=\"v:crank.bore\" value=\"2\""));
    // The same again is no new version.
    assert_eq!(leave(&app, "crank.bore", "54.2 ± 0.1 mm", "2", "crank").await["version"], 2);
}

#[tokio::test]
async fn regress_a_wrong_text_is_kept_and_shown_with_its_problem() {
    let app = app();
    let told = leave(&app, "crank.bore", "<b>54", "1", "crank").await;
    let note = told["notes"]["crank.bore"][0].as_str().unwrap();
    assert!(note.contains("said bad") && !note.contains("<b>"), "{note}");
    let page = get_page(&app, "/visit/1/step/crank").await.text();
    assert!(page.contains("value=\"&lt;b&gt;54\"") && page.contains("said bad"), "{page}");
    assert!(get_page(&app, DEMO_CARD).await.text().contains("1 wrong"));
    let nothing = [("key", "no.such"), ("text", ""), ("version", ""), ("step", "crank")];
    assert_eq!(post(&app, "/visit/1/field", &nothing).await.status, StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test]
async fn refuses_to_write_over_what_another_page_saved() {
    let app = app();
    leave(&app, "crank.bore", "55.0 mm", "1", "crank").await;
    let told = leave(&app, "crank.bore", "56.0 mm", "1", "crank").await;
    assert_eq!((told["clash"]["text"].as_str(), told["version"].as_i64()), (Some("55.0 mm"), Some(2)));
    assert!(get_page(&app, "/visit/1/step/crank").await.text().contains("value=\"55.0 mm\""));
    // Whoever has seen both texts may choose.
    assert_eq!(leave(&app, "crank.bore", "56.0 mm", "2", "crank").await["version"], 3);
}

#[tokio::test]
async fn refuses_the_same_without_scripts_and_shows_both_texts() {
    let app = app();
    leave(&app, "crank.bore", "55.0 mm", "1", "crank").await;
    leave(&app, "crank.stroke", "54.0 mm", "1", "crank").await;
    // The stroke was not touched on this page: that it changed elsewhere is no clash.
    let untouched = fields_of(engine::file::DEMO).unwrap()["crank.stroke"].clone();
    let mut sent = vec![
        ("t:crank.bore", "56.0 mm"),
        ("v:crank.bore", "1"),
        ("t:crank.stroke", untouched.as_str()),
        ("v:crank.stroke", "1"),
        ("t:crank.rod_length", "111 mm"),
        ("v:crank.rod_length", "1"),
    ];
    let got = post(&app, "/visit/1/step/crank", &sent).await;
    assert_eq!(got.status, StatusCode::CONFLICT);
    let page = got.text();
    assert!(page.contains("value=\"56.0 mm\"") && page.contains("<q>55.0 mm</q>"), "{page}");
    assert!(page.contains("theirs:crank.bore") && !page.contains("theirs:crank.stroke"));
    let file = get_page(&app, "/visit/1/file").await.text();
    assert!(file.contains("bore = \"55.0 mm\"") && file.contains("stroke = \"54.0 mm\""), "{file}");
    // The page that came back carries the version seen there, so sending it again keeps one's own text.
    assert!(page.contains("name=\"v:crank.bore\" value=\"2\""));
    sent[1].1 = "2";
    sent[3].1 = "2";
    sent[2].1 = "54.0 mm";
    sent[5].1 = "2";
    assert_eq!(led_to(&app, "/visit/1/step/crank", &sent).await, "/visit/1/step/crank");
    assert!(get_page(&app, "/visit/1/file").await.text().contains("bore = \"56.0 mm\""));
}

#[tokio::test]
async fn round_trips_a_whole_form_with_wrong_texts() {
    let app = app();
    let sent = [
        ("t:crank.bore", "wide"),
        ("v:crank.bore", "1"),
        ("t:engine.note", "one\r\ntwo"),
        ("v:engine.note", "1"),
        ("go", "next"),
    ];
    assert_eq!(led_to(&app, "/visit/1/step/crank", &sent).await, "/visit/1/step/ports");
    let page = get_page(&app, "/visit/1/step/crank").await.text();
    assert!(page.contains("value=\"wide\"") && page.contains("said bad") && page.contains("one\ntwo"));
}

#[tokio::test]
async fn round_trips_ports_that_are_moved_and_removed() {
    let app = app();
    let file = async || get_page(&app, "/visit/1/file").await.text();
    let before = file().await;
    let act = async |act: &str| led_to(&app, "/visit/1/ports", &[("act", act)]).await;
    act("down 1").await;
    assert_ne!(file().await, before);
    act("up 2").await;
    assert_eq!(file().await, before);
    assert_eq!(act("remove 1").await, "/visit/1/step/ports#removed");
    assert!(get_page(&app, "/visit/1/step/ports").await.text().contains("Bring back port 1"));
    act("restore 1").await;
    assert_eq!(file().await, before, "with its place among the ports that the valve covers");
    act("add transfer").await;
    assert_ne!(file().await, before);
    let odd = post(&app, "/visit/1/ports", &[("act", "burn 1")]).await;
    assert_eq!(odd.status, StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test]
async fn round_trips_the_return_values_to_the_next_job_card() {
    let app = app();
    assert_eq!(led_to(&app, "/visit/1/returns/keep", &[]).await, "/visit/1/step/returns");
    let report: Value = serde_json::from_slice(&get_page(&app, "/visit/1/report.json").await.bytes).unwrap();
    let kept = fields_of(&get_page(&app, "/visit/1/file").await.text()).unwrap();
    let wanted = report["returns"].as_array().unwrap();
    assert!(!wanted.is_empty());
    assert!(wanted.len() <= kept.keys().filter(|key| key.starts_with("returns.")).count());
    let next = led_to(&app, "/build/1/visit", &[]).await;
    let copied = fields_of(&get_page(&app, &format!("{next}/file")).await.text()).unwrap();
    for (key, text) in kept.iter().filter(|(key, _)| key.starts_with("returns.")) {
        assert_eq!(copied.get(key), Some(text), "{key}");
    }
}

#[tokio::test]
async fn round_trips_an_odd_figure_that_is_right() {
    let app = app();
    let told = leave(&app, "crank.bore", "154.0 mm", "1", "crank").await;
    assert!(told["notes"]["crank.bore"][0].as_str().unwrap().contains("checked and is right"));
    let page = get_page(&app, "/visit/1/setting").await.text();
    assert!(page.contains("Questions first") && page.contains("/visit/1/step/crank#field-crank-bore"));
    led_to(&app, "/visit/1/sure", &[("key", "crank.bore")]).await;
    assert!(get_page(&app, "/visit/1/file").await.text().contains("sure = [\"crank.bore\"]"));
    assert!(!get_page(&app, "/visit/1/step/crank").await.text().contains("value=\"crank.bore\""));
}

#[tokio::test]
async fn refuses_other_sites_on_every_address_that_changes_something() {
    let app = app();
    for path in [
        "/engine/new",
        "/engine/1/rename",
        "/engine/1/delete",
        "/engine/1/undelete",
        "/engine/1/build",
        "/build/1/visit",
        "/visit/1/field",
        "/visit/1/step/crank",
        "/visit/1/ports",
        "/visit/1/sure",
        "/visit/1/keep",
        "/visit/1/returns/keep",
        "/visit/1/edit",
        "/visit/1/entries",
        "/visit/1/normal/keep",
        "/bench/own",
    ] {
        let request = Request::post(path)
            .header(header::HOST, HOST)
            .header(header::ORIGIN, "http://evil.example")
            .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded");
        let got = send(&app, request.body(Body::from("name=x")).unwrap()).await;
        assert_eq!(got.status, StatusCode::FORBIDDEN, "{path}");
        let large = Request::post(path)
            .header(header::HOST, HOST)
            .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded");
        let got = send(&app, large.body(Body::from(vec![b'a'; 3_000_000])).unwrap()).await;
        assert_ne!(got.status, StatusCode::OK, "{path}");
    }
    assert!(get_page(&app, "/").await.text().contains("Invented 125"));
}

#[tokio::test]
async fn round_trips_notes_and_ticks_of_a_job_card() {
    let app = app();
    leave(&app, "notes", "Blade was <b>sticky</b>.\nNew gasket.", "", "plain").await;
    let path = get_page(&app, DEMO_CARD).await.text();
    assert!(path.contains("Blade was &lt;b&gt;sticky&lt;/b&gt;."), "{path}");
    let sheet = get_page(&app, "/visit/1/sheet").await.text();
    assert!(sheet.contains("<p>New gasket.</p>"), "{sheet}");
    let page = get_page(&app, "/visit/1/setting").await.text();
    let key = page.split("name=\"t:done.").nth(1).and_then(|rest| rest.split('"').next()).unwrap().to_owned();
    let box_of = |page: &str| {
        let from = page.find(&format!("name=\"t:done.{key}\"")).unwrap();
        page[from..].split('>').next().unwrap().contains("checked")
    };
    assert!(!box_of(&page));
    leave(&app, &format!("done.{key}"), "yes", "", "plain").await;
    assert!(box_of(&get_page(&app, "/visit/1/setting").await.text()));
    // The engine file and the way of the work know nothing of either.
    assert!(!get_page(&app, "/visit/1/file").await.text().contains("sticky"));
    assert!(get_page(&app, DEMO_CARD).await.text().contains("complete"));
}

#[tokio::test]
async fn round_trips_notes_without_scripts() {
    let app = app();
    let sent = [("t:notes", "First."), ("v:notes", "")];
    assert_eq!(led_to(&app, "/visit/1/entries", &sent).await, "/visit/1");
    let late = [("t:notes", "Second."), ("v:notes", "")];
    assert_eq!(post(&app, "/visit/1/entries", &late).await.status, StatusCode::CONFLICT);
    let away = [("t:notes", "First."), ("v:notes", "1"), ("back", "//example.org/")];
    assert_eq!(led_to(&app, "/visit/1/entries", &away).await, "/visit/1");
}
