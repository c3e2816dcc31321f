//! What was read and worked out lately, kept at hand so that it is not worked out for every page anew.
//!
//! Nothing lasts here: engines are kept in the record, and whatever falls off this shelf is worked out again.

use engine::file::fields::{compose, read_fields};
use engine::file::{Problem, Reading};
use quantity::Units;
use sha2::{Digest, Sha256};
use std::collections::{BTreeMap, VecDeque};
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};
use workshop::Answer;

/// How many readings are kept at hand; then the one that was not asked for longest goes.
const ROOM: usize = 64;

/// One engine that was read: its file, what was read from it, and its answers once they are worked out.
pub struct Kept {
    /// The engine file: byte for byte as it came, or as it was composed from fields.
    pub text: String,
    /// What was read from it.
    pub reading: Reading,
    metric: OnceLock<Arc<Answer>>,
    inch: OnceLock<Arc<Answer>>,
}

impl Kept {
    /// Reads an engine file.
    ///
    /// # Errors
    /// Every problem of the file, each with its line.
    pub fn read(bytes: &[u8]) -> Result<Self, Vec<Problem>> {
        let reading = engine::file::read(bytes)?;
        Ok(Self::of(String::from_utf8_lossy(bytes).into_owned(), reading))
    }

    /// Reads the fields of a build and a job card; questions then name fields.
    ///
    /// # Errors
    /// What is missing or wrong, by field.
    pub fn of_fields(fields: &BTreeMap<String, String>) -> Result<Self, Vec<Problem>> {
        let read = read_fields(fields);
        match read.reading {
            Some(reading) => Ok(Self::of(compose(fields).toml, reading)),
            None => Err(read.problems),
        }
    }

    fn of(text: String, reading: Reading) -> Self {
        Self { text, reading, metric: OnceLock::new(), inch: OnceLock::new() }
    }

    /// The answer in these units, worked out once. Takes a moment the first time: not for an async thread.
    pub fn answer(&self, units: Units) -> Arc<Answer> {
        let slot = match units {
            Units::Metric => &self.metric,
            Units::Inch => &self.inch,
        };
        Arc::clone(slot.get_or_init(|| Arc::new(workshop::answer(&self.reading, units))))
    }
}

/// Readings at hand, found again by what they were read from.
#[derive(Default)]
pub(crate) struct Shelf {
    kept: Mutex<VecDeque<(Mark, Arc<Kept>)>>,
}

/// SHA-256 of what was read.
type Mark = [u8; 32];

impl Shelf {
    /// The reading of an engine file.
    ///
    /// # Errors
    /// Every problem of the file.
    pub(crate) fn file(&self, text: &str) -> Result<Arc<Kept>, Vec<Problem>> {
        let mark = Sha256::new().chain_update("file\0").chain_update(text).finalize().into();
        self.at_hand(mark, || Kept::read(text.as_bytes()))
    }

    /// The reading of fields.
    ///
    /// # Errors
    /// What is missing or wrong, by field.
    pub(crate) fn fields(&self, fields: &BTreeMap<String, String>) -> Result<Arc<Kept>, Vec<Problem>> {
        let mut hash = Sha256::new().chain_update("fields\0");
        for (key, text) in fields {
            hash.update(key);
            hash.update(text.len().to_le_bytes());
            hash.update(text);
        }
        self.at_hand(hash.finalize().into(), || Kept::of_fields(fields))
    }

    fn at_hand(
        &self,
        mark: Mark,
        read: impl FnOnce() -> Result<Kept, Vec<Problem>>,
    ) -> Result<Arc<Kept>, Vec<Problem>> {
        let found = self.take(&mark);
        let kept = match found {
            Some(kept) => kept,
            // Read outside the lock: another page need not wait for it.
            None => Arc::new(read()?),
        };
        let mut shelf = self.lock();
        shelf.push_back((mark, Arc::clone(&kept)));
        if shelf.len() > ROOM {
            shelf.pop_front();
        }
        Ok(kept)
    }

    fn take(&self, mark: &Mark) -> Option<Arc<Kept>> {
        let mut shelf = self.lock();
        let at = shelf.iter().position(|(there, _)| there == mark)?;
        shelf.remove(at).map(|(_, kept)| kept)
    }

    fn lock(&self) -> MutexGuard<'_, VecDeque<(Mark, Arc<Kept>)>> {
        self.kept.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use engine::file::fields::fields_of;

    #[test]
    fn agrees_a_reading_is_made_once_for_the_same_text() {
        let shelf = Shelf::default();
        let first = shelf.file(engine::file::DEMO).unwrap();
        assert_eq!(first.text, engine::file::DEMO);
        assert!(Arc::ptr_eq(&first, &shelf.file(engine::file::DEMO).unwrap()));
        let other = format!("{}\n# another\n", engine::file::DEMO);
        assert!(!Arc::ptr_eq(&first, &shelf.file(&other).unwrap()));
    }

    #[test]
    fn agrees_fields_and_file_give_the_same_answer() {
        let shelf = Shelf::default();
        let fields = fields_of(engine::file::DEMO).unwrap();
        let (file, fields) = (shelf.file(engine::file::DEMO).unwrap(), shelf.fields(&fields).unwrap());
        let headline = |kept: &Kept| kept.answer(Units::Metric).report.headline.clone();
        assert_eq!(headline(&file), headline(&fields));
    }

    #[test]
    fn refuses_a_file_with_errors_and_keeps_nothing() {
        let shelf = Shelf::default();
        assert!(shelf.file("this is no engine").is_err());
        assert!(shelf.lock().is_empty());
    }

    #[test]
    fn regress_the_shelf_stays_small_and_keeps_what_is_asked_for() {
        let shelf = Shelf::default();
        let first = shelf.file(engine::file::DEMO).unwrap();
        for n in 0..ROOM + 5 {
            assert!(shelf.file(&format!("{}\n# {n}\n", engine::file::DEMO)).is_ok());
            assert!(shelf.file(engine::file::DEMO).is_ok());
        }
        assert!(Arc::ptr_eq(&first, &shelf.file(engine::file::DEMO).unwrap()));
        assert_eq!(shelf.lock().len(), ROOM);
    }
}
