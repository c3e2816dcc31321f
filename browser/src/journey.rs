//! One journey from start to end. The only place that knows of the asynchronous runtime.

use crate::{Page, View, chromium::Chromium};
use anyhow::{Context, Result, anyhow, bail};
use std::time::Duration;

/// How long a journey may take in all, on a slow and busy machine.
const LONGEST: Duration = Duration::from_secs(180);

/// Opens a browser, runs the steps, and ends the browser whatever happens.
///
/// # Errors
/// When a step fails, or when the page wrote errors to its console. A picture of the page at the failure is kept.
pub fn journey(name: &str, view: View, steps: impl AsyncFnOnce(&Page) -> Result<()>) -> Result<()> {
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .context("cannot start the asynchronous runtime")?;
    runtime.block_on(async {
        let chromium = Chromium::launch(view).await?;
        let result = walk(&chromium, name, view, steps).await;
        chromium.close().await;
        result
    })
}

async fn walk(
    chromium: &Chromium,
    name: &str,
    view: View,
    steps: impl AsyncFnOnce(&Page) -> Result<()>,
) -> Result<()> {
    let inner = chromium.browser.new_page("about:blank").await.context("no new page")?;
    let page = Page::open(inner, view, name).await?;
    let result = tokio::time::timeout(LONGEST, steps(&page))
        .await
        .unwrap_or_else(|_| Err(anyhow!("the journey takes longer than {} s", LONGEST.as_secs())));
    if result.is_err() {
        // The journey has failed already; a missing picture would hide why.
        let _ = page.picture("failed").await;
    }
    let faults = page.faults.list();
    if !faults.is_empty() {
        let cause = result.err().map(|cause| format!("{cause:#}\n")).unwrap_or_default();
        bail!("{cause}{name} on the {}: errors in the console:\n{}", view.name(), faults.join("\n"));
    }
    result.with_context(|| format!("{name} on the {}", view.name()))
}
