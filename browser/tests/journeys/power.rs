//! Torque and power: the map is made, watched, stopped, gone on with, read, and kept.

use super::LOOKS;
use anyhow::{Result, ensure};
use browser::{App, Page, View, journey};

/// A small map where the demo engine pulls well.
async fn make(page: &Page, speeds: &str, lifts: &str) -> Result<()> {
    page.value::<()>("document.querySelector('#map details').open = true").await.ok();
    for (field, text) in
        [("from", "8500 rpm"), ("to", "9500 rpm"), ("speeds", speeds), ("lifts", lifts), ("leak", "none")]
    {
        page.type_into(&format!("#{field}"), text).await?;
    }
    page.click("form[action$='/power/start']:has(#from) button").await
}

#[test]
fn round_trips_a_map_to_its_readings() {
    for view in View::ALL {
        let app = App::start().expect("the app starts");
        journey("power", view, async |page| {
            page.goto(&app.url("/visit/1")).await?;
            page.click("a[href$='/visit/1/power']").await?;
            page.wait_until("document.querySelector('#map form') !== null").await?;
            make(page, "3", "2").await?;
            page.wait_for("#schedule").await?;
            page.wait_until("document.readyState === 'complete'").await?;
            let said = page.text_of("section[aria-labelledby=in-short]").await?;
            ensure!(said.contains("rpm") && said.contains("half a turn"), "in short: {said}");
            let before = page.text_of("[data-part=told]").await?;
            page.set_range("#lift", 100.0).await?;
            page.wait_until(&format!(
                "document.querySelector('[data-part=told]').innerText !== {}",
                serde_json::Value::from(before)
            ))
            .await?;
            page.picture("read").await?;
            page.goto(&app.url("/visit/1")).await?;
            let kept = page.text_of("#results").await?;
            ensure!(kept.contains("Torque map of"), "kept results: {kept}");
            Ok(())
        })
        .expect("the journey holds");
    }
}

#[test]
fn round_trips_a_map_that_was_stopped() {
    let app = App::start().expect("the app starts");
    journey("power-stop", View::Phone, async |page| {
        page.goto(&app.url("/visit/1/power")).await?;
        // So large that it is still at work, on any machine, when it is stopped for the second time.
        make(page, "96", "16").await?;
        page.wait_until("document.querySelector('progress')?.value > 0").await?;
        page.picture("running").await?;
        page.click("form[action$='/power/stop'] button").await?;
        page.click("form:has(input[name=go_on]) button").await?;
        page.wait_for("[data-progress]").await?;
        page.click("form[action$='/power/stop'] button").await?;
        page.wait_for("input[name=go_on]").await?;
        Ok(())
    })
    .expect("the journey holds");
}

#[test]
fn agrees_everybody_can_use_torque_and_power() {
    let app = App::start().expect("the app starts");
    journey("access-power-before", View::Desktop, async |page| {
        page.goto(&app.url("/visit/1/power")).await?;
        page.check_access().await?;
        make(page, "2", "2").await?;
        page.wait_for("#schedule").await.map(drop)
    })
    .expect("the map is made");
    for (view, theme) in LOOKS {
        journey("access-power", view, async |page| {
            page.goto(&app.url(&format!("/visit/1/power?theme={theme}"))).await?;
            page.picture(theme).await?;
            page.check_access().await
        })
        .unwrap_or_else(|cause| panic!("{theme}: {cause:#}"));
    }
}

#[test]
fn refuses_a_speed_that_is_none_and_keeps_what_was_typed() {
    let app = App::start().expect("the app starts");
    journey("power-refused", View::Phone, async |page| {
        page.goto(&app.url("/visit/1/power")).await?;
        page.value::<()>("document.querySelector('#map details').open = true").await.ok();
        page.type_into("#from", "fast").await?;
        page.value::<()>("document.querySelector('#petals').value = 'swinging'").await.ok();
        page.type_into("#to", "9500 rpm").await?;
        page.click("form[action$='/power/start']:has(#from) button").await?;
        page.wait_for("#map-refused").await?;
        let said = page.text_of("#map-refused").await?;
        ensure!(said.contains("From speed") && said.contains("rpm"), "said: {said}");
        let kept: String = page.value("document.querySelector('#to').value").await?;
        ensure!(kept == "9500 rpm", "kept: {kept}");
        let chosen: String = page.value("document.querySelector('#petals').value").await?;
        ensure!(chosen == "swinging", "chosen: {chosen}");
        page.picture("refused").await?;
        ensure!(page.forgive("422") > 0, "the refusal is answered as one");
        page.check_access().await
    })
    .expect("the journey holds");
}
