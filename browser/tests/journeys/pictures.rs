//! Photos on a job card: taken, described, printed on the sheet, deleted and brought back.

use super::LOOKS;
use crate::photo;
use anyhow::{Result, ensure};
use browser::{App, Page, View, journey};
use std::path::Path;

const PICTURES: &str = "/visit/1/pictures";
const SHOWN: &str = "(() => { const seen = document.querySelector('.picture-list img'); \
                     return seen !== null && seen.complete && seen.naturalWidth === 200; })()";

/// Attaches a photo as a mechanic does, and waits until it is seen.
async fn attach(app: &App, page: &Page, file: &Path, seen: &str) -> Result<()> {
    page.goto(&app.url(PICTURES)).await?;
    page.choose_file("#picture-photo", file).await?;
    page.type_into("#picture-caption", seen).await?;
    page.click(".picture-new button[type=submit]").await?;
    page.wait_until("location.hash.startsWith('#picture-')").await?;
    page.wait_until(SHOWN).await
}

/// Whether the photo stands on the sheet as it is printed, with its text below.
async fn on_the_sheet(app: &App, page: &Page, expected: bool) -> Result<()> {
    page.goto(&app.url("/visit/1/sheet")).await?;
    page.wait_for("article.sheet").await?;
    let printed: Vec<(u32, String)> = page
        .value(
            "[...document.querySelectorAll('article.sheet .sheet-photos figure')]\
             .map(figure => [figure.querySelector('img').naturalWidth, figure.querySelector('figcaption').innerText])",
        )
        .await?;
    let wanted = [(200, "As found: Edge of the blade, as found".to_owned())];
    ensure!(printed == wanted[..usize::from(expected)], "on the sheet stands {printed:?}");
    if expected {
        page.picture("sheet").await?;
    }
    Ok(())
}

/// Presses a button of the first picture and waits until the page that follows says so.
async fn press(page: &Page, action: &str, then: &str) -> Result<()> {
    page.click(&format!(".picture-list form[action$='/{action}'] button")).await?;
    page.wait_until(then).await
}

#[test]
fn round_trips_a_photo_from_the_file_field_to_the_sheet_and_back_from_deletion() {
    for view in View::ALL {
        let app = App::start().expect("the app starts");
        let file = app.file("edge.png", &photo::png()).expect("a file for the photo");
        journey("pictures", view, async |page| {
            page.goto(&app.url("/visit/1")).await?;
            page.click("a[href$='/pictures']").await?;
            page.wait_until("location.pathname.endsWith('/pictures')").await?;
            page.picture("none").await?;
            attach(&app, page, &file, "edge of the flap").await?;
            page.type_into(".picture-list form[action$='/caption'] input", "Edge of the blade, as found")
                .await?;
            let spoken = "document.querySelector('.picture-list img')?.alt === 'Edge of the blade, as found'";
            press(page, "caption", spoken).await?;
            let printed =
                "document.querySelector('.picture-list')?.innerText.includes('Printed on the sheet')";
            press(page, "sheet", printed).await?;
            page.wait_until(SHOWN).await?;
            page.picture("one").await?;
            page.check_access().await?;
            on_the_sheet(&app, page, true).await?;
            page.goto(&app.url(PICTURES)).await?;
            let gone = "document.querySelector('.picture-undo') && !document.querySelector('.picture-list')";
            press(page, "delete", gone).await?;
            page.picture("deleted").await?;
            page.check_access().await?;
            let address: String = page.value("location.href").await?;
            on_the_sheet(&app, page, false).await?;
            page.goto(&address).await?;
            page.click(".picture-undo button").await?;
            page.wait_until(spoken).await?;
            page.wait_until(printed).await?;
            on_the_sheet(&app, page, true).await
        })
        .expect("the journey holds");
    }
}

#[test]
fn refuses_a_file_that_is_no_picture_with_a_sentence() {
    let app = App::start().expect("the app starts");
    // A name alone makes no picture, and a torn one is none either.
    let whole = photo::png();
    let cases = [
        ("letter.png", &b"Dear workshop, the photo follows by post."[..], "no photo of a kind that is kept"),
        ("torn.png", &whole[..whole.len() / 2], "cut short or broken"),
    ];
    for (name, bytes, said) in cases {
        let file = app.file(name, bytes).expect("a file to send");
        journey("no-picture", View::Phone, async |page| {
            page.goto(&app.url(PICTURES)).await?;
            page.choose_file("#picture-photo", &file).await?;
            page.click(".picture-new button[type=submit]").await?;
            page.wait_until("document.querySelector('#picture-photo') === null").await?;
            let told = page.text_of("main").await?;
            ensure!(told.contains(said) && told.contains("was not kept"), "{name}: {told}");
            page.picture(name).await?;
            page.check_access().await?;
            page.goto(&app.url(PICTURES)).await?;
            ensure!(page.text_of("main").await?.contains("No pictures yet"), "{name} was kept all the same");
            ensure!(page.forgive("422") == 1, "the refusal is answered as one");
            Ok(())
        })
        .unwrap_or_else(|cause| panic!("{name}: {cause:#}"));
    }
}

#[test]
fn agrees_everybody_can_use_the_pictures_in_light_and_dark() {
    let app = App::start().expect("the app starts");
    let file = app.file("edge.png", &photo::png()).expect("a file for the photo");
    for (view, theme) in LOOKS {
        journey("access-pictures", view, async |page| {
            page.goto(&app.url(&format!("/?theme={theme}"))).await?;
            attach(&app, page, &file, "").await?;
            page.picture(theme).await?;
            page.check_access().await
        })
        .unwrap_or_else(|cause| panic!("{theme}: {cause:#}"));
    }
}
