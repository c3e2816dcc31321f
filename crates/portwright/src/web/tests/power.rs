//! Torque and power: the map from nothing to the kept result.

use super::*;
use std::time::{Duration, Instant};

fn send_form(path: &str, body: &str) -> Request<Body> {
    Request::post(path)
        .header(header::HOST, HOST)
        .header(header::ORIGIN, format!("http://{HOST}"))
        .header("sec-fetch-site", "same-origin")
        .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded")
        .body(Body::from(body.to_owned()))
        .unwrap()
}

#[tokio::test]
async fn round_trips_a_map_from_the_form_to_the_kept_result() {
    let app = app();
    let before = get_page(&app, "/visit/1/power").await.text();
    assert!(before.contains("No map has been made yet") && before.contains("2800 rpm"), "{before}");
    let wrong = "from=fast&to=9500+rpm&lifts=3&petals=swinging&scavenging=mixing";
    let wrong = send(&app, send_form("/visit/1/power/start", wrong)).await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    let page = wrong.text();
    assert!(
        page.contains("role=\"alert\"") && page.contains("From speed: ") && page.contains("rpm"),
        "{page}"
    );
    // Nothing that was typed is lost.
    for typed in [
        "value=\"fast\"",
        "value=\"9500 rpm\"",
        "value=\"3\"",
        "value=\"swinging\" selected",
        "value=\"mixing\" selected",
    ] {
        assert!(page.contains(typed), "{typed}");
    }
    assert!(page.contains("aria-invalid=\"true\" aria-describedby=\"map-refused\""));
    let few = "from=8500+rpm&to=9500+rpm&speeds=3&lifts=2&leak=none&petals=at-once&scavenging=displacement";
    assert_eq!(send(&app, send_form("/visit/1/power/start", few)).await.status, StatusCode::SEE_OTHER);
    let began = Instant::now();
    while !get_page(&app, "/visit/1/power/progress").await.text().contains("data-ended") {
        assert!(began.elapsed() < Duration::from_secs(120), "the map takes too long");
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
    let page = get_page(&app, "/visit/1/power").await.text();
    for words in [
        "In short",
        "Map of torque",
        "Best lift by speed",
        "half a turn",
        "What being wrong costs",
        "What this rests on",
        "nothing fresh leaves before all burned gas has",
    ] {
        assert!(page.contains(words), "'{words}' is missing");
    }
    assert!(!page.contains("NaN"));
    let json: serde_json::Value =
        serde_json::from_slice(&get_page(&app, "/visit/1/power.json").await.bytes).unwrap();
    assert_eq!(json["rows"].as_array().unwrap().len(), 3);
    assert_eq!(json["wanted"]["scavenging"], "displacement");
    assert_eq!(get_page(&app, "/visit/1/power.csv").await.text().lines().count(), 7);
    let traces = get_page(&app, "/visit/1/power/traces.csv?speed=9000&lift=100").await.text();
    assert!(traces.lines().count() > 300 && traces.starts_with("crank angle"));
    assert!(get_page(&app, "/visit/1/power/traces?speed=9000&lift=50").await.text().contains("data-plot"));
    let ways = get_page(&app, "/visit/1/procedures").await.text();
    // This small map does not reach down to the opening speed.
    assert!(ways.contains("What each gives in torque") && ways.contains("A torque map of this job card"));
    let standing = get_page(&app, "/visit/1/procedures.html").await.text();
    assert!(!standing.contains("What each gives in torque"));
    // Kept with what made it, and still shown when the entries have changed.
    let path = get_page(&app, "/visit/1").await.text();
    assert!(path.contains("Torque map of") && path.contains("/result/1/power"));
    assert!(get_page(&app, "/result/1/power").await.text().contains("Kept on"));
    let changed = "key=ignition.advance&text=22+%C2%B1+1%C2%B0&version=1&step=ducts";
    assert_eq!(send(&app, send_form("/visit/1/field", changed)).await.status, StatusCode::OK);
    assert!(get_page(&app, "/visit/1/power").await.text().contains("Entries were changed since"));
}

#[tokio::test]
async fn round_trips_a_measured_curve() {
    let app = app();
    let few = "from=8500+rpm&to=9500+rpm&speeds=2&lifts=2&leak=none";
    send(&app, send_form("/visit/1/power/start", few)).await;
    let began = Instant::now();
    while !get_page(&app, "/visit/1/power/progress").await.text().contains("data-ended") {
        assert!(began.elapsed() < Duration::from_secs(120), "the map takes too long");
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
    let sheet = "key=power.sheet&text=9000+rpm%3B+14.0+N%C2%B7m&version=&step=plain";
    assert_eq!(send(&app, send_form("/visit/1/field", sheet)).await.status, StatusCode::OK);
    let page = get_page(&app, "/visit/1/power").await.text();
    assert!(page.contains("14.0 N·m") && page.contains("On the average the computed torque is"));
    let wrong = "key=power.sheet&text=9000&version=1&step=plain";
    assert_eq!(send(&app, send_form("/visit/1/field", wrong)).await.status, StatusCode::OK);
    let page = get_page(&app, "/visit/1/power").await.text();
    assert!(page.contains("Line 1") && page.contains("two columns"), "the wrong line is not named");
}

#[tokio::test]
async fn refuses_an_engine_without_its_gas_path_by_name() {
    let app = app();
    let made = send(&app, send_form("/visit/1/field", "key=intake.length&text=&version=1&step=ducts")).await;
    assert_eq!(made.status, StatusCode::OK);
    for key in ["mouth_diameter", "inner_diameter", "airbox_volume", "wall_temperature"] {
        send(&app, send_form("/visit/1/field", &format!("key=intake.{key}&text=&version=1&step=ducts")))
            .await;
    }
    let page = get_page(&app, "/visit/1/power").await.text();
    assert!(page.contains("Not enough is known") && page.contains("intake"), "{page}");
    assert!(page.contains("/visit/1/step/ducts"));
}
