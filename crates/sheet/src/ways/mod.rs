//! The ways of setting compared, as a paper to show to others.

mod view;

use crate::content::Paper;
use crate::error::SheetError;
use crate::typeset;
use drawing::Scene;
use workshop::power::ToldTorque;
use workshop::procedure::Leaf;

/// Everything that stands on the paper.
#[derive(Debug, Clone)]
pub struct WaysContent<'a> {
    /// The comparison in finished texts and drawings.
    pub leaf: &'a Leaf,
    /// What each way gives in torque, where a map is at hand.
    pub torque: Option<ToldTorque>,
    /// The scale under the column of hills.
    pub scale: Scene,
    /// Paper size.
    pub paper: Paper,
    /// The date as it shall be printed; none leaves a line to write it.
    pub date: Option<String>,
}

/// Sets the comparison and returns it as a PDF document: black on white, readable by someone who never saw the program.
///
/// # Errors
/// [`SheetError::Typesetting`] when a page could not be set; no text in the comparison can cause it.
pub fn ways_pdf(content: &WaysContent<'_>) -> Result<Vec<u8>, SheetError> {
    typeset::ways_pdf(&view::of(content), content.paper)
}
