//! A set-up sheet as PDF bytes.
//!
//! The sheet is a designed page for the workshop bench: what is wrong, what is turned, what must be seen, with room to
//! write. It computes no number: every figure arrives as finished text in a [`workshop::report::Report`] and is handed
//! to the typesetter as a value, never as markup. The typesetter lives in a world without files, network and clock; the
//! same content gives the same bytes.

mod content;
mod error;
mod typeset;
mod view;
mod ways;
mod words;

pub use content::{Annex, Checked, Drawing, Paper, Photo, PhotoFormat, Place, SheetContent};
pub use error::SheetError;
pub use ways::{WaysContent, ways_pdf};

/// Sets the sheet and returns it as a PDF document.
///
/// The pages are in [`SheetContent::paper`]'s size. While questions are open or a gate stops the path the sheet says so
/// in a large box and holds no steps, whatever stands in the report.
///
/// # Errors
/// [`SheetError::Drawing`] when a drawing is not an SVG document, [`SheetError::Typesetting`] when a page could not be
/// set. No text in the report can cause either.
pub fn pdf(content: &SheetContent<'_>) -> Result<Vec<u8>, SheetError> {
    for drawing in &content.drawings {
        drawing.check()?;
    }
    typeset::pdf(&view::of(content), content.paper)
}
