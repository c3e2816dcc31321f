//! A user's TOML file read key by key: every problem at once, each with its line, its key and the mend.
//!
//! [`read`] parses the text and hands its root to the caller as [`Fields`]; what a key must hold is asked of it key by
//! key ([`Fields::text`], [`Fields::tables`], [`Fields::word`]), and every wrong answer is noted, not thrown. What the
//! file is about belongs to the caller: this room knows no checks and no procedures.

mod fields;
mod nearest;
mod problem;
mod source;
mod syntax;

pub use fields::Fields;
pub use nearest::nearest;
pub use problem::Problem;
pub use source::excerpt;

use source::{Problems, Source};
use toml::de::DeTable;

/// Larger texts are refused, in bytes.
pub const LONGEST: usize = 1_000_000;

/// What a kind of file is called and looks like, for sentences.
#[derive(Debug, Clone, Copy)]
pub struct Layout {
    /// What such a file holds: "checks".
    pub holds: &'static str,
    /// Name of its chief section: "check".
    pub section: &'static str,
    /// A line as it may stand in it: `title = "Supply voltage"`.
    pub line: &'static str,
    /// A key as one of its records may have it: "sensor-ends".
    pub key: &'static str,
    /// Most signs of one text.
    pub longest_text: usize,
}

/// Reads a file with `whole`, which asks the root for what it needs.
///
/// # Errors
/// Every problem of the file, in the order of its lines.
pub fn read<T>(
    text: &str,
    layout: &'static Layout,
    whole: impl FnOnce(&Fields<'_, '_>) -> Option<T>,
) -> Result<T, Vec<Problem>> {
    let source = Source::of(text, layout);
    let problems = Problems::default();
    if text.len() > LONGEST {
        problems.add(
            None,
            "",
            format!("the file is larger than 1 MB; a file of {} holds only text", layout.holds),
        );
        return Err(problems.sorted());
    }
    let (root, errors) = DeTable::parse_recoverable(text);
    syntax::explain(&source, &errors, &problems);
    if !errors.is_empty() {
        return Err(problems.sorted());
    }
    match whole(&Fields::root(root.get_ref(), &source, &problems)) {
        Some(read) if problems.is_empty() => Ok(read),
        _ => Err(problems.sorted()),
    }
}
