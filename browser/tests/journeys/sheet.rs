//! The sheet for the bench: printed from the page, and as PDF.

use crate::DEMO;
use anyhow::{Result, ensure};
use browser::{App, View, journey, pages_of};

#[test]
fn agrees_sheet_prints_on_one_or_two_pages_and_the_pdf_too() {
    let app = App::start().expect("the app starts");
    for view in View::ALL {
        journey("sheet", view, async |page| {
            page.goto(&app.url(DEMO)).await?;
            page.click("#answer a[href$='/sheet']").await?;
            let text = page.text_of("article.sheet").await?;
            for word in ["±", "mm", "°", "Set by", "invented"] {
                ensure!(text.to_lowercase().contains(&word.to_lowercase()), "{word} is not on the sheet");
            }
            page.picture("page").await?;
            page.check_access().await?;
            let printed = pages_of(&page.print("page").await?)?;
            ensure!((1..=2).contains(&printed), "the sheet prints on {printed} pages");
            let pdf = page.download("a[href$='/sheet.pdf']").await?;
            let made = pages_of(&pdf)?;
            ensure!((1..=2).contains(&made), "the PDF has {made} pages");
            Ok(())
        })
        .expect("the journey holds");
    }
}

#[test]
fn agrees_setting_prints_well_from_its_own_page() -> Result<()> {
    let app = App::start()?;
    journey("print-setting", View::Desktop, async |page| {
        page.goto(&app.url(DEMO)).await?;
        page.wait_for("#answer").await?;
        let printed = pages_of(&page.print("page").await?)?;
        ensure!(printed <= 12, "the page prints on {printed} pages");
        Ok(())
    })
}
