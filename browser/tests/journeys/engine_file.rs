//! Bringing one's own engine, and what is said when a figure is wrong.

use crate::DEMO;
use anyhow::{Context, Result, ensure};
use browser::{App, Page, View, journey};

const FIELD: &str = ".chooser input[type=file]";

/// The demo engine's file as the app hands it out, under another name.
async fn own_engine(app: &App, page: &Page) -> Result<String> {
    page.goto(&app.url(DEMO)).await?;
    let bytes = page.download("a[href$='/file']").await?;
    let text = String::from_utf8(bytes).context("the engine file is not UTF-8")?;
    let line = text.lines().find(|line| line.starts_with("name = ")).context("the file has no name")?;
    page.goto(&app.url("/")).await?;
    Ok(text.replacen(line, "name = \"Trial bench engine\"", 1))
}

fn with_stroke(text: &str, stroke: &str) -> Result<String> {
    let line = text.lines().find(|line| line.starts_with("stroke = ")).context("the file has no stroke")?;
    Ok(text.replacen(line, &format!("stroke = {stroke}"), 1))
}

#[test]
fn round_trips_a_file_that_is_dropped_on_the_page() {
    let app = App::start().expect("the app starts");
    for view in View::ALL {
        journey("own-engine", view, async |page| {
            page.goto(&app.url(DEMO)).await?;
            let said = page.text_of("#answer .say").await?;
            let text = own_engine(&app, page).await?;
            page.choose_file(FIELD, &app.file("trial.toml", text.as_bytes())?).await?;
            page.wait_until("location.pathname.startsWith('/visit/')").await?;
            page.wait_until("document.querySelector('h1')?.textContent === 'Trial bench engine'").await?;
            page.click(".go-on a[href$='/setting']").await?;
            page.wait_for("#steps").await?;
            ensure!(page.text_of("#answer .say").await? == said, "the same figures give another answer");
            let back = page.download("a[href$='/file']").await?;
            ensure!(back == text.as_bytes(), "the file comes back changed");
            Ok(())
        })
        .expect("the journey holds");
    }
}

#[test]
fn refuses_a_bare_number_at_its_line_and_takes_the_mended_text() {
    let app = App::start().expect("the app starts");
    for view in View::ALL {
        journey("mend", view, async |page| {
            let good = own_engine(&app, page).await?;
            let bad = with_stroke(&good, "54.5")?;
            let line = 1 + bad.lines().position(|line| line == "stroke = 54.5").context("no such line")?;
            page.choose_file(FIELD, &app.file("bad.toml", bad.as_bytes())?).await?;
            let said = page.text_of(".problems").await?;
            for word in [&format!("Line {line}"), "stroke", "mm"] {
                ensure!(said.contains(word), "{word} is not in what is said:\n{said}");
            }
            page.picture("refused").await?;
            page.check_access().await?;
            ensure!(page.forgive("422") > 0, "a file that is refused must answer 422");

            let mended = serde_json::Value::from(good.as_str());
            page.value::<bool>(&format!("(document.querySelector('#text').value = {mended}, true)")).await?;
            page.click(".editor button[type=submit]").await?;
            page.wait_until("location.pathname.startsWith('/visit/')").await?;
            page.wait_until("document.querySelector('h1')?.textContent === 'Trial bench engine'").await?;
            page.wait_for(".steps-path").await?;
            Ok(())
        })
        .expect("the journey holds");
    }
}

#[test]
fn refuses_what_is_no_engine_file_and_goes_on_working() {
    let app = App::start().expect("the app starts");
    let noise: Vec<u8> = (0u32..60_000).map(|n| (n.wrapping_mul(2_654_435_761) >> 24) as u8).collect();
    let long = vec![b'a'; 10_000_000];
    for (name, bytes) in [("empty.toml", &b""[..]), ("noise.toml", &noise[..]), ("long.toml", &long[..])] {
        journey("no-engine", View::Desktop, async |page| {
            page.goto(&app.url("/")).await?;
            page.wait_for(FIELD).await?;
            page.choose_file(FIELD, &app.file(name, bytes)?).await?;
            page.wait_until(
                "document.querySelector('.engines') === null && document.querySelector('h1') !== null",
            )
            .await?;
            page.picture(name.trim_end_matches(".toml")).await?;
            page.check_access().await?;
            page.goto(&app.url("/")).await?;
            page.wait_for(".engines").await?;
            ensure!(page.forgive("status of 4") > 0, "{name} must be refused by its status");
            Ok(())
        })
        .unwrap_or_else(|cause| panic!("{name}: {cause:#}"));
    }
}
