//! The drawing that follows the sliders.

use crate::DEMO;
use anyhow::{Result, ensure};
use browser::{App, Page, View, journey};

const TOLD: &str = "document.querySelector('[data-part=told]').textContent";

/// Does something and waits until the page tells another position; the drawing `part` must be another one too.
async fn redraws(page: &Page, part: &str, act: impl AsyncFnOnce(&Page) -> Result<()>) -> Result<()> {
    let shapes = format!("document.querySelector('[data-part={part}] svg').innerHTML");
    let (told, drawn): (String, String) = (page.value(TOLD).await?, page.value(&shapes).await?);
    act(page).await?;
    page.wait_until(&format!("{TOLD} !== {}", serde_json::Value::from(told))).await?;
    let now: String = page.value(&shapes).await?;
    ensure!(now != drawn, "the drawing of {part} did not move");
    Ok(())
}

#[test]
fn agrees_drawing_follows_both_sliders_and_the_state_chosen() {
    let app = App::start().expect("the app starts");
    for view in View::ALL {
        journey("moving", view, async |page| {
            page.goto(&app.url(DEMO)).await?;
            page.wait_for("#moving").await?;
            redraws(page, "gear", async |page| page.set_range("#travel", 0.0).await).await?;
            page.picture("closed").await?;
            redraws(page, "port", async |page| page.set_range("#crank", 180.0).await).await?;
            redraws(page, "gear", async |page| page.set_range("#travel", 60.0).await).await?;
            redraws(page, "gear", async |page| page.press("#travel", "ArrowRight").await).await?;
            redraws(page, "gear", async |page| page.click("#moving label:has(input[value=found])").await)
                .await?;
            page.picture("found").await?;
            Ok(())
        })
        .expect("the journey holds");
    }
}

#[test]
fn agrees_play_moves_the_slider_until_it_is_pressed_again() {
    let app = App::start().expect("the app starts");
    journey("play", View::Desktop, async |page| {
        page.goto(&app.url(DEMO)).await?;
        page.wait_for("#moving").await?;
        redraws(page, "gear", async |page| page.click("[data-play=travel]").await).await?;
        page.wait_until("document.querySelector('[data-play=travel]').ariaPressed === 'true'").await?;
        page.click("[data-play=travel]").await?;
        page.wait_until("document.querySelector('[data-play=travel]').ariaPressed === 'false'").await
    })
    .expect("the journey holds");
}

#[test]
fn agrees_curve_tells_its_value_under_the_pointer() {
    let app = App::start().expect("the app starts");
    journey("readout", View::Desktop, async |page| {
        page.goto(&app.url(DEMO)).await?;
        page.click("[data-part=travel] svg").await?;
        let read = page.text_of("[data-part=travel] .read").await?;
        ensure!(read.contains('°') && read.contains("mm"), "no travel and edge is told: {read}");
        Ok(())
    })
    .expect("the journey holds");
}
