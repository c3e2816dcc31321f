//! Whether everybody can use the page: the rules of a general accessibility checker, and our own on layout.

use crate::{Page, View};
use anyhow::{Context, Result, bail};
use serde::Deserialize;

/// Rules of the checker that are asked for: WCAG 2.2 levels A and AA, and its advice on landmarks and headings.
const RULES: &str = "['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']";

#[derive(Deserialize)]
struct Violation {
    id: String,
    help: String,
    places: Vec<String>,
}

impl Page {
    /// Holds that the page breaks no rule of accessibility and none of our layout rules.
    ///
    /// # Errors
    /// When it breaks one; every place is listed.
    pub async fn check_access(&self) -> Result<()> {
        let mut all = self.violations().await?;
        all.extend(self.layout_faults().await?);
        if !all.is_empty() {
            bail!("{} faults of accessibility and layout:\n{}", all.len(), all.join("\n"));
        }
        Ok(())
    }

    async fn violations(&self) -> Result<Vec<String>> {
        let file = std::env::var_os("BROWSER_CHECKER")
            .context("BROWSER_CHECKER is not set: run the journeys with `cargo xtask browser`")?;
        let script = std::fs::read_to_string(&file).context("cannot read the accessibility checker")?;
        self.value::<bool>(&format!("{script}; true")).await?;
        let found: Vec<Violation> = self
            .promised(&format!(
                "axe.run(document, {{ runOnly: {RULES} }}).then(report => report.violations.map(fault => \
                 ({{ id: fault.id, help: fault.help, places: fault.nodes.map(node => node.target.join(' ') + ': ' \
                 + node.failureSummary) }})))"
            ))
            .await?;
        Ok(found
            .into_iter()
            .flat_map(|fault| {
                let (id, help) = (fault.id, fault.help);
                fault.places.into_iter().map(move |place| format!("{id} ({help}): {place}"))
            })
            .collect())
    }

    async fn layout_faults(&self) -> Result<Vec<String>> {
        // A thumb in a workshop glove needs more room than a mouse.
        let smallest = if self.view() == View::Phone { 40 } else { 24 };
        self.value(&format!("({})({smallest})", include_str!("layout.js").trim().trim_end_matches(';'))).await
    }
}
