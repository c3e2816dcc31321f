//! The program's own choices: units, theme.

use crate::error::RecordError;
use crate::record::Record;
use rusqlite::OptionalExtension;

impl Record {
    /// A choice made earlier.
    ///
    /// # Errors
    /// Those of the file.
    pub fn choice(&self, key: &str) -> Result<Option<String>, RecordError> {
        self.read(|rows| {
            let mut query = rows.prepare_cached("SELECT text FROM setting WHERE key = ?1")?;
            Ok(query.query_row([key], |row| row.get(0)).optional()?)
        })
    }

    /// Keeps a choice in place of the earlier one.
    ///
    /// # Errors
    /// Those of the file.
    pub fn set_choice(&self, key: &str, text: &str) -> Result<(), RecordError> {
        self.write(|rows| {
            rows.prepare_cached(
                "INSERT INTO setting (key, text) VALUES (?1, ?2) ON CONFLICT DO UPDATE SET text = ?2",
            )?
            .execute([key, text])?;
            Ok(())
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn round_trips_a_choice() {
        let record = Record::open_in_memory().unwrap();
        assert_eq!(record.choice("units").unwrap(), None);
        record.set_choice("units", "metric").unwrap();
        record.set_choice("units", "inch").unwrap();
        assert_eq!(record.choice("units").unwrap().as_deref(), Some("inch"));
    }
}
