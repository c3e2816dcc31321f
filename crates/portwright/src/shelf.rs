//! The shelf: engines that pages can be asked for by their id.
//!
//! In memory for now. A lasting record takes its place behind the same trait, so pages and addresses stay.

use engine::file::{Problem, Reading};
use quantity::Units;
use sha2::{Digest, Sha256};
use std::collections::VecDeque;
use std::fmt::Write;
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};
use workshop::Answer;

/// How many engines the memory shelf holds besides the first one put on it; then the oldest goes.
const ROOM: usize = 64;

/// One engine on the shelf: its file as it came, what was read from it, and its answers once they are worked out.
pub struct Kept {
    /// Short hash of the text: the same file has the same address.
    pub id: String,
    /// The engine file, byte for byte.
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
        let text = String::from_utf8_lossy(bytes).into_owned();
        Ok(Self { id: short_hash(bytes), text, reading, metric: OnceLock::new(), inch: OnceLock::new() })
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

/// Where engines are kept and found again.
pub trait Shelf: Send + Sync {
    /// Reads an engine file and keeps it.
    ///
    /// # Errors
    /// Every problem of the file; nothing is kept then.
    fn keep(&self, bytes: &[u8]) -> Result<Arc<Kept>, Vec<Problem>>;

    /// The engine with this id, if it is there.
    fn find(&self, id: &str) -> Option<Arc<Kept>>;
}

/// A shelf that lasts as long as the program runs.
#[derive(Default)]
pub struct MemoryShelf {
    kept: Mutex<VecDeque<Arc<Kept>>>,
}

impl MemoryShelf {
    fn lock(&self) -> MutexGuard<'_, VecDeque<Arc<Kept>>> {
        self.kept.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Shelf for MemoryShelf {
    fn keep(&self, bytes: &[u8]) -> Result<Arc<Kept>, Vec<Problem>> {
        if let Some(there) = self.find(&short_hash(bytes)) {
            return Ok(there);
        }
        let kept = Arc::new(Kept::read(bytes)?);
        let mut shelf = self.lock();
        if shelf.len() > ROOM {
            // The first is the demo engine, which the start page always shows.
            shelf.remove(1);
        }
        shelf.push_back(Arc::clone(&kept));
        Ok(kept)
    }

    fn find(&self, id: &str) -> Option<Arc<Kept>> {
        self.lock().iter().find(|kept| kept.id == id).cloned()
    }
}

/// The first 64 bits of the SHA-256 of the text, in hexadecimal.
fn short_hash(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().take(8).fold(String::new(), |mut id, byte| {
        // Writing to a string cannot fail.
        let _ = write!(id, "{byte:02x}");
        id
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn round_trips_the_text_of_an_engine() {
        let shelf = MemoryShelf::default();
        let kept = shelf.keep(engine::file::DEMO.as_bytes()).ok();
        let id = kept.map(|kept| kept.id.clone()).unwrap_or_default();
        assert_eq!(id.len(), 16);
        assert_eq!(shelf.find(&id).map(|kept| kept.text.clone()).as_deref(), Some(engine::file::DEMO));
    }

    #[test]
    fn published_short_hash_of_abc() {
        // FIPS 180-4, SHA-256 of "abc": ba7816bf 8f01cfea ...
        assert_eq!(short_hash(b"abc"), "ba7816bf8f01cfea");
    }

    #[test]
    fn refuses_a_file_with_errors_and_keeps_nothing() {
        let shelf = MemoryShelf::default();
        assert!(shelf.keep(b"this is no engine").is_err());
        assert!(shelf.lock().is_empty());
    }

    #[test]
    fn regress_the_first_engine_stays_when_the_shelf_is_full() {
        let shelf = MemoryShelf::default();
        let first =
            shelf.keep(engine::file::DEMO.as_bytes()).ok().map(|kept| kept.id.clone()).unwrap_or_default();
        for n in 0..ROOM + 5 {
            let text = format!("{}\n# {n}\n", engine::file::DEMO);
            assert!(shelf.keep(text.as_bytes()).is_ok());
        }
        assert!(shelf.find(&first).is_some());
        assert_eq!(shelf.lock().len(), ROOM + 1);
    }
}
