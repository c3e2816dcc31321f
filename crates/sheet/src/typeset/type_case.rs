//! The typeface: three cuts of one family, built in.

use std::sync::LazyLock;
use typst::foundations::Bytes;
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;

/// Fonts and their index.
pub(crate) struct TypeCase {
    /// The fonts.
    pub(crate) fonts: Vec<Font>,
    /// What is known of them, in the same order.
    pub(crate) book: LazyHash<FontBook>,
}

const CUTS: [&[u8]; 3] = [
    include_bytes!("../../fonts/Inter-Regular.otf"),
    include_bytes!("../../fonts/Inter-Italic.otf"),
    include_bytes!("../../fonts/Inter-SemiBold.otf"),
];

/// Read once, shared by all sheets.
pub(crate) static TYPE_CASE: LazyLock<TypeCase> = LazyLock::new(|| {
    let fonts: Vec<Font> = CUTS.iter().flat_map(|cut| Font::iter(Bytes::new(*cut))).collect();
    let book = LazyHash::new(FontBook::from_fonts(&fonts));
    TypeCase { fonts, book }
});
