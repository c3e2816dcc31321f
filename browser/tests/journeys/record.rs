//! What is typed stays: saved as it is left, shown after a reload, never written over in silence.

use super::LOOKS;
use anyhow::{Result, ensure};
use browser::{App, Page, View, journey};

const SAVED: &str = "document.querySelector('#saved').textContent === 'Saved.'";

async fn value_of(page: &Page, id: &str) -> Result<String> {
    page.value(&format!("document.querySelector('#{id}').value")).await
}

/// Puts a text into a field as typing does, without leaving it.
async fn fill(page: &Page, id: &str, text: &str) -> Result<()> {
    let text = serde_json::Value::from(text);
    let script = format!(
        "(() => {{ const field = document.querySelector('#{id}'); field.focus(); field.value = {text};\
         field.dispatchEvent(new Event('input', {{ bubbles: true }})); return true; }})()"
    );
    page.value::<bool>(&script).await?;
    Ok(())
}

async fn leave(page: &Page) -> Result<()> {
    page.value::<bool>("(document.activeElement.blur(), true)").await?;
    Ok(())
}

#[test]
fn round_trips_an_engine_begun_from_nothing() {
    let app = App::start().expect("the app starts");
    for view in View::ALL {
        journey("begun", view, async |page| {
            page.goto(&app.url("/")).await?;
            page.type_into("#new-name", "Bench twin").await?;
            page.click(".one-line button[type=submit]").await?;
            page.wait_until("location.pathname.startsWith('/visit/')").await?;
            page.picture("path").await?;
            page.click(".go-on a.strong").await?;
            page.wait_until("document.activeElement?.id === 'field-crank-bore'").await?;
            page.type_into("#field-crank-bore", "54.00").await?;
            page.click("[data-types=field-crank-bore][data-insert=' mm']").await?;
            leave(page).await?;
            page.wait_until(SAVED).await?;
            page.wait_until("document.querySelector('[data-field=\"crank.bore\"] .said.good') !== null")
                .await?;
            let address: String = page.value("location.origin + location.pathname").await?;
            page.goto(&address).await?;
            ensure!(value_of(page, "field-crank-bore").await? == "54.00 mm");
            // A text that cannot be read is kept as it stands, with what is wrong beside it.
            fill(page, "field-crank-stroke", "long").await?;
            leave(page).await?;
            page.wait_until("document.querySelector('[data-field=\"crank.stroke\"] .said.bad') !== null")
                .await?;
            page.goto(&address).await?;
            ensure!(value_of(page, "field-crank-stroke").await? == "long");
            page.picture("form").await?;
            page.check_access().await
        })
        .expect("the journey holds");
    }
}

#[test]
fn refuses_to_write_over_what_another_tab_saved() {
    let app = App::start().expect("the app starts");
    journey("clash", View::Phone, async |page| {
        page.goto(&app.url("/visit/1/step/crank")).await?;
        // Another tab saves the same field meanwhile.
        let other = "fetch('/visit/1/field', { method: 'POST', body: new URLSearchParams({ key: 'crank.bore', \
                     text: '55.0 mm', version: '1', step: 'crank' }) }).then((answer) => { window.other = answer.ok; })";
        page.value::<bool>(&format!("({other}, true)")).await?;
        page.wait_until("window.other === true").await?;
        fill(page, "field-crank-bore", "56.0 mm").await?;
        leave(page).await?;
        page.wait_until("document.querySelector('[data-field=\"crank.bore\"] .clash') !== null").await?;
        let said = page.text_of(".clash").await?;
        ensure!(said.contains("55.0 mm") && said.contains("56.0 mm"), "both texts must be shown: {said}");
        page.picture("both").await?;
        page.check_access().await?;
        page.click(".clash button:first-child").await?;
        page.wait_until(SAVED).await?;
        page.goto(&app.url("/visit/1/step/crank")).await?;
        ensure!(value_of(page, "field-crank-bore").await? == "56.0 mm");
        Ok(())
    })
    .expect("the journey holds");
}

#[test]
fn round_trips_a_text_that_waited_in_the_browser() {
    let app = App::start().expect("the app starts");
    journey("waiting", View::Phone, async |page| {
        page.goto(&app.url("/visit/1/step/crank")).await?;
        // As if the program had been away when it was typed: it stands in the browser's store only.
        let entry = r#"JSON.stringify({ text: '57.0 mm', version: '1', step: 'crank' })"#;
        page.value::<bool>(&format!(
            "(localStorage.setItem('portwright.unsent /visit/1/field crank.bore', {entry}), true)"
        ))
        .await?;
        page.goto(&app.url("/help")).await?;
        page.wait_until("localStorage.length === 0").await?;
        page.goto(&app.url("/visit/1/step/crank")).await?;
        ensure!(value_of(page, "field-crank-bore").await? == "57.0 mm");
        Ok(())
    })
    .expect("the journey holds");
}

#[test]
fn round_trips_a_form_without_scripts() {
    let app = App::start().expect("the app starts");
    journey("no-script-form", View::Phone, async |page| {
        page.forbid_scripts().await?;
        page.goto(&app.url("/visit/1/step/crank")).await?;
        page.value::<bool>("(document.querySelector('#field-crank-bore').value = 'wide', true)").await?;
        page.value::<bool>("(document.querySelector('.stay .button').click(), true)").await?;
        page.wait_until("location.pathname.endsWith('/step/ports')").await?;
        page.goto(&app.url("/visit/1/step/crank")).await?;
        ensure!(value_of(page, "field-crank-bore").await? == "wide");
        ensure!(page.text_of("#field-crank-bore-note").await?.contains("wide"), "the problem is not said");
        Ok(())
    })
    .expect("the journey holds");
}

#[test]
fn agrees_everybody_can_use_list_path_and_forms_in_light_and_dark() {
    let app = App::start().expect("the app starts");
    for (view, theme) in LOOKS {
        journey("access-record", view, async |page| {
            page.goto(&app.url(&format!("/?theme={theme}"))).await?;
            page.check_access().await?;
            for place in ["", "/step/crank", "/step/ports", "/step/valve", "/step/as-found", "/step/gates"] {
                page.goto(&app.url(&format!("/visit/1{place}"))).await?;
                page.picture(&format!("{theme}{}", place.replace('/', "-"))).await?;
                page.check_access().await?;
            }
            Ok(())
        })
        .unwrap_or_else(|cause| panic!("{theme}: {cause:#}"));
    }
}
