//! The setting of the demo engine, which is there from the first start.

use super::LOOKS;
use crate::DEMO;
use anyhow::{Result, ensure};
use browser::{App, Page, View, journey};

async fn holds_the_answer(page: &Page) -> Result<()> {
    ensure!(!page.text_of("#answer .say").await?.trim().is_empty(), "no answer");
    let steps: usize = page.value("document.querySelectorAll('#steps .step-cards > li').length").await?;
    ensure!(steps >= 3, "only {steps} steps");
    let ends: Vec<String> = page
        .value("Array.from(document.querySelectorAll('.ends table.bands'), end => end.innerText)")
        .await?;
    ensure!(ends.len() == 2, "the error is shown at {} ends", ends.len());
    for end in &ends {
        ensure!(
            end.contains("mm") && end.contains('°') && end.contains('±'),
            "no band in mm and degrees: {end}"
        );
    }
    let drawn: f64 =
        page.value("document.querySelector('[data-part=gear] svg').getBoundingClientRect().width").await?;
    ensure!(drawn > 200.0, "the gear is drawn {drawn} px wide");
    Ok(())
}

#[test]
fn agrees_setting_of_the_demo_has_answer_steps_ends_and_drawing() {
    let app = App::start().expect("the app starts");
    for view in View::ALL {
        journey("first-page", view, async |page| {
            page.goto(&app.url(DEMO)).await?;
            holds_the_answer(page).await?;
            let strangers: Vec<String> = page
                .value(
                    "performance.getEntriesByType('resource').map(entry => entry.name)\
                     .filter(name => !name.startsWith(location.origin) && !name.startsWith('data:'))",
                )
                .await?;
            ensure!(strangers.is_empty(), "the page asks elsewhere: {strangers:?}");
            page.picture("light").await?;
            Ok(())
        })
        .expect("the journey holds");
    }
}

#[test]
fn agrees_everybody_can_use_every_page_in_light_and_dark() {
    let app = App::start().expect("the app starts");
    for (view, theme) in LOOKS {
        journey("access", view, async |page| {
            page.goto(&app.url(&format!("{DEMO}?theme={theme}"))).await?;
            holds_the_answer(page).await?;
            page.picture(theme).await?;
            page.check_access().await?;
            for place in ["edit", "sheet"] {
                let link: String =
                    page.value(&format!("document.querySelector('a[href$=\"/{place}\"]').href")).await?;
                page.goto(&link).await?;
                page.picture(&format!("{place}-{theme}")).await?;
                page.check_access().await?;
            }
            page.goto(&app.url("/help")).await?;
            page.check_access().await
        })
        .unwrap_or_else(|cause| panic!("{theme}: {cause:#}"));
    }
}

#[test]
fn round_trips_metric_inch_metric() {
    let app = App::start().expect("the app starts");
    journey("units", View::Desktop, async |page| {
        page.goto(&app.url(DEMO)).await?;
        let metric = page.text_of("main").await?;
        page.click("a[href*='units=inch']").await?;
        page.wait_until("location.search.includes('inch') && document.readyState === 'complete'").await?;
        let ends = page.text_of(".ends").await?;
        ensure!(ends.contains(" in") && !ends.contains(" mm"), "not in inches: {ends}");
        page.click("a[href*='units=metric']").await?;
        page.wait_until("location.search.includes('metric') && document.readyState === 'complete'").await?;
        ensure!(page.text_of("main").await? == metric, "something was lost by switching the units");
        Ok(())
    })
    .expect("the journey holds");
}

#[test]
fn agrees_page_reads_without_scripts() {
    let app = App::start().expect("the app starts");
    journey("no-script", View::Phone, async |page| {
        page.forbid_scripts().await?;
        page.goto(&app.url(DEMO)).await?;
        holds_the_answer(page).await?;
        let before = page.text_of("[data-part=told]").await?;
        let button: f64 = page
            .value("document.querySelector('#moving button[type=submit]').getBoundingClientRect().height")
            .await?;
        ensure!(button >= 40.0, "the button that draws without scripts is {button} px high");
        page.value::<bool>("(document.querySelector('#travel').value = 0, true)").await?;
        page.value::<bool>("(document.querySelector('#moving button[type=submit]').click(), true)").await?;
        page.wait_until("location.search.includes('travel=0')").await?;
        ensure!(page.text_of("[data-part=told]").await? != before, "another position tells the same");
        Ok(())
    })
    .expect("the journey holds");
}

#[test]
fn refuses_an_address_that_does_not_exist_with_a_way_back() {
    let app = App::start().expect("the app starts");
    journey("no-page", View::Phone, async |page| {
        page.goto(&app.url("/nothing-here")).await?;
        page.picture("refused").await?;
        page.check_access().await?;
        page.click("main a[href='/']").await?;
        page.wait_for(".engines").await?;
        ensure!(page.forgive("404") > 0, "a page that is missing must answer 404");
        Ok(())
    })
    .expect("the journey holds");
}
