//! Records for tests.

use crate::{NewPicture, NewResult, Record};
use std::path::PathBuf;
use tempfile::TempDir;

/// A folder that is gone after the test, and the path of a record in it that does not exist yet.
pub(crate) fn place() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("record.db");
    (folder, path)
}

/// Enough of a JPEG file to be taken for one.
pub(crate) fn picture(caption: &str) -> NewPicture {
    NewPicture {
        step: "found".to_string(),
        caption: caption.to_string(),
        media_type: "image/jpeg".to_string(),
        bytes: [&[0xFF, 0xD8, 0xFF, 0xE0], caption.as_bytes()].concat(),
        width: 640,
        height: 480,
    }
}

/// A result made from these inputs.
pub(crate) fn result(inputs: &str) -> NewResult {
    NewResult {
        kind: "setting".to_string(),
        program_version: "0.1.0".to_string(),
        inputs_text: inputs.to_string(),
        report_json: serde_json::json!({ "from": inputs }).to_string(),
    }
}

/// The texts of an owner's fields.
pub(crate) fn texts(record: &Record, owner: impl Into<crate::Owner>) -> Vec<(String, String)> {
    let fields = record.fields(owner.into()).unwrap();
    fields.into_iter().map(|(key, field)| (key, field.text)).collect()
}
