//! Engines as open files: a zip archive, not compressed, that anyone can unpack and read, and that can be read in
//! again without loss.
//!
//! ```text
//! portwright.json                            what this archive is
//! engine-1/engine.json                       name, times
//! engine-1/fields.json, history.json         texts as they stand, and every earlier text
//! engine-1/build-1/build.json, fields.json, history.json
//! engine-1/build-1/engine.toml               the build as an engine file, when its texts make one; not read back
//! engine-1/build-1/visit-1/visit.json, fields.json, history.json, engine.toml
//! engine-1/build-1/visit-1/results/1/result.json, inputs.toml, report.json
//! engine-1/build-1/visit-1/pictures/1.json, 1.jpg
//! ```
//!
//! Numbers count from 1 within their folder; they are not the numbers of the record, so that the same content gives
//! the same bytes from whatever record it comes. Deleted things are in it too, marked with their time.

mod export;
mod import;
mod name;
mod parts;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;

/// Makes an engine file of fields (key -> text), or nothing when they do not make one yet.
pub type Compose<'a> = &'a dyn Fn(&BTreeMap<String, String>) -> Option<String>;
