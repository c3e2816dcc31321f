//! Template and values to PDF bytes.

mod desk;
mod type_case;

use crate::content::Paper;
use crate::error::SheetError;
use desk::{Desk, SHEET, WAYS};
use typst::diag::SourceDiagnostic;
use typst::foundations::{Dict, Smart, Value, dict};
use typst_layout::PagedDocument;
use typst_pdf::PdfOptions;

/// How many sheets ago a remembered layout may have been used before it is forgotten.
const REMEMBERED: usize = 4;

/// Pages that a sheet shall not exceed if it can be helped.
const PAGES_WANTED: usize = 2;

/// How roomy a sheet is set, in the order in which they are tried: the first that fits is taken.
const DENSITIES: [&str; 3] = ["roomy", "plain", "tight"];

/// Density of a sheet that fits in none of them.
const LONG_SHEET: &str = "plain";

/// How a paper to be read, not worked from, is set.
const READING: &str = "reading";

/// Sets the values into the template.
pub(crate) fn pdf(view: &Dict, paper: Paper) -> Result<Vec<u8>, SheetError> {
    finished(fitting(view, paper))
}

/// Sets the comparison of ways into its template.
pub(crate) fn ways_pdf(view: &Dict, paper: Paper) -> Result<Vec<u8>, SheetError> {
    let inputs = dict! { "ways" => view.clone(), "paper" => paper.name(), "density" => READING };
    finished(compiled(WAYS, inputs))
}

fn finished(document: Result<PagedDocument, SheetError>) -> Result<Vec<u8>, SheetError> {
    let bytes = document
        .and_then(|document| typst_pdf::pdf(&document, &options()).map_err(|problems| refused(&problems)));
    typst::comemo::evict(REMEMBERED);
    bytes
}

fn fitting(view: &Dict, paper: Paper) -> Result<PagedDocument, SheetError> {
    // The leaves that follow have no say in how tightly the sheet itself is set.
    let mut alone = view.clone();
    let has_annex = alone.get("annex").is_ok_and(|annex| *annex != Value::None);
    alone.insert("annex".into(), Value::None);
    for density in DENSITIES {
        let document = set(&alone, paper, density)?;
        if document.pages().len() <= PAGES_WANTED {
            return if has_annex { set(view, paper, density) } else { Ok(document) };
        }
    }
    set(view, paper, LONG_SHEET)
}

fn set(view: &Dict, paper: Paper, density: &str) -> Result<PagedDocument, SheetError> {
    let inputs = dict! { "sheet" => view.clone(), "paper" => paper.name(), "density" => density };
    compiled(SHEET, inputs)
}

fn compiled(first: &str, inputs: Dict) -> Result<PagedDocument, SheetError> {
    typst::compile::<PagedDocument>(&Desk::new(first, inputs)?).output.map_err(|problems| refused(&problems))
}

/// No time stamp and no random identifier: the same sheet is the same file.
fn options() -> PdfOptions {
    PdfOptions { creator: Smart::Custom(Some("Portwright".to_owned())), ..PdfOptions::default() }
}

/// The first thing the typesetter complained about.
fn refused(problems: &[SourceDiagnostic]) -> SheetError {
    let reason = problems.first().map_or_else(|| "no reason given".to_owned(), |p| p.message.to_string());
    SheetError::Typesetting { reason }
}
