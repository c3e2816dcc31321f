//! Starting and ending Chromium.

use anyhow::{Context, Result, anyhow};
use chromiumoxide::handler::viewport::Viewport;
use chromiumoxide::{Browser, BrowserConfig};
use futures::StreamExt;
use std::path::PathBuf;
use std::time::Duration;
use tempfile::TempDir;
use tokio::task::JoinHandle;

/// What the page is looked at with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum View {
    /// 360 x 740 with touch, two device pixels to one of the page.
    Phone,
    /// 1280 x 800 with a mouse.
    Desktop,
}

impl View {
    /// All of them.
    pub const ALL: [Self; 2] = [Self::Phone, Self::Desktop];

    /// Width and height in pixels of the page.
    pub fn size(self) -> (u32, u32) {
        match self {
            Self::Phone => (360, 740),
            Self::Desktop => (1280, 800),
        }
    }

    /// Word for file names.
    pub fn name(self) -> &'static str {
        match self {
            Self::Phone => "phone",
            Self::Desktop => "desktop",
        }
    }

    fn viewport(self) -> Viewport {
        let (width, height) = self.size();
        let phone = self == Self::Phone;
        Viewport {
            width,
            height,
            device_scale_factor: Some(if phone { 2.0 } else { 1.0 }),
            emulating_mobile: phone,
            is_landscape: !phone,
            has_touch: phone,
        }
    }
}

/// A running Chromium with a user folder of its own.
pub(crate) struct Chromium {
    pub(crate) browser: Browser,
    events: JoinHandle<()>,
    _folder: TempDir,
}

impl Chromium {
    /// Starts it.
    pub(crate) async fn launch(view: View) -> Result<Self> {
        let folder = tempfile::tempdir().context("no folder for Chromium's user data")?;
        let (width, height) = view.size();
        let config = BrowserConfig::builder()
            .chrome_executable(executable()?)
            .user_data_dir(folder.path())
            .new_headless_mode()
            .no_sandbox()
            .viewport(view.viewport())
            .window_size(width, height)
            .launch_timeout(Duration::from_secs(60))
            .request_timeout(Duration::from_secs(60))
            .args(["disable-gpu", "disable-quic", "disable-component-update", "no-default-browser-check"])
            .build()
            .map_err(|cause| anyhow!("Chromium's settings are refused: {cause}"))?;
        let (browser, mut handler) = Browser::launch(config).await.context("Chromium does not start")?;
        let events = tokio::spawn(async move { while handler.next().await.is_some() {} });
        Ok(Self { browser, events, _folder: folder })
    }

    /// Ends it and waits until it is gone, so that its folder can be removed.
    pub(crate) async fn close(mut self) {
        if self.browser.close().await.is_err() || self.browser.wait().await.is_err() {
            self.browser.kill().await;
        }
        self.events.abort();
    }
}

fn executable() -> Result<PathBuf> {
    let folders = std::env::var_os("PATH").unwrap_or_default();
    let names = ["chromium", "chromium-browser", "google-chrome"];
    std::env::split_paths(&folders)
        .flat_map(|folder| names.map(|name| folder.join(name)))
        .find(|path| path.is_file())
        .context("there is no chromium on the PATH: ./check installs it")
}
