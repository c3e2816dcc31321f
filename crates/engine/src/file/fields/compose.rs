//! Fields to an engine file.

use super::page::{Headings, Page};
use crate::file::problem::Problem;
use std::collections::BTreeMap;

/// An engine file written from fields.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Composed {
    /// The file. It is always TOML; whether it is an engine only [`crate::file::read`] can tell.
    pub toml: String,
    /// Texts that are not in the file (unknown field, far too long) or not of the form their field has.
    pub problems: Vec<Problem>,
    /// Fields with a text that are not in the file because they belong to another kind of valve or spring than the
    /// one that is chosen.
    pub dormant: Vec<String>,
}

/// The fields as an engine file, in the order in which a file is best written. Blank texts are left out.
pub fn compose(fields: &BTreeMap<String, String>) -> Composed {
    let page = Page::of(fields, Headings::Needed);
    Composed { toml: page.toml, problems: page.problems, dormant: page.dormant }
}
