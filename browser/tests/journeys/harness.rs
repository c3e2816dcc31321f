//! The harness itself, on small pages of its own.

use anyhow::{Result, ensure};
use browser::{View, journey};

const GOOD: &str = r#"<!doctype html><html lang="en"><head><title>Trial</title>
<meta name="viewport" content="width=device-width"></head><body><main><h1>Trial</h1>
<label style="display:block;font-size:20px;padding:12px 0">Travel
<input id="travel" type="range" min="0" max="90" value="0"></label><p id="shown">0</p>
<label>Name <input id="name" style="height:48px"></label>
<button id="go" style="height:48px" type="button">Go</button><p id="said"></p>
<script>
travel.oninput = () => { shown.textContent = travel.value + ' degrees'; };
go.onclick = () => setTimeout(() => { said.textContent = 'hello ' + document.getElementById('name').value; }, 50);
</script></main></body></html>"#;

fn address_of(html: &str) -> String {
    let hex: String = html.bytes().map(|byte| format!("%{byte:02x}")).collect();
    format!("data:text/html,{hex}")
}

fn walk_good(view: View) -> Result<()> {
    journey("harness", view, async |page| {
        page.goto(&address_of(GOOD)).await?;
        let width: u32 = page.value("window.innerWidth").await?;
        ensure!(width == view.size().0, "the window is {width} px wide");
        page.set_range("#travel", 45.0).await?;
        ensure!(page.text_of("#shown").await? == "45 degrees");
        page.type_into("#name", "Ada").await?;
        page.click("#go").await?;
        page.wait_until("said.textContent === 'hello Ada'").await?;
        page.check_access().await?;
        ensure!(page.print("sheet").await?.len() > 500);
        let picture = page.picture("whole").await?;
        ensure!(picture.is_file(), "no picture {}", picture.display());
        Ok(())
    })
}

#[test]
fn agrees_with_a_good_page_on_the_phone() {
    walk_good(View::Phone).expect("the journey holds");
}

#[test]
fn agrees_with_a_good_page_on_the_desktop() {
    walk_good(View::Desktop).expect("the journey holds");
}

#[test]
fn refuses_errors_in_the_console() {
    let result = journey("harness-console", View::Desktop, async |page| {
        page.goto(&address_of("<title>Bad</title><script>console.error('first'); missing.call();</script>"))
            .await
    });
    let text = result.expect_err("errors must fail the journey").to_string();
    assert!(text.contains("first") && text.contains("missing is not defined"), "{text}");
}

#[test]
fn refuses_a_page_that_shuts_people_out() {
    let bad = r#"<!doctype html><html><head><title>Bad</title></head><body><img src="data:,"><input>
        <p style="color:#bbb;background:#fff;width:1500px;font-size:9px">pale, wide and tiny</p>
        <svg width="50" height="20" role="img" aria-label="x"><text x="30" y="15">cut off</text></svg></body></html>"#;
    let result = journey("harness-access", View::Phone, async |page| {
        page.goto(&address_of(bad)).await?;
        page.check_access().await
    });
    let text = format!("{:#}", result.expect_err("the faults must fail the journey"));
    for fault in
        ["image-alt", "label", "color-contrast", "html-has-lang", "px wide", "px high", "12 px", "outside"]
    {
        assert!(text.contains(fault), "{fault} was not found:\n{text}");
    }
}
