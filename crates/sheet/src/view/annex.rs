//! What follows the sheet: checks, notes, photos.

use super::{Bytes, Dict, IntoValue, Value, dict, list, text};
use crate::content::{Annex, Checked, Photo};

/// The annex; none when it is empty.
pub(super) fn of(annex: &Annex) -> Value {
    if annex.is_empty() {
        return Value::None;
    }
    dict! {
        "notes" => list(&paragraphs(&annex.notes), |line| text(line)),
        "checks" => list(&annex.checks, checked),
        "photos" => list(&annex.photos, photo),
    }
    .into_value()
}

fn paragraphs(notes: &str) -> Vec<&str> {
    notes.lines().map(str::trim).filter(|line| !line.is_empty()).collect()
}

fn checked(check: &Checked) -> Dict {
    dict! {
        "title" => text(&check.title),
        "read" => text(&check.read),
        "says" => text(&check.says),
        "verdict" => text(&check.verdict),
    }
}

fn photo(photo: &Photo) -> Dict {
    dict! {
        "caption" => text(&photo.caption),
        "format" => text(photo.format.name()),
        "bytes" => Bytes::new(photo.bytes.clone()),
    }
}
