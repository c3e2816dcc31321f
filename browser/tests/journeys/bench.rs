//! At the bench: checks one a screen, the fault that is found, what normal looks like, care, checks of one's own.

use super::LOOKS;
use anyhow::{Result, ensure};
use browser::{App, Page, View, journey};

/// Chooses an answer of a choice, as a finger does, and waits until the program has it.
async fn choose(page: &Page, key: &str, value: &str) -> Result<()> {
    page.wait_until("document.readyState === 'complete'").await?;
    let choice = format!("input[type=radio][name=\"t:{key}\"][value=\"{value}\"]");
    page.value::<bool>(&format!("(document.querySelector('{choice}').click(), true)")).await?;
    page.wait_until(&format!(
        "document.querySelector('input[type=radio][name=\"t:{key}\"]').dataset.saved === '{value}'"
    ))
    .await
}

/// Types into the field of a reading and waits until the program has it.
async fn read(page: &Page, key: &str, text: &str) -> Result<()> {
    page.wait_until("document.readyState === 'complete'").await?;
    let field = format!("[data-key=\"{key}\"]");
    // Units and signs are no keys of a keyboard: the text is put in as the page's own buttons put it in.
    page.value::<bool>(&format!(
        "(() => {{ const field = document.querySelector('{field}'); field.value = '{text}'; \
         for (const kind of ['input', 'change']) field.dispatchEvent(new Event(kind, {{ bubbles: true }})); \
         return true; }})()"
    ))
    .await?;
    page.wait_until(&format!("document.querySelector('{field}').dataset.saved === '{text}'")).await
}

#[test]
fn practice_a_sensor_of_4_24_kiloohm_passes_and_4_24_ohm_is_asked_about() {
    for view in View::ALL {
        let app = App::start().expect("the app starts");
        journey("bench-check", view, async |page| {
            page.goto(&app.url("/visit/1")).await?;
            page.click("a[href$='/checks']").await?;
            page.wait_until("location.pathname.endsWith('/checks')").await?;
            page.picture("list").await?;
            page.click("a[href$='/check/sensor-ends']").await?;
            page.wait_until(
                "location.pathname.endsWith('/check/sensor-ends') && document.readyState === 'complete'",
            )
            .await?;
            let verdict = "document.querySelector('.verdict-row .note').innerText";
            read(page, "check.sensor-ends.end-to-end", "4.24 Ω").await?;
            page.wait_until(&format!("{verdict}.includes('A question is open')")).await?;
            page.picture("question").await?;
            page.check_access().await?;
            read(page, "check.sensor-ends.end-to-end", "4.24 kΩ").await?;
            page.wait_until(&format!("{verdict}.includes('Pass')")).await?;
            page.goto(&app.url("/visit/1/checks")).await?;
            let done = page.text_of("section[aria-label=Done]").await?;
            ensure!(done.contains("Position sensor from end to end") && done.contains("pass"), "{done}");
            page.goto(&app.url("/visit/1/sheet")).await?;
            ensure!(page.text_of("article.sheet").await?.contains("4.24"), "the check is not on the sheet");
            Ok(())
        })
        .expect("the journey holds");
    }
}

#[test]
fn round_trips_an_answer_and_a_timed_reading_through_a_reload() {
    let app = App::start().expect("the app starts");
    journey("bench-answer", View::Phone, async |page| {
        page.goto(&app.url("/visit/1/check/motor-both-ways")).await?;
        choose(page, "check.motor-both-ways.turns", "both-ways").await?;
        let timer = "document.querySelector('[data-timer]')";
        page.value::<bool>(&format!("({timer}.click(), true)")).await?;
        page.wait_until(&format!("/[1-9] s$/.test({timer}.textContent)")).await?;
        page.value::<bool>(&format!("({timer}.click(), true)")).await?;
        let field = "document.getElementById(document.querySelector('[data-timer]').dataset.timer)";
        page.wait_until(&format!("{field}.dataset.saved.endsWith('± 0.2 s')")).await?;
        let timed: String = page.value(&format!("{field}.value")).await?;
        page.goto(&app.url("/visit/1/check/motor-both-ways")).await?;
        ensure!(page.value::<String>(&format!("{field}.value")).await? == timed, "the time is lost");
        let chosen: String = page
            .value("document.querySelector('input[name=\"t:check.motor-both-ways.turns\"]:checked').value")
            .await?;
        ensure!(chosen == "both-ways", "{chosen} is chosen");
        Ok(())
    })
    .expect("the journey holds");
}

#[test]
fn practice_answers_move_the_causes_and_the_next_check() {
    for view in View::ALL {
        let app = App::start().expect("the app starts");
        journey("bench-find", view, async |page| {
            page.goto(&app.url("/visit/1/find")).await?;
            page.wait_until("document.querySelector('#ranking').innerText.includes('Nothing was noticed')")
                .await?;
            for (symptom, seen) in [("hunting", "yes"), ("comes-and-goes", "yes"), ("flat-top", "no")] {
                choose(page, &format!("symptom.{symptom}"), seen).await?;
            }
            page.wait_until(
                "document.querySelector('#ranking .headline').innerText.includes('Likeliest so far') && \
                 document.querySelector('#ranking .causes h3').innerText !== ''",
            )
            .await?;
            // The ranking is put in place anew after each answer: a fresh page holds still under the finger.
            page.goto(&app.url("/visit/1/find")).await?;
            let first = "document.querySelector('#ranking a[href*=\"/check/\"]')";
            let before: String = page.value(&format!("{first}.pathname")).await?;
            page.click("#ranking form button").await?;
            page.wait_until(&format!("{first}?.pathname !== '{before}'")).await?;
            page.goto(&app.url("/visit/1/check/sensor-sweep")).await?;
            choose(page, "check.sensor-sweep.swept", "jumps").await?;
            page.goto(&app.url("/visit/1/find")).await?;
            let top: String = page.value("document.querySelector('#ranking .causes h3').innerText").await?;
            ensure!(top.contains("sensor worn"), "on top stands {top}");
            page.picture("ranked").await?;
            page.check_access().await
        })
        .expect("the journey holds");
    }
}

#[test]
fn round_trips_the_known_good_engine_to_the_next_visit() {
    let app = App::start().expect("the app starts");
    journey("bench-normal", View::Phone, async |page| {
        page.goto(&app.url("/visit/1/normal")).await?;
        let told = "document.querySelector('[data-part=told]').textContent";
        let before: String = page.value(told).await?;
        page.value::<bool>(
            "(() => { const now = document.querySelector('#now'); now.value = now.max * 0.6; \
             now.dispatchEvent(new Event('input', { bubbles: true })); return true; })()",
        )
        .await?;
        page.wait_until(&format!("{told} !== {}", serde_json::Value::from(before))).await?;
        read(page, "normal.idle", "0 ± 2 %").await?;
        read(page, "normal.top", "100 ± 2 %").await?;
        page.click("form[action$='/normal/keep'] button").await?;
        page.wait_until("document.querySelector('#difference') !== null").await?;
        read(page, "normal.top", "60 ± 2 %").await?;
        page.goto(&app.url("/visit/1/normal")).await?;
        let difference = page.text_of("section[aria-labelledby=difference]").await?;
        ensure!(difference.contains("differs") && difference.contains("same"), "{difference}");
        page.picture("difference").await?;
        page.check_access().await
    })
    .expect("the journey holds");
}

#[test]
fn round_trips_care_that_was_done() {
    let app = App::start().expect("the app starts");
    journey("bench-care", View::Phone, async |page| {
        page.goto(&app.url("/visit/1/care")).await?;
        read(page, "care.hours", "42.5 h").await?;
        let done = "document.querySelector('select[data-key=\"care.clean-valve\"]')";
        page.value::<bool>(&format!(
            "(() => {{ {done}.value = 'stiff'; {done}.dispatchEvent(new Event('change', {{ bubbles: true }})); \
             return true; }})()"
        ))
        .await?;
        page.wait_until(&format!("{done}.dataset.saved === 'stiff'")).await?;
        page.goto(&app.url("/visit/1/care")).await?;
        let row: String = page.value(&format!("{done}.closest('.phase').querySelector('.pill').innerText")).await?;
        ensure!(row == "later", "a task that was just done is {row}");
        page.picture("done").await?;
        page.check_access().await
    })
    .expect("the journey holds");
}

#[test]
fn refuses_checks_of_ones_own_with_errors_and_keeps_their_text() {
    let app = App::start().expect("the app starts");
    journey("bench-own", View::Desktop, async |page| {
        page.goto(&app.url("/bench/own")).await?;
        page.type_into("#own-checks", "[[check]] key = 3").await?;
        page.click("form:has(#own-checks) button").await?;
        page.wait_until("document.querySelector('[role=alert]') !== null").await?;
        ensure!(page.text_of("[role=alert]").await?.contains("line 1"), "no line is named");
        let kept: String = page.value("document.querySelector('#own-checks').value").await?;
        ensure!(kept.contains("[[check]] key = 3"), "the text is lost: {kept}");
        page.picture("errors").await?;
        page.check_access().await?;
        ensure!(page.forgive("422") == 1, "the refusal is answered as one");
        Ok(())
    })
    .expect("the journey holds");
}

#[test]
fn agrees_everybody_can_use_the_bench_in_light_and_dark() {
    let app = App::start().expect("the app starts");
    for (view, theme) in LOOKS {
        journey("access-bench", view, async |page| {
            page.goto(&app.url(&format!("/?theme={theme}"))).await?;
            for path in [
                "checks",
                "check/motor-both-ways",
                "check/sensor-ends",
                "find",
                "normal",
                "care",
                "procedures",
            ] {
                page.goto(&app.url(&format!("/visit/1/{path}"))).await?;
                page.picture(&format!("{theme}-{}", path.replace('/', "-"))).await?;
                page.check_access().await?;
            }
            Ok(())
        })
        .unwrap_or_else(|cause| panic!("{theme}: {cause:#}"));
    }
}
