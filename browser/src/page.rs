//! A page and what a user does on it.

use crate::{View, faults::Faults};
use anyhow::{Context, Result, bail, ensure};
use chromiumoxide::Element;
use chromiumoxide::cdp::browser_protocol::dom::SetFileInputFilesParams;
use chromiumoxide::cdp::browser_protocol::emulation::{
    SetDeviceMetricsOverrideParams, SetScriptExecutionDisabledParams,
};
use chromiumoxide::cdp::browser_protocol::page::{CaptureScreenshotFormat, PrintToPdfParams};
use chromiumoxide::cdp::js_protocol::runtime::EvaluateParams;
use chromiumoxide::page::ScreenshotParams;
use serde::de::DeserializeOwned;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// How long a page may take for anything a user waits for. Generous: build machines are slow and busy.
const PATIENCE: Duration = Duration::from_secs(20);
const BETWEEN_LOOKS: Duration = Duration::from_millis(25);

/// An open page.
pub struct Page {
    pub(crate) inner: chromiumoxide::Page,
    pub(crate) faults: Faults,
    view: View,
    journey: String,
}

impl Page {
    pub(crate) async fn open(inner: chromiumoxide::Page, view: View, journey: &str) -> Result<Self> {
        let faults = Faults::listen(&inner).await?;
        let page = Self { inner, faults, view, journey: journey.to_string() };
        page.take_size().await?;
        Ok(page)
    }

    /// Gives the page the size of its view. A picture of the whole page leaves it with that of the window, which no
    /// Chromium makes narrower than 500 px: without this a phone would be as wide as that from the first picture on.
    async fn take_size(&self) -> Result<()> {
        let (width, height) = self.view.size();
        let phone = self.view == View::Phone;
        let (width, height) = (i64::from(width), i64::from(height));
        let mut size =
            SetDeviceMetricsOverrideParams::new(width, height, if phone { 2.0 } else { 1.0 }, phone);
        (size.screen_width, size.screen_height) = (Some(width), Some(height));
        self.inner.execute(size).await.context("the page takes no size")?;
        Ok(())
    }

    /// What the page is looked at with.
    pub fn view(&self) -> View {
        self.view
    }

    /// Opens an address and waits until it is loaded.
    ///
    /// # Errors
    /// When it does not answer.
    pub async fn goto(&self, url: &str) -> Result<()> {
        self.inner.goto(url).await.with_context(|| format!("cannot open {url}"))?;
        self.wait_until("document.readyState === 'complete'").await?;
        // A phone widens its window for a page that is too wide; its screen stays.
        let width = if self.view == View::Phone { "screen.width" } else { "window.innerWidth" };
        let (wanted, wide) = (self.view.size().0, self.value::<u32>(width).await?);
        ensure!(wide == wanted, "the page is looked at {wide} px wide in place of {wanted} px");
        Ok(())
    }

    /// Waits until an element stands on the page.
    ///
    /// # Errors
    /// When it does not appear in time.
    pub async fn wait_for(&self, selector: &str) -> Result<Element> {
        let began = Instant::now();
        loop {
            match self.inner.find_element(selector).await {
                Ok(element) => return Ok(element),
                Err(_) if began.elapsed() < PATIENCE => tokio::time::sleep(BETWEEN_LOOKS).await,
                Err(cause) => {
                    return Err(cause)
                        .with_context(|| format!("after {} s no {selector}", PATIENCE.as_secs()));
                }
            }
        }
    }

    /// Waits until a JavaScript condition is true.
    ///
    /// # Errors
    /// When it does not become true in time.
    pub async fn wait_until(&self, condition: &str) -> Result<()> {
        let began = Instant::now();
        loop {
            // While a page is being replaced there is nothing to ask; that is no fault.
            if self.value::<bool>(&format!("Boolean({condition})")).await.unwrap_or(false) {
                return Ok(());
            }
            if began.elapsed() > PATIENCE {
                bail!("after {} s still not true: {condition}", PATIENCE.as_secs());
            }
            tokio::time::sleep(BETWEEN_LOOKS).await;
        }
    }

    /// The value of a JavaScript expression.
    ///
    /// # Errors
    /// When it throws, or is of another type.
    pub async fn value<T: DeserializeOwned>(&self, expression: &str) -> Result<T> {
        self.evaluate(expression, false).await
    }

    /// What a JavaScript promise is fulfilled with. Never fulfilled where scripts are forbidden.
    ///
    /// # Errors
    /// When it is rejected, or is of another type.
    pub async fn promised<T: DeserializeOwned>(&self, expression: &str) -> Result<T> {
        self.evaluate(expression, true).await
    }

    async fn evaluate<T: DeserializeOwned>(&self, expression: &str, promise: bool) -> Result<T> {
        let mut question = EvaluateParams::new(expression);
        question.await_promise = Some(promise);
        question.return_by_value = Some(true);
        let shown: String = expression.chars().take(80).collect();
        let answer = self.inner.evaluate_expression(question).await.with_context(|| shown.clone())?;
        let value = answer.value().cloned().unwrap_or(serde_json::Value::Null);
        serde_json::from_value(value).with_context(|| format!("another type than expected: {shown}"))
    }

    /// Visible text of an element, once it is there.
    ///
    /// # Errors
    /// When it does not appear.
    pub async fn text_of(&self, selector: &str) -> Result<String> {
        self.wait_for(selector).await?;
        self.value(&format!("document.querySelector({}).innerText", quoted(selector))).await
    }

    /// Scrolls an element into view and clicks it.
    ///
    /// # Errors
    /// When it does not appear or cannot be clicked.
    pub async fn click(&self, selector: &str) -> Result<()> {
        self.wait_for(selector).await?;
        self.wait_until("document.readyState === 'complete'").await?;
        let element = self.wait_for(selector).await?;
        self.wait_still(&element).await.with_context(|| format!("cannot click {selector}"))?;
        element.click().await.with_context(|| format!("cannot click {selector}"))?;
        Ok(())
    }

    /// Waits until an element stays where it is: a page that has just come still moves to the place its address names,
    /// and a click aimed before that would miss.
    async fn wait_still(&self, element: &Element) -> Result<()> {
        let began = Instant::now();
        let mut before = element.scroll_into_view().await?.clickable_point().await?;
        loop {
            tokio::time::sleep(2 * BETWEEN_LOOKS).await;
            let now = element.clickable_point().await?;
            if now == before || began.elapsed() > PATIENCE {
                return Ok(());
            }
            before = now;
        }
    }

    /// Types into a field after emptying it.
    ///
    /// # Errors
    /// When it does not appear or takes no text.
    pub async fn type_into(&self, selector: &str, text: &str) -> Result<()> {
        let field = self.wait_for(selector).await?;
        self.value::<()>(&format!("document.querySelector({}).value = ''", quoted(selector))).await.ok();
        field.click().await?.type_str(text).await.with_context(|| format!("cannot type into {selector}"))?;
        Ok(())
    }

    /// Moves a slider as a hand would leave it: value set, input and change told to the page.
    ///
    /// # Errors
    /// When it does not appear.
    pub async fn set_range(&self, selector: &str, value: f64) -> Result<()> {
        self.wait_for(selector).await?;
        let script = format!(
            "(() => {{ const slider = document.querySelector({}); slider.value = '{value}'; \
             for (const kind of ['input', 'change']) \
             slider.dispatchEvent(new Event(kind, {{ bubbles: true }})); return true; }})()",
            quoted(selector)
        );
        self.value::<bool>(&script).await.map(|_| ())
    }

    /// Chooses a file in a file field.
    ///
    /// # Errors
    /// When the field does not appear.
    pub async fn choose_file(&self, selector: &str, file: &Path) -> Result<()> {
        let field = self.wait_for(selector).await?;
        let mut choice = SetFileInputFilesParams::new(vec![file.display().to_string()]);
        choice.backend_node_id = Some(field.backend_node_id);
        self.inner.execute(choice).await.with_context(|| format!("cannot choose a file in {selector}"))?;
        Ok(())
    }

    /// A picture of the whole page in the folder of pictures; the name carries journey and viewport.
    ///
    /// # Errors
    /// When it cannot be taken or written.
    pub async fn picture(&self, name: &str) -> Result<PathBuf> {
        let path = self.path_of(name, "png")?;
        let how = ScreenshotParams::builder().format(CaptureScreenshotFormat::Png).full_page(true).build();
        self.inner.save_screenshot(how, &path).await.with_context(|| format!("no picture {name}"))?;
        self.take_size().await?;
        Ok(path)
    }

    /// The page as it prints on paper, also kept beside the pictures.
    ///
    /// # Errors
    /// When it cannot be printed or written.
    pub async fn print(&self, name: &str) -> Result<Vec<u8>> {
        let how = PrintToPdfParams {
            prefer_css_page_size: Some(true),
            print_background: Some(true),
            ..PrintToPdfParams::default()
        };
        let bytes = self.inner.save_pdf(how, self.path_of(name, "pdf")?).await?;
        if !bytes.starts_with(b"%PDF-") {
            bail!("{name}: what was printed is no PDF");
        }
        Ok(bytes)
    }

    /// Presses a key in an element, for example "ArrowRight".
    ///
    /// # Errors
    /// When the element does not appear or there is no such key.
    pub async fn press(&self, selector: &str, key: &str) -> Result<()> {
        let element = self.wait_for(selector).await?;
        element.focus().await?.press_key(key).await.with_context(|| format!("cannot press {key}"))?;
        Ok(())
    }

    /// Pages opened from now on run no script of their own, as in a browser that forbids them.
    ///
    /// # Errors
    /// When the browser refuses.
    pub async fn forbid_scripts(&self) -> Result<()> {
        self.inner.execute(SetScriptExecutionDisabledParams::new(true)).await?;
        Ok(())
    }

    /// The bytes that a link of the page leads to.
    ///
    /// # Errors
    /// When there is no such link or it does not answer well.
    pub async fn download(&self, selector: &str) -> Result<Vec<u8>> {
        self.wait_for(selector).await?;
        let script = format!(
            "fetch(document.querySelector({}).href).then(answer => {{ if (!answer.ok) throw new Error(answer.status); \
             return answer.arrayBuffer(); }}).then(bytes => Array.from(new Uint8Array(bytes)))",
            quoted(selector)
        );
        self.promised(&script).await
    }

    /// Takes console errors that hold `part` off the list, and says how many; for errors provoked on purpose.
    pub fn forgive(&self, part: &str) -> usize {
        self.faults.forget(part)
    }

    fn path_of(&self, name: &str, kind: &str) -> Result<PathBuf> {
        let folder = std::env::var_os("BROWSER_PICTURES")
            .map_or_else(|| std::env::temp_dir().join("portwright-pictures"), PathBuf::from);
        std::fs::create_dir_all(&folder).with_context(|| format!("cannot make {}", folder.display()))?;
        Ok(folder.join(format!("{}-{name}-{}.{kind}", self.journey, self.view.name())))
    }
}

/// A text as a JavaScript literal.
fn quoted(text: &str) -> String {
    serde_json::Value::from(text).to_string()
}
