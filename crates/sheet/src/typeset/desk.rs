//! The typesetter's closed world: the template, the fonts, the values, and nothing else.

use super::type_case::TYPE_CASE;
use crate::error::SheetError;
use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Dict, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};

/// Where the set-up sheet begins.
pub(crate) const SHEET: &str = "/sheet.typ";
/// Where the comparison of ways begins.
pub(crate) const WAYS: &str = "/ways.typ";

/// Name and text of each part of the templates.
const TEMPLATE: [(&str, &str); 8] = [
    ("/ways.typ", include_str!("../../template/ways.typ")),
    ("/way.typ", include_str!("../../template/way.typ")),
    ("/sheet.typ", include_str!("../../template/sheet.typ")),
    ("/look.typ", include_str!("../../template/look.typ")),
    ("/head.typ", include_str!("../../template/head.typ")),
    ("/work.typ", include_str!("../../template/work.typ")),
    ("/record.typ", include_str!("../../template/record.typ")),
    ("/annex.typ", include_str!("../../template/annex.typ")),
];

/// The world of one sheet.
pub(crate) struct Desk {
    library: LazyHash<Library>,
    main: FileId,
    sources: Vec<Source>,
}

impl Desk {
    /// Lays out the template that begins at `first` with the values that it reads as `sys.inputs`.
    pub(crate) fn new(first: &str, inputs: Dict) -> Result<Self, SheetError> {
        let sources =
            TEMPLATE.iter().map(|(name, text)| source(name, text)).collect::<Result<Vec<_>, _>>()?;
        let main = sources.get(begins(first)).map(Source::id).ok_or_else(|| unreadable(first))?;
        let library = LazyHash::new(Library::builder().with_inputs(inputs).build());
        Ok(Self { library, main, sources })
    }
}

/// Place of a part of the template.
fn begins(first: &str) -> usize {
    TEMPLATE.iter().position(|(name, _)| *name == first).unwrap_or(TEMPLATE.len())
}

fn source(name: &str, text: &str) -> Result<Source, SheetError> {
    let path = VirtualPath::new(name).map_err(|_| unreadable(name))?;
    Ok(Source::new(RootedPath::new(VirtualRoot::Project, path).intern(), text.to_owned()))
}

fn unreadable(what: &str) -> SheetError {
    SheetError::Typesetting { reason: format!("a part of the template cannot be read ({what})") }
}

impl World for Desk {
    fn library(&self) -> &LazyHash<Library> {
        &self.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &TYPE_CASE.book
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        self.sources.iter().find(|s| s.id() == id).cloned().ok_or(FileError::AccessDenied)
    }

    fn file(&self, _: FileId) -> FileResult<Bytes> {
        Err(FileError::AccessDenied)
    }

    fn font(&self, index: usize) -> Option<Font> {
        TYPE_CASE.fonts.get(index).cloned()
    }

    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}
