//! Checks, faults, what normal looks like and care, asked without a socket.

use super::*;
use serde_json::Value;

async fn leave(app: &Router, key: &str, text: &str, step: &str) -> Value {
    let fields = [("key", key), ("text", text), ("version", ""), ("step", step)];
    let got = post(app, "/visit/1/field", &fields).await;
    assert_eq!(got.status, StatusCode::OK, "{key}: {}", got.text());
    serde_json::from_slice(&got.bytes).unwrap()
}

#[tokio::test]
async fn practice_a_reading_is_judged_as_it_is_left() {
    let app = app();
    let told = leave(&app, "check.sensor-ends.end-to-end", "4.24 kΩ", "check-sensor-ends").await;
    assert!(told["notes"]["check.sensor-ends"][0].as_str().unwrap().contains("Pass"), "{told}");
    let list = get_page(&app, "/visit/1/checks").await.text();
    assert!(list.contains("aria-label=\"Done\""), "{list}");
    let sheet = get_page(&app, "/visit/1/sheet").await.text();
    assert!(sheet.contains("Bench checks") && sheet.contains("4.240\u{a0}±"), "{sheet}");
    assert_eq!(get_page(&app, "/visit/1/check/no-such").await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn practice_every_check_has_its_screen() {
    let app = app();
    for check in &diagnosis::check::Checks::built_in().checks {
        let got = get_page(&app, &format!("/visit/1/check/{}", check.key)).await;
        assert_eq!(got.status, StatusCode::OK, "{}", check.key);
        // Caution and text come through as they are written, whatever letters they hold.
        assert!(got.text().contains("What was found"), "{}", check.key);
    }
}

#[tokio::test]
async fn agrees_the_page_ranks_as_the_command_does() {
    let app = app();
    leave(&app, "symptom.hunting", "yes", "plain").await;
    leave(&app, "check.sensor-sweep.swept", "jumps", "check-sensor-sweep").await;
    let ranking = get_page(&app, "/visit/1/find/ranking").await.text();
    let from = ranking.find("class=\"causes\"").unwrap();
    assert!(
        ranking[from..].starts_with("class=\"causes\"><li><div class=\"title-row\"><h3>Position sensor worn")
    );
    // For a governor there is no sensor at all.
    let change = [("t:bench.actuator", "governor"), ("v:bench.actuator", ""), ("back", "/checks")];
    assert_eq!(led_to(&app, "/visit/1/entries", &change).await, "/visit/1/checks");
    assert!(!get_page(&app, "/visit/1/find/ranking").await.text().contains("Position sensor worn"));
}

#[tokio::test]
async fn refuses_own_files_with_errors_and_takes_good_ones() {
    let app = app();
    let wrong = post(&app, "/bench/own", &[("kind", "own-checks"), ("text", "[[check]]\nkey = 3")]).await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(wrong.text().contains("line 2") && wrong.text().contains("key = 3"), "{}", wrong.text());
    let document = include_str!("../../../../../docs/bench-checks.md");
    let example = document.split("```toml").nth(1).and_then(|rest| rest.split("```").next()).unwrap();
    let good = post(&app, "/bench/own", &[("kind", "own-checks"), ("text", example)]).await;
    assert_eq!(good.status, StatusCode::SEE_OTHER, "{}", good.text());
    let own = diagnosis::check::Checks::read(example).unwrap();
    let title = &own.checks[0].title;
    let list = get_page(&app, "/visit/1/checks").await.text();
    assert!(list.contains(title.as_str()) || own.checks[0].actuators.len() < 3, "{title}");
}

#[tokio::test]
async fn round_trips_the_known_good_engine_and_its_care() {
    let app = app();
    leave(&app, "normal.top", "100 ± 2 %", "plain").await;
    assert_eq!(led_to(&app, "/visit/1/normal/keep", &[]).await, "/visit/1/normal");
    assert!(get_page(&app, "/visit/1/normal").await.text().contains("against the known-good engine"));
    leave(&app, "care.clean-valve", "clean", "plain").await;
    leave(&app, "care.hours", "40 h", "plain").await;
    let care = get_page(&app, "/visit/1/care").await.text();
    assert!(care.contains("value=\"40 h\""), "{care}");
    for now in ["nothing", "1e99", "-5", ""] {
        let got = get_page(&app, &format!("/visit/1/normal/drawing?now={now}")).await;
        assert_eq!(got.status, StatusCode::OK, "{now}");
    }
}

#[tokio::test]
async fn agrees_the_ways_of_setting_are_compared_and_told_apart() {
    let app = app();
    let page = get_page(&app, "/visit/1/procedures").await;
    assert_eq!(page.status, StatusCode::OK);
    let json = get_page(&app, "/visit/1/procedures.json").await;
    let told: Value = serde_json::from_slice(&json.bytes).unwrap();
    let ways = told["procedures"].as_array().unwrap();
    assert!(ways.len() >= 10 && ways.iter().all(|way| page.text().contains(way["name"].as_str().unwrap())));
    let median = |key: &str| {
        let way = ways.iter().find(|way| way["key"] == key).unwrap();
        way["measures"]["edge-at-full"]["median"].as_f64().unwrap()
    };
    // The demo's mechanical end lies past flush: seating there over-travels, holding the edge flush does not.
    assert!(median("seat-at-end") > 0.5e-3 && median("flush-held").abs() < 0.2e-3);
    let paper = get_page(&app, "/visit/1/procedures.pdf").await;
    assert_eq!(paper.header(header::CONTENT_TYPE), "application/pdf");
    assert!(paper.bytes.starts_with(b"%PDF-"));
    let file = get_page(&app, "/visit/1/procedures.html").await.text();
    assert!(
        file.contains("an invented engine") && !file.contains("<script") && !file.contains("href=\"/"),
        "links"
    );
    let moved = get_page(&app, "/visit/1/procedures/drawing?travel=40").await.text();
    assert!(moved.contains("Servo at 40 %"));
}

#[tokio::test]
async fn round_trips_readings_typed_row_by_row_into_what_was_not_measured() {
    let app = app();
    let empty = get_page(&app, "/visit/1/fit").await.text();
    assert!(empty.contains("Put in invented readings") && empty.contains("fit.8.seen"));
    assert_eq!(get_page(&app, "/visit/1/fit.json").await.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(led_to(&app, "/visit/1/fit/demo", &[]).await, "/visit/1/fit#result");
    let page = get_page(&app, "/visit/1/fit").await.text();
    assert!(
        page.contains("groove radius at the valve") && page.contains("gear.opening.valve_radius = "),
        "{page}"
    );
    let told: Value = serde_json::from_slice(&get_page(&app, "/visit/1/fit.json").await.bytes).unwrap();
    assert_eq!(told["estimates"].as_array().unwrap().len(), 3);
    assert!(!page.contains("class=\"wrong\""), "{page}");
    // A row after the last, with a length where an angle is wanted.
    leave(&app, "fit.19.servo", "30°", "plain").await;
    leave(&app, "fit.19.seen", "26.6 mm", "plain").await;
    let page = get_page(&app, "/visit/1/fit").await.text();
    assert!(page.contains("class=\"wrong\"") && page.contains("an angle is wanted"), "{page}");
    // A second filling leaves what was typed.
    led_to(&app, "/visit/1/fit/demo", &[]).await;
    assert!(get_page(&app, "/visit/1/fit").await.text().contains("value=\"26.6 mm\""));
}
