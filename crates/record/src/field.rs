//! Texts as they were typed, each with its version; nothing is written over in silence, nothing forgotten.

use crate::clock::now_ms;
use crate::error::{Outcome, RecordError};
use crate::id::Owner;
use crate::place::{require, touch};
use crate::record::Record;
use rusqlite::{Connection, OptionalExtension, params};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A field as it stands.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Field {
    /// Exactly what was typed; may be empty or wrong.
    pub text: String,
    /// Counts from 1, one more with each change.
    pub version: i64,
    /// When it was changed.
    pub changed_ms: i64,
}

/// An earlier or the present text of a field.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PastText {
    /// Its version.
    pub version: i64,
    /// The text.
    pub text: String,
    /// When it was saved.
    pub changed_ms: i64,
}

/// One field to be saved.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// Key as in the engine file, dotted.
    pub key: String,
    /// What was typed.
    pub text: String,
    /// The version that whoever typed was looking at; `None` when there was no such field.
    pub based_on: Option<i64>,
}

/// What became of a save.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Saved {
    /// Kept as a new version.
    Stored {
        /// Its version.
        version: i64,
    },
    /// The record holds the same text already.
    Same {
        /// The version it has.
        version: i64,
    },
    /// Someone else changed the field since; nothing was kept, and a person must choose. To keep one's own text after
    /// all, save it again based on this version.
    Clash {
        /// The text in the record.
        text: String,
        /// Its version.
        version: i64,
        /// When it was saved.
        changed_ms: i64,
    },
}

/// Longest key, in bytes.
const LONGEST_KEY: usize = 200;
/// Longest text of one field, in bytes: far beyond what can be typed, and small enough for every page.
pub(crate) const LONGEST_TEXT: usize = 1_000_000;

impl Record {
    /// All fields of an engine, build or job card.
    ///
    /// # Errors
    /// [`RecordError::Missing`]; those of the file.
    pub fn fields(&self, owner: Owner) -> Result<BTreeMap<String, Field>, RecordError> {
        self.read(|rows| {
            require(rows, owner)?;
            all(rows, owner)
        })
    }

    /// Saves one field; when it returns, the text is on the disk.
    ///
    /// `based_on` is the version that was on the page when typing began, `None` when the field was not there.
    ///
    /// # Errors
    /// [`RecordError::Missing`]; [`RecordError::Refused`] for a key that is empty or over 200 bytes and for a text over
    /// 1 MB; those of the file.
    pub fn save_field(
        &self,
        owner: Owner,
        key: &str,
        text: &str,
        based_on: Option<i64>,
    ) -> Result<Saved, RecordError> {
        self.write(|rows| {
            require(rows, owner)?;
            let now = now_ms();
            let saved = save(rows, owner, key, text, based_on, now)?;
            if matches!(saved, Saved::Stored { .. }) {
                touch(rows, owner, now)?;
            }
            Ok(saved)
        })
    }

    /// Saves several fields of one owner at once. A clash keeps back only its own field; an error keeps back all.
    ///
    /// The answers stand in the order of the changes.
    ///
    /// # Errors
    /// As for [`Record::save_field`].
    pub fn save_fields(&self, owner: Owner, changes: &[Change]) -> Result<Vec<Saved>, RecordError> {
        self.write(|rows| {
            require(rows, owner)?;
            let now = now_ms();
            let saved = changes
                .iter()
                .map(|change| save(rows, owner, &change.key, &change.text, change.based_on, now))
                .collect::<Outcome<Vec<_>>>()?;
            if saved.iter().any(|one| matches!(one, Saved::Stored { .. })) {
                touch(rows, owner, now)?;
            }
            Ok(saved)
        })
    }

    /// Every text a field ever had, the present one first. Empty when there is no such field.
    ///
    /// # Errors
    /// [`RecordError::Missing`]; those of the file.
    pub fn history(&self, owner: Owner, key: &str) -> Result<Vec<PastText>, RecordError> {
        const SQL: &str = "SELECT version, text, changed_ms FROM field_history
            WHERE owner_kind = ?1 AND owner_id = ?2 AND key = ?3 ORDER BY version DESC";
        self.read(|rows| {
            require(rows, owner)?;
            let mut query = rows.prepare_cached(SQL)?;
            let past = query.query_map(params![owner.table(), owner.number(), key], |row| {
                Ok(PastText { version: row.get(0)?, text: row.get(1)?, changed_ms: row.get(2)? })
            })?;
            Ok(past.collect::<Result<_, _>>()?)
        })
    }
}

/// All fields of an owner, sorted by key.
pub(crate) fn all(rows: &Connection, owner: Owner) -> Outcome<BTreeMap<String, Field>> {
    const SQL: &str =
        "SELECT key, text, version, changed_ms FROM field WHERE owner_kind = ?1 AND owner_id = ?2";
    let mut query = rows.prepare_cached(SQL)?;
    let fields = query.query_map(params![owner.table(), owner.number()], |row| {
        Ok((row.get(0)?, Field { text: row.get(1)?, version: row.get(2)?, changed_ms: row.get(3)? }))
    })?;
    Ok(fields.collect::<Result<_, _>>()?)
}

fn save(
    rows: &Connection,
    owner: Owner,
    key: &str,
    text: &str,
    based_on: Option<i64>,
    now: i64,
) -> Outcome<Saved> {
    refuse_oversize(key, text)?;
    let stands = present(rows, owner, key)?;
    let version = match stands {
        Some(field) if field.text == text => return Ok(Saved::Same { version: field.version }),
        Some(field) if Some(field.version) != based_on => {
            let Field { text, version, changed_ms } = field;
            return Ok(Saved::Clash { text, version, changed_ms });
        }
        Some(field) => field.version + 1,
        // Whatever version the page has seen (of a record since restored, say), there is nothing to write over.
        None => 1,
    };
    put(rows, owner, key, &Field { text: text.to_string(), version, changed_ms: now })?;
    Ok(Saved::Stored { version })
}

/// The limits of a key and a text.
pub(crate) fn refuse_oversize(key: &str, text: &str) -> Result<(), RecordError> {
    if key.is_empty() || key.len() > LONGEST_KEY {
        let start: String = key.chars().take(40).collect();
        return Err(RecordError::Refused {
            what: format!("The field \"{start}\""),
            why: format!("its key has {} bytes, and 1 to {LONGEST_KEY} are taken", key.len()),
        });
    }
    if text.len() > LONGEST_TEXT {
        return Err(RecordError::Refused {
            what: format!("The text of the field {key}"),
            why: format!("it has {} bytes, and at most {LONGEST_TEXT} are taken; shorten it", text.len()),
        });
    }
    Ok(())
}

fn present(rows: &Connection, owner: Owner, key: &str) -> Outcome<Option<Field>> {
    const SQL: &str = "SELECT text, version, changed_ms FROM field
        WHERE owner_kind = ?1 AND owner_id = ?2 AND key = ?3";
    let mut query = rows.prepare_cached(SQL)?;
    let field = query.query_row(params![owner.table(), owner.number(), key], |row| {
        Ok(Field { text: row.get(0)?, version: row.get(1)?, changed_ms: row.get(2)? })
    });
    Ok(field.optional()?)
}

/// Writes the present text of a field, and the same text into its history.
pub(crate) fn put(rows: &Connection, owner: Owner, key: &str, field: &Field) -> Outcome<()> {
    const SQL: &str = "INSERT INTO field (owner_kind, owner_id, key, text, version, changed_ms)
        VALUES (?1, ?2, ?3, ?4, ?5, ?6)
        ON CONFLICT DO UPDATE SET text = ?4, version = ?5, changed_ms = ?6";
    rows.prepare_cached(SQL)?.execute(params![
        owner.table(),
        owner.number(),
        key,
        field.text,
        field.version,
        field.changed_ms
    ])?;
    let past = PastText { version: field.version, text: field.text.clone(), changed_ms: field.changed_ms };
    put_past(rows, owner, key, &past)
}

/// Adds to the history of a field.
pub(crate) fn put_past(rows: &Connection, owner: Owner, key: &str, past: &PastText) -> Outcome<()> {
    const SQL: &str = "INSERT INTO field_history (owner_kind, owner_id, key, version, text, changed_ms)
        VALUES (?1, ?2, ?3, ?4, ?5, ?6)";
    rows.prepare_cached(SQL)?.execute(params![
        owner.table(),
        owner.number(),
        key,
        past.version,
        past.text,
        past.changed_ms
    ])?;
    Ok(())
}

/// Every earlier text of each field, the present one left out, oldest first.
pub(crate) fn past(rows: &Connection, owner: Owner) -> Outcome<BTreeMap<String, Vec<PastText>>> {
    const SQL: &str = "SELECT h.key, h.version, h.text, h.changed_ms FROM field_history h JOIN field f
            ON f.owner_kind = h.owner_kind AND f.owner_id = h.owner_id AND f.key = h.key
        WHERE h.owner_kind = ?1 AND h.owner_id = ?2 AND h.version <> f.version ORDER BY h.key, h.version";
    let mut query = rows.prepare_cached(SQL)?;
    let mut found: BTreeMap<String, Vec<PastText>> = BTreeMap::new();
    let mut lines = query.query(params![owner.table(), owner.number()])?;
    while let Some(row) = lines.next()? {
        let past = PastText { version: row.get(1)?, text: row.get(2)?, changed_ms: row.get(3)? };
        found.entry(row.get(0)?).or_default().push(past);
    }
    Ok(found)
}

/// Copies the fields whose key begins with `beginning` as the first version of the new owner's.
pub(crate) fn copy(rows: &Connection, from: Owner, to: Owner, beginning: &str, now: i64) -> Outcome<()> {
    for (key, field) in all(rows, from)?.into_iter().filter(|(key, _)| key.starts_with(beginning)) {
        put(rows, to, &key, &Field { version: 1, changed_ms: now, ..field })?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::VisitId;

    fn started() -> (Record, Owner) {
        let record = Record::open_in_memory().unwrap();
        let (_, build, _) = record.create_engine("Invented single", true).unwrap();
        (record, build.into())
    }

    #[test]
    fn round_trips_texts_exactly_as_typed() {
        let (record, build) = started();
        let long = "ö".repeat(50_000);
        for text in ["54,5 mm", "", " 54.5 ", "54.5 m", "\u{0}\r\n\t", "½ \u{1F527} e\u{301}", &long] {
            record.save_field(build, "bore", text, version_of(&record, build)).unwrap();
            assert_eq!(record.fields(build).unwrap()["bore"].text, text);
        }
    }

    fn version_of(record: &Record, owner: Owner) -> Option<i64> {
        record.fields(owner).unwrap().get("bore").map(|field| field.version)
    }

    #[test]
    fn exact_versions_count_from_one_and_history_keeps_all() {
        let (record, build) = started();
        assert_eq!(record.save_field(build, "bore", "54", None).unwrap(), Saved::Stored { version: 1 });
        assert_eq!(record.save_field(build, "bore", "54.", Some(1)).unwrap(), Saved::Stored { version: 2 });
        assert_eq!(record.save_field(build, "bore", "54.", Some(2)).unwrap(), Saved::Same { version: 2 });
        assert_eq!(record.save_field(build, "bore", "54 mm", Some(2)).unwrap(), Saved::Stored { version: 3 });
        let history = record.history(build, "bore").unwrap();
        let seen: Vec<_> = history.iter().map(|past| (past.version, past.text.as_str())).collect();
        assert_eq!(seen, [(3, "54 mm"), (2, "54."), (1, "54")]);
        assert!(record.history(build, "stroke").unwrap().is_empty());
    }

    #[test]
    fn exact_a_clash_keeps_the_text_that_stands_and_gives_it_back() {
        let (record, build) = started();
        record.save_field(build, "bore", "54 mm", None).unwrap();
        record.save_field(build, "bore", "54.5 mm", Some(1)).unwrap();
        let stands = record.fields(build).unwrap()["bore"].clone();
        for based_on in [None, Some(1), Some(7)] {
            let saved = record.save_field(build, "bore", "55 mm", based_on).unwrap();
            let Field { text, version, changed_ms } = stands.clone();
            assert_eq!(saved, Saved::Clash { text, version, changed_ms });
        }
        assert_eq!(record.fields(build).unwrap()["bore"], stands);
        // The same text from both is no clash, and choosing one's own is a save on top of what was seen.
        assert_eq!(record.save_field(build, "bore", "54.5 mm", Some(1)).unwrap(), Saved::Same { version: 2 });
        assert_eq!(record.save_field(build, "bore", "55 mm", Some(2)).unwrap(), Saved::Stored { version: 3 });
    }

    #[test]
    fn exact_a_field_that_is_not_there_is_made_whatever_version_was_seen() {
        let (record, build) = started();
        let saved = record.save_field(build, "bore", "54 mm", Some(12)).unwrap();
        assert_eq!(saved, Saved::Stored { version: 1 });
    }

    #[test]
    fn exact_several_fields_are_saved_at_once_and_a_clash_holds_back_only_its_own() {
        let (record, build) = started();
        record.save_field(build, "bore", "54 mm", None).unwrap();
        let change = |key: &str, text: &str, based_on| Change {
            key: key.to_string(),
            text: text.to_string(),
            based_on,
        };
        let saved = record
            .save_fields(build, &[change("stroke", "54.5 mm", None), change("bore", "55 mm", None)])
            .unwrap();
        assert_eq!(saved[0], Saved::Stored { version: 1 });
        assert!(matches!(saved[1], Saved::Clash { version: 1, .. }));
        let with_error = [change("rod", "110 mm", None), change("", "x", None)];
        let error = record.save_fields(build, &with_error).unwrap_err();
        assert!(error.to_string().contains("its key has 0 bytes"), "{error}");
        assert!(!record.fields(build).unwrap().contains_key("rod"));
    }

    #[test]
    fn refuses_what_is_not_there_and_what_is_too_long() {
        let (record, build) = started();
        let error = record.save_field(VisitId(99).into(), "note", "x", None).unwrap_err();
        assert!(error.to_string().starts_with("There is no job card with the number 99"), "{error}");
        let error = record.save_field(build, "note", &"x".repeat(LONGEST_TEXT + 1), None).unwrap_err();
        assert!(error.to_string().contains("at most 1000000 are taken"), "{error}");
        assert!(record.save_field(build, "note", &"x".repeat(LONGEST_TEXT), None).is_ok());
    }

    #[test]
    fn refuses_to_rewrite_history() {
        let (record, build) = started();
        record.save_field(build, "bore", "54 mm", None).unwrap();
        for sql in ["UPDATE field_history SET text = ''", "DELETE FROM field_history"] {
            let error = record.write(|rows| Ok(rows.execute(sql, [])?)).unwrap_err();
            assert!(error.to_string().contains("only added to"), "{error}");
        }
    }
}
