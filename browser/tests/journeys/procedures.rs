//! Ways of setting compared, one of one's own among them, taken away as PDF and as a page; unknowns from readings.

use anyhow::{Result, ensure};
use browser::{App, Page, View, journey, pages_of};

const OWN: &str = r#"portwright = 1
[[procedure]]
key = "my-way"
name = "My own way"
claim = "Play felt by hand, then the edge looked at."
source = "own practice"
[[procedure.step]]
say = "Servo at park. Screw the closing adjuster out until the spring is 14.5 mm long."
servo = "park"
valve = "pin"
turn = "closing"
until = "spring length"
at = "14.5 mm by calliper"
for = "spring on the adjuster"
[[procedure.step]]
say = "Servo at full. Screw the opening adjuster until the edge is level."
servo = "full"
valve = "free"
turn = "opening"
until = "edge"
at = "0 ± 0.1 mm"
for = "spring on the adjuster"
"#;

/// Puts a text into a field as the page's own buttons do: units and signs are no keys of a keyboard.
async fn put(page: &Page, field: &str, text: &str) -> Result<()> {
    page.wait_until("document.readyState === 'complete'").await?;
    let text = serde_json::to_string(text)?;
    page.value::<bool>(&format!(
        "(() => {{ const field = document.querySelector('{field}'); field.value = {text}; \
         for (const kind of ['input', 'change']) field.dispatchEvent(new Event(kind, {{ bubbles: true }})); \
         return true; }})()"
    ))
    .await
    .map(|_| ())
}

#[test]
fn practice_ways_are_compared_told_apart_and_moved() {
    for view in View::ALL {
        let app = App::start().expect("the app starts");
        journey("ways", view, async |page| {
            page.goto(&app.url("/visit/1")).await?;
            page.click("a[href$='/procedures']").await?;
            page.wait_until("location.pathname.endsWith('/procedures')").await?;
            let said = page.text_of("section.headline").await?;
            ensure!(said.contains("over-travels most") && said.contains("strains the cable most"), "{said}");
            let ways: usize =
                page.value("document.querySelectorAll('section[aria-labelledby^=way-]').length").await?;
            ensure!(ways == 13, "{ways} ways");
            page.value::<bool>("(document.querySelector('#seat-at-end details').open = true, true)").await?;
            let one = page.text_of("#seat-at-end").await?;
            for wanted in ["with others", "fail", "wrongly passed", "Stated:"] {
                ensure!(one.contains(wanted), "{wanted} is missing: {one}");
            }
            let before: String =
                page.value("document.querySelector('[data-part=gear-seat-at-end]').innerHTML").await?;
            page.set_range("#travel", 40.0).await?;
            page.wait_until("document.querySelector('[data-part=told]').innerText.includes('40 %')").await?;
            let after: String =
                page.value("document.querySelector('[data-part=gear-seat-at-end]').innerHTML").await?;
            ensure!(before != after, "the drawing does not move");
            page.picture("compared").await?;
            page.check_access().await
        })
        .expect("the journey holds");
    }
}

#[test]
fn round_trips_a_way_of_ones_own_into_page_pdf_and_standing_file() {
    for view in View::ALL {
        let app = App::start().expect("the app starts");
        journey("ways-own", view, async |page| {
            page.goto(&app.url("/bench/own")).await?;
            put(page, "#own-procedures", OWN).await?;
            page.value::<bool>("(window.before = true)").await?;
            page.click("form:has(#own-procedures) button").await?;
            page.wait_until("!window.before && document.readyState === 'complete'").await?;
            page.goto(&app.url("/visit/1/procedures")).await?;
            page.value::<bool>("(document.querySelector('#my-way details').open = true, true)").await?;
            ensure!(
                page.text_of("#my-way").await?.contains("Play felt by hand"),
                "the own way is not compared"
            );
            let pdf = page.download("a[href*='procedures.pdf']").await?;
            ensure!(pages_of(&pdf)? >= 5, "{} pages", pages_of(&pdf)?);
            let standing = page.download("a[href*='procedures.html']").await?;
            let file = app.file("show.html", &standing)?;
            page.goto(&format!("file://{}", file.display())).await?;
            page.value::<usize>(
                "document.querySelectorAll('details').forEach(one => { one.open = true; }), 1",
            )
            .await?;
            let text = page.text_of("main").await?;
            for wanted in ["My own way", "Who agrees with whom", "What was demanded and assumed", "seed 1"] {
                ensure!(text.contains(wanted), "{wanted} is not in the standing file");
            }
            page.picture("standing").await?;
            page.check_access().await
        })
        .expect("the journey holds");
    }
}

#[test]
fn practice_unknowns_are_found_from_readings_and_a_wrong_row_is_told() {
    for view in View::ALL {
        let app = App::start().expect("the app starts");
        journey("fit", view, async |page| {
            page.goto(&app.url("/visit/1")).await?;
            page.click("a[href$='/fit']").await?;
            page.wait_until("location.pathname.endsWith('/fit')").await?;
            page.picture("empty").await?;
            page.check_access().await?;
            page.click("form[action$='/fit/demo'] button").await?;
            page.wait_until(
                "document.querySelector('#result').innerText.includes('groove radius at the valve')",
            )
            .await?;
            let said = page.text_of("#result").await?;
            ensure!(said.contains("more than both can be off"), "{said}");
            page.picture("found").await?;
            page.check_access().await?;
            // A radius for a reading is refused beside its row, and nothing is worked out meanwhile.
            put(page, "[data-key=\"fit.2.seen\"]", "16.4 mm").await?;
            page.wait_until(
                "document.querySelector('[data-key=\"fit.2.seen\"]').dataset.saved === '16.4 mm'",
            )
            .await?;
            page.click(".actions.stay button").await?;
            page.wait_until("document.querySelector('ol.readings .wrong')").await?;
            ensure!(
                page.text_of("ol.readings .wrong").await?.contains("an angle is wanted"),
                "the mistake is not told"
            );
            put(page, "[data-key=\"fit.2.seen\"]", "16.4 ± 0.3°").await?;
            page.wait_until(
                "document.querySelector('[data-key=\"fit.2.seen\"]').dataset.saved.endsWith('°')",
            )
            .await?;
            // Two stiffnesses in series cannot be told apart: both are named.
            for key in ["slack", "gear.opening.valve_radius", "gear.opening.friction"] {
                tick(page, key, false).await?;
            }
            for key in ["gear.opening.wire_stiffness", "gear.opening.sheath_stiffness"] {
                tick(page, key, true).await?;
            }
            page.click(".actions.stay button").await?;
            page.wait_until("document.querySelector('#result .caution')").await?;
            let said = page.text_of("#result").await?;
            ensure!(
                said.contains("stiffness of the wire") && said.contains("stiffness of the sheath"),
                "{said}"
            );
            page.picture("confused").await?;
            Ok(())
        })
        .expect("the journey holds");
    }
}

async fn tick(page: &Page, unknown: &str, on: bool) -> Result<()> {
    let field = format!("[data-key=\"fit.unknown.{unknown}\"]");
    page.value::<bool>(&format!(
        "(() => {{ const box = document.querySelector('{field}'); if (box.checked !== {on}) box.click(); return true; }})()"
    ))
    .await?;
    let saved = if on { "yes" } else { "" };
    page.wait_until(&format!("document.querySelector('{field}').dataset.saved === '{saved}'")).await
}
