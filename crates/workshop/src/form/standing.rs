//! The fields as they stand, read once for a page or a path.

use super::field::FormWhen;
use engine::file::Reading;
use engine::file::fields::{Field, FieldsReading, read_fields, split_names};
use std::collections::BTreeMap;

/// Fields and what they say together.
pub(super) struct Standing<'a> {
    pub(super) fields: &'a BTreeMap<String, String>,
    pub(super) read: FieldsReading,
    sure: Vec<String>,
}

impl<'a> Standing<'a> {
    /// Fields that the engine file does not know (ticks, free notes) are not looked at.
    pub(super) fn of(fields: &'a BTreeMap<String, String>) -> Self {
        let known: BTreeMap<String, String> = fields
            .iter()
            .filter(|(key, _)| Field::named(key).is_some())
            .map(|(key, text)| (key.clone(), text.clone()))
            .collect();
        let sure = split_names(fields.get("sure").map_or("", String::as_str));
        Self { fields, read: read_fields(&known), sure }
    }

    pub(super) fn reading(&self) -> Option<&Reading> {
        self.read.reading.as_ref()
    }

    pub(super) fn text(&self, key: &str) -> &str {
        self.fields.get(key).map_or("", |text| text.trim())
    }

    pub(super) fn is_blank(&self, key: &str) -> bool {
        self.text(key).is_empty()
    }

    /// True when the field has a text that gives it a value.
    pub(super) fn gives(&self, key: &str) -> bool {
        !self.is_blank(key) && !self.text(key).eq_ignore_ascii_case("not known")
    }

    pub(super) fn problem(&self, key: &str) -> Option<&str> {
        self.read.problems.iter().find(|problem| problem.key == key).map(|problem| problem.message.as_str())
    }

    pub(super) fn question(&self, key: &str) -> Option<String> {
        let questions = &self.reading()?.questions;
        let question = questions.iter().find(|question| question.key == key)?;
        Some(format!("{} {}", question.text, question.likely))
    }

    pub(super) fn is_sure(&self, key: &str) -> bool {
        self.sure.iter().any(|sure| sure == key)
    }

    /// True when the field that decides says so, or says nothing yet that could be read.
    pub(super) fn says(&self, when: &FormWhen) -> bool {
        if when.words.is_empty() {
            return self.gives(&when.key);
        }
        let text = self.text(&when.key);
        when.words.iter().any(|word| word.eq_ignore_ascii_case(text))
    }
}
