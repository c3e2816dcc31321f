//! What a page complains of in its console.

use anyhow::Result;
use chromiumoxide::Page;
use chromiumoxide::cdp::browser_protocol::log::{EventEntryAdded, LogEntryLevel};
use chromiumoxide::cdp::js_protocol::runtime::{
    ConsoleApiCalledType, EventConsoleApiCalled, EventExceptionThrown,
};
use futures::StreamExt;
use std::sync::{Arc, Mutex, PoisonError};

/// Errors of one page since it was opened.
#[derive(Clone, Default)]
pub(crate) struct Faults(Arc<Mutex<Vec<String>>>);

impl Faults {
    /// Begins to listen.
    pub(crate) async fn listen(page: &Page) -> Result<Self> {
        let faults = Self::default();
        page.enable_log().await?;
        let mut entries = page.event_listener::<EventEntryAdded>().await?;
        let mut calls = page.event_listener::<EventConsoleApiCalled>().await?;
        let mut thrown = page.event_listener::<EventExceptionThrown>().await?;
        let list = faults.clone();
        tokio::spawn(async move {
            while let Some(event) = entries.next().await {
                if event.entry.level == LogEntryLevel::Error {
                    let place = event.entry.url.as_deref().unwrap_or_default();
                    list.add(format!("{} {place}", event.entry.text));
                }
            }
        });
        let list = faults.clone();
        tokio::spawn(async move {
            while let Some(event) = calls.next().await {
                if matches!(event.r#type, ConsoleApiCalledType::Error | ConsoleApiCalledType::Assert) {
                    let words: Vec<_> = event.args.iter().map(|word| format!("{:?}", word.value)).collect();
                    list.add(format!("console error: {}", words.join(" ")));
                }
            }
        });
        let list = faults.clone();
        tokio::spawn(async move {
            while let Some(event) = thrown.next().await {
                let details = &event.exception_details;
                let cause = details.exception.as_ref().and_then(|object| object.description.clone());
                list.add(format!("exception: {}", cause.unwrap_or_else(|| details.text.clone())));
            }
        });
        Ok(faults)
    }

    /// All complaints so far.
    pub(crate) fn list(&self) -> Vec<String> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// Forgets the complaints that hold `part`; for a journey that provokes an error on purpose.
    pub(crate) fn forget(&self, part: &str) -> usize {
        let mut list = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let before = list.len();
        list.retain(|fault| !fault.contains(part));
        before - list.len()
    }

    fn add(&self, fault: String) {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).push(fault);
    }
}
