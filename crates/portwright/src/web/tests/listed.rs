//! The list of engines, builds and job cards, and what is kept of a setting.

use super::*;

#[tokio::test]
async fn regress_a_new_record_lists_the_invented_demo_once() {
    let app = app();
    let page = get_page(&app, "/").await.text();
    assert!(page.contains("Invented 125") && page.contains("invented") && page.contains("First job card"));
    assert_eq!(page.matches("href=\"/engine/1\"").count(), 1);
}

#[tokio::test]
async fn round_trips_an_engine_described_from_nothing() {
    let app = app();
    let card = led_to(&app, "/engine/new", &[("name", "Blue <125>")]).await;
    assert_eq!(card, "/visit/2");
    let path = get_page(&app, &card).await.text();
    assert!(path.contains("<h1>Blue &lt;125&gt;</h1>") && path.contains("needed"), "{path}");
    // What cannot be worked out yet says so and leads to what is missing.
    let got = get_page(&app, &format!("{card}/setting")).await;
    assert_eq!(got.status, StatusCode::CONFLICT);
    assert!(got.text().contains("missing or wrong") && got.text().contains("href=\"/visit/2\""));
    let list = get_page(&app, "/").await.text();
    assert!(list.contains("Blue &lt;125&gt;") && list.contains(" open"), "{list}");
    // With every entry of the demo it has the demo's answer.
    let (file, seen) = (get_page(&app, &format!("{card}/edit")).await.text(), "name=\"seen\" value=\"");
    let seen = file.split_once(seen).and_then(|(_, rest)| rest.split_once('"')).unwrap().0.to_owned();
    let text = engine::file::DEMO.replace('\n', "\r\n");
    assert_eq!(led_to(&app, &format!("{card}/edit"), &[("text", &text), ("seen", &seen)]).await, card);
    let report = async |card: &str| get_page(&app, &format!("{card}/report.json")).await.text();
    assert_eq!(report(&card).await, report(DEMO_CARD).await);
    // The text in hand was seen before that: a second one is not written over it.
    let late = post(&app, &format!("{card}/edit"), &[("text", "portwright = 1\n"), ("seen", &seen)]).await;
    assert_eq!(late.status, StatusCode::CONFLICT);
    assert!(late.text().contains("changed elsewhere") && late.text().contains("portwright = 1"));
    assert_eq!(report(&card).await, report(DEMO_CARD).await);
}

#[tokio::test]
async fn round_trips_a_file_with_errors_that_is_added_as_it_is() {
    let app = app();
    let text = engine::file::DEMO.replacen("bore = \"", "bore = \"-", 1);
    let got = send(&app, form("file", text.as_bytes())).await;
    assert_eq!(got.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(got.text().contains("mend it in the forms"));
    assert!(!get_page(&app, "/").await.text().contains("/engine/2"), "nothing is added before one says so");
    let mut request = form("text", text.as_bytes());
    let mut body = b"--edge\r\nContent-Disposition: form-data; name=\"anyway\"\r\n\r\nyes\r\n".to_vec();
    body.extend(to_bytes(std::mem::take(request.body_mut()), 1_000_000).await.unwrap());
    *request.body_mut() = Body::from(body);
    let got = send(&app, request).await;
    assert_eq!(got.header(header::LOCATION), "/visit/2");
    let page = get_page(&app, "/visit/2").await.text();
    assert!(page.contains("1 wrong") && page.contains("#field-crank-bore"), "{page}");
    assert!(get_page(&app, "/visit/2/step/crank").await.text().contains("value=\"-54"));
}

#[tokio::test]
async fn round_trips_what_is_deleted() {
    let app = app();
    assert_eq!(led_to(&app, "/build/1/visit", &[("name", "Spring")]).await, "/visit/2");
    assert_eq!(led_to(&app, "/visit/2/delete", &[]).await, "/engine/1#builds");
    let page = get_page(&app, "/engine/1").await.text();
    assert!(page.contains("action=\"/visit/2/undelete\"") && !page.contains("href=\"/visit/2\""));
    assert_eq!(led_to(&app, "/visit/2/undelete", &[]).await, "/visit/2");
    assert!(get_page(&app, "/engine/1").await.text().contains("href=\"/visit/2\""));
    assert_eq!(led_to(&app, "/engine/1/delete", &[]).await, "/#deleted");
    let list = get_page(&app, "/").await.text();
    assert!(list.contains("action=\"/engine/1/undelete\"") && list.contains("No engine yet"), "{list}");
    assert_eq!(get_page(&app, "/engine/1").await.status, StatusCode::OK);
    assert_eq!(led_to(&app, "/engine/1/undelete", &[]).await, "/engine/1");
    assert!(get_page(&app, "/").await.text().contains("href=\"/engine/1\""));
}

#[tokio::test]
async fn regress_a_new_build_has_the_description_and_the_return_values_of_the_last() {
    let app = app();
    led_to(&app, "/visit/1/returns/keep", &[]).await;
    let card = led_to(&app, "/engine/1/build", &[("name", "New cylinder")]).await;
    assert_eq!(card, "/visit/2");
    let file = get_page(&app, &format!("{card}/file")).await.text();
    let (fields, demo) = (fields_of(&file).unwrap(), fields_of(engine::file::DEMO).unwrap());
    for (key, text) in &demo {
        let described = !["found", "gates", "returns"].contains(&key.split('.').next().unwrap_or_default());
        assert_eq!(fields.get(key).filter(|_| described), Some(text).filter(|_| described), "{key}");
    }
    assert!(fields.keys().any(|key| key.starts_with("returns.")));
    assert!(!fields.keys().any(|key| key.starts_with("found.")), "readings are taken anew");
    // A name given in one place stands in all.
    led_to(&app, "/engine/1/rename", &[("name", "Old Nelly")]).await;
    for card in [DEMO_CARD, "/visit/2"] {
        assert!(get_page(&app, &format!("{card}/file")).await.text().contains("name = \"Old Nelly\""));
    }
}

#[tokio::test]
async fn round_trips_a_kept_answer_after_the_entries_were_changed() {
    let app = app();
    let before = get_page(&app, "/visit/1/report.json").await.text();
    assert_eq!(led_to(&app, "/visit/1/keep", &[]).await, "/visit/1#results");
    led_to(&app, "/visit/1/keep", &[]).await;
    let page = get_page(&app, DEMO_CARD).await.text();
    assert_eq!(page.matches("/result/1/setting").count(), 1, "the same is kept once");
    assert!(!page.contains("/result/2"));
    let spoilt = [("key", "crank.bore"), ("text", "5"), ("version", "1"), ("step", "crank")];
    assert_eq!(post(&app, "/visit/1/field", &spoilt).await.status, StatusCode::OK);
    assert_eq!(get_page(&app, "/visit/1/setting").await.status, StatusCode::CONFLICT);
    assert_eq!(get_page(&app, "/result/1/report.json").await.text(), before);
    let kept = get_page(&app, "/result/1/setting").await.text();
    assert!(kept.contains("Kept on ") && !kept.contains("Keep this answer"), "a kept result does not change");
    assert_eq!(get_page(&app, "/result/1/sheet").await.status, StatusCode::OK);
    assert_eq!(get_page(&app, "/result/1").await.header(header::LOCATION), "/result/1/setting");
}

#[tokio::test]
async fn regress_a_printed_sheet_is_kept() {
    let app = app();
    assert!(get_page(&app, "/visit/1/sheet").await.text().contains("data-keep=\"/visit/1/keep\""));
    assert_eq!(get_page(&app, "/visit/1/sheet.pdf").await.status, StatusCode::OK);
    assert!(get_page(&app, DEMO_CARD).await.text().contains("/result/1/setting"));
}

#[tokio::test]
async fn regress_a_long_list_is_paged_and_can_be_searched() {
    let record = Record::open_in_memory().unwrap();
    for n in 0..45 {
        record.create_engine(&format!("Bench {n:02}"), false).unwrap();
    }
    let app = router(Arc::new(App::new(PORT, record).unwrap()));
    let count = |page: &str| page.matches("row-name").count();
    let (first, second) = (get_page(&app, "/").await.text(), get_page(&app, "/?page=2").await.text());
    assert_eq!((count(&first), count(&second)), (40, 5));
    assert!(!first.contains("Invented 125"), "a record that holds engines gets no demo");
    let found = get_page(&app, "/?name=bench+07").await.text();
    assert!(count(&found) == 1 && found.contains("Bench 07"));
    assert!(
        get_page(&app, "/?name=%3Cb%3E").await.text().contains("No engine has \u{201c}&lt;b&gt;\u{201d}")
    );
    assert_eq!(get_page(&app, "/?page=nonsense").await.status, StatusCode::OK);
}
