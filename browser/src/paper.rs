//! What comes out on paper.

use anyhow::{Context, Result};

/// Number of pages of a PDF.
///
/// # Errors
/// When the bytes are no PDF.
pub fn pages_of(pdf: &[u8]) -> Result<usize> {
    let document = lopdf::Document::load_mem(pdf).context("what was made is no PDF")?;
    Ok(document.get_pages().len())
}
