//! A second job card after a made-up job at the top end: written, compared with the first, found after a restart.

use super::LOOKS;
use anyhow::{Context, Result, ensure};
use browser::{App, Page, View, journey};

const CARD: &str = "After the top end";

/// Readings after the job: the fixed gap is set shorter, so the valve travels less far; the rest is as before.
const READINGS: [(&str, &str); 8] = [
    ("found.opening_play", "0.6 ± 0.1 mm"),
    ("found.closing_play", "0.5 ± 0.2 mm"),
    ("found.opening_gap", "11.0 ± 0.1 mm"),
    ("found.closing_gap", "14.0 ± 0.1 mm"),
    ("found.spring_length", "14.5 mm by calliper"),
    ("found.edge_above_flush", "-0.31 ± 0.05 mm"),
    ("found.edge_above_closed", "0.00 ± 0.05 mm"),
    ("found.sensor_closed", "0.62 kΩ ± (0.5 % + 2 digits)"),
];

const ANSWERS: [(&str, &str); 4] = [
    ("gates.proud_closed", "-0.6 ± 0.1 mm"),
    ("gates.proud_open", "-0.7 ± 0.1 mm"),
    ("gates.turn_closed", "clear"),
    ("gates.turn_open", "clear"),
];

/// Fills a step of a job card and waits until the program has every entry.
async fn fill(app: &App, page: &Page, step: &str, entries: &[(&str, &str)]) -> Result<()> {
    page.goto(&app.url(step)).await?;
    for (key, text) in entries {
        let field = format!("document.querySelector('[data-key=\"{key}\"]')");
        let text = serde_json::Value::from(*text);
        // What a hand does to a field, whether or not it is folded away as another way of measuring.
        let typed = format!(
            "(() => {{ const field = {field}; field.value = {text}; \
             for (const kind of ['input', 'change']) field.dispatchEvent(new Event(kind, {{ bubbles: true }})); \
             return true; }})()"
        );
        page.value::<bool>(&typed).await.with_context(|| format!("{key} cannot be filled"))?;
        page.wait_until(&format!("{field}.dataset.saved === {text}")).await?;
    }
    page.wait_until("document.querySelector('#saved').textContent === 'Saved.'").await
}

/// Keeps the return values of the first job card and makes a second one with readings of its own.
async fn second_card(app: &App, page: &Page) -> Result<String> {
    page.goto(&app.url(crate::DEMO)).await?;
    page.click("form[action$='/returns/keep'] button").await?;
    page.wait_until("location.pathname.endsWith('/step/returns')").await?;
    page.goto(&app.url("/visit/1")).await?;
    page.click("#builds .build details summary").await?;
    page.type_into("#new-visit-1", CARD).await?;
    page.click("#builds .build form[action$='/visit'] button").await?;
    page.wait_until("location.pathname.startsWith('/visit/') && location.pathname !== '/visit/1'").await?;
    let card: String = page.value("location.pathname").await?;
    fill(app, page, &format!("{card}/step/as-found"), &READINGS).await?;
    fill(app, page, &format!("{card}/step/gates"), &ANSWERS).await?;
    Ok(card)
}

/// The texts of the row that is headed so, earlier and later.
async fn pair(page: &Page, section: &str, heading: &str) -> Result<Vec<String>> {
    let heading = serde_json::Value::from(heading);
    let row = format!(
        "[...document.querySelectorAll('section[aria-labelledby={section}] li')]\
         .filter(row => row.querySelector('h3')?.innerText === {heading})\
         .flatMap(row => [...row.querySelectorAll('dd')].map(cell => cell.innerText.replaceAll('\\u00a0', ' ')))"
    );
    page.value(&row).await
}

#[test]
fn agrees_the_comparison_shows_what_changed_and_what_to_turn() {
    for view in View::ALL {
        let app = App::start().expect("the app starts");
        journey("compare", view, async |page| {
            page.goto(&app.url("/compare?engine=1")).await?;
            ensure!(
                page.text_of("main").await?.contains("one job card only"),
                "nothing to compare with is not said"
            );
            page.picture("one-card").await?;
            page.check_access().await?;
            let card = second_card(&app, page).await?;
            page.goto(&app.url(&card)).await?;
            page.click("a[href^='/compare']").await?;
            page.wait_for("#compare-changes").await?;
            page.picture("two-cards").await?;
            let sides = page.text_of(".compare-sides").await?;
            ensure!(sides.find(CARD) > sides.find("Earlier"), "the new job card is the later one: {sides}");
            let gap = pair(page, "compare-changes", "As found: gap at the opening adjuster").await?;
            ensure!(gap == ["12.0 ± 0.1 mm", "11.0 ± 0.1 mm"], "the gap was {gap:?}");
            let turns = page.text_of("section[aria-labelledby=compare-turns]").await?;
            ensure!(turns.contains("turn") && turns.contains("opening"), "what to turn is not said: {turns}");
            Ok(())
        })
        .expect("the journey holds");
    }
}

#[test]
fn agrees_everybody_can_use_the_comparison_in_light_and_dark() {
    let app = App::start().expect("the app starts");
    journey("access-compare-before", View::Desktop, async |page| second_card(&app, page).await.map(drop))
        .expect("the second job card is made");
    for (view, theme) in LOOKS {
        journey("access-compare", view, async |page| {
            page.goto(&app.url(&format!("/compare?engine=1&theme={theme}"))).await?;
            page.wait_for("#compare-changes").await?;
            page.picture(theme).await?;
            // The check holds the page to the width of its window, too.
            page.check_access().await
        })
        .unwrap_or_else(|cause| panic!("{theme}: {cause:#}"));
    }
}

#[test]
fn round_trips_a_job_card_through_a_restart() {
    let mut app = App::start().expect("the app starts");
    let mut card = String::new();
    journey("restart-before", View::Phone, async |page| {
        card = second_card(&app, page).await?;
        Ok(())
    })
    .expect("the second job card is made");
    app.restart().expect("the app starts again");
    journey("restart-after", View::Phone, async |page| {
        page.goto(&app.url("/engine/1")).await?;
        let listed = page.text_of("#builds").await?;
        ensure!(listed.contains(CARD), "the job card is not listed: {listed}");
        page.click(&format!("#builds a[href='{card}']")).await?;
        page.wait_until(&format!("location.pathname === '{card}'")).await?;
        page.goto(&app.url(&format!("{card}/step/as-found"))).await?;
        for (key, text) in READINGS {
            let kept: String =
                page.value(&format!("document.querySelector('[data-key=\"{key}\"]').value")).await?;
            ensure!(kept == text, "{key} was {text} and is {kept}");
        }
        Ok(())
    })
    .expect("the journey holds");
}

#[test]
fn round_trips_ticks_and_notes_to_the_sheet() {
    for view in View::ALL {
        let app = App::start().expect("the app starts");
        journey("ticks", view, async |page| {
            page.goto(&app.url("/visit/1/setting")).await?;
            let tick = "document.querySelector('input[type=checkbox][data-key^=\"done.\"]')";
            page.value::<bool>(&format!("{tick}.click(), true")).await?;
            page.wait_until(&format!("{tick}.dataset.saved === 'yes'")).await?;
            page.goto(&app.url("/visit/1/setting")).await?;
            ensure!(page.value::<bool>(&format!("{tick}.checked")).await?, "the tick is gone");
            page.check_access().await?;
            page.goto(&app.url("/visit/1")).await?;
            page.type_into("#notes", "Blade was sticky.").await?;
            page.wait_until("document.querySelector('#notes').dataset.saved === 'Blade was sticky.'").await?;
            page.picture("notes").await?;
            page.check_access().await?;
            page.goto(&app.url("/visit/1/sheet")).await?;
            ensure!(
                page.text_of("article.sheet").await?.contains("Blade was sticky."),
                "no notes on the sheet"
            );
            page.picture("sheet").await.map(drop)
        })
        .expect("the journey holds");
    }
}
