//! Why a sheet could not be made.

/// Why a sheet could not be made.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum SheetError {
    /// A drawing is not an SVG document.
    #[error("the drawing \"{caption}\" could not be put on the sheet: it is not an SVG document")]
    Drawing {
        /// The drawing's caption.
        caption: String,
    },
    /// A page could not be set.
    #[error("the sheet could not be set as PDF: {reason}; please report this with the engine file")]
    Typesetting {
        /// What the typesetter said.
        reason: String,
    },
}
