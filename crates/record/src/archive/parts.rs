//! What stands in the JSON files of an archive. Unknown keys are refused: to pass over them would be a loss.

use serde::{Deserialize, Serialize};

/// `portwright.json`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Head {
    pub format: String,
    pub version: u32,
}

/// Name of the format.
pub(crate) const FORMAT: &str = "portwright-record";
/// Its version; one more with every change that an older program could not read.
pub(crate) const VERSION: u32 = 1;

/// `engine.json`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct EngineAbout {
    pub name: String,
    pub invented: bool,
    pub created_ms: i64,
    pub changed_ms: i64,
    pub deleted_ms: Option<i64>,
}

/// `build.json` and `visit.json`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct About {
    pub name: String,
    pub created_ms: i64,
    pub changed_ms: i64,
    pub deleted_ms: Option<i64>,
}

/// `result.json`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct ResultAbout {
    pub kind: String,
    pub made_ms: i64,
    pub program_version: String,
}

/// `pictures/1.json`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct PictureAbout {
    pub step: String,
    pub caption: String,
    pub media_type: String,
    pub width: u32,
    pub height: u32,
    pub made_ms: i64,
    pub deleted_ms: Option<i64>,
    pub on_sheet: bool,
}
