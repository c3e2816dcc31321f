//! The built-in tables, and the user's rows in their place.

use super::model::{Cause, Condition, Rules, Symptom, Tables, Test};
use super::read;
use crate::check::Problem;
use std::sync::OnceLock;

const BUILT_IN: &str = concat!(
    include_str!("tables/conditions.toml"),
    include_str!("tables/symptoms.toml"),
    include_str!("tables/tests.toml"),
    include_str!("tables/causes.toml"),
);

impl Tables {
    /// The tables that come with Portwright: common practice and estimates, each row with its source.
    pub fn built_in() -> &'static Tables {
        static TABLES: OnceLock<Tables> = OnceLock::new();
        // A test reads the text: a mistake in it is found there and never reaches a user.
        TABLES.get_or_init(|| read::read(BUILT_IN, None).unwrap_or_else(|_| Tables::empty()))
    }

    /// Reads a user's file (`docs/faults.md`). Its rows may name rows of the built-in tables as well as their own.
    ///
    /// # Errors
    /// Every problem of the file at once, in the order of its lines: syntax, unknown and missing keys, figures out of
    /// range, rows without a source, names that no table has.
    pub fn read(text: &str) -> Result<Tables, Vec<Problem>> {
        read::read(text, Some(Self::built_in()))
    }

    /// These tables with the user's own: a row with a known key takes the whole place of that row, others follow.
    pub fn with(mut self, own: Tables) -> Tables {
        replace(&mut self.conditions, own.conditions, |row: &Condition| &row.key);
        replace(&mut self.causes, own.causes, |row: &Cause| &row.key);
        replace(&mut self.symptoms, own.symptoms, |row: &Symptom| &row.key);
        replace(&mut self.tests, own.tests, |row: &Test| &row.check);
        self.rules = own.rules;
        self
    }

    pub(super) fn empty() -> Tables {
        let rules = Rules {
            part_minutes: 0.0,
            handling_minutes: 0.0,
            second_fault: 1.0,
            cheap_minutes: 0.0,
            sure: 1.0,
            told_bits: 0.0,
            source: String::new(),
        };
        Tables { conditions: vec![], causes: vec![], symptoms: vec![], tests: vec![], rules }
    }

    pub(super) fn condition(&self, key: &str) -> Option<&Condition> {
        self.conditions.iter().find(|row| row.key == key)
    }
}

fn replace<T>(rows: &mut Vec<T>, own: Vec<T>, key: fn(&T) -> &String) {
    for row in own {
        match rows.iter_mut().find(|known| key(known) == key(&row)) {
            Some(known) => *known = row,
            None => rows.push(row),
        }
    }
}

/// What is wrong with the built-in tables.
#[cfg(test)]
pub(super) fn problems_of_built_in() -> Vec<Problem> {
    read::read(BUILT_IN, None).err().unwrap_or_default()
}
