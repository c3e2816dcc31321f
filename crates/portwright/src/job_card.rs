//! The fields of a job card: the description of its build with what was read on the visit.

use engine::file::fields::{Field, compose, read_fields};
use record::{Owner, Record, RecordError, VisitId};
use std::collections::BTreeMap;

/// Texts by key.
pub(crate) type Fields = BTreeMap<String, String>;

/// The texts of one build, or of one engine or visit alone.
///
/// # Errors
/// Those of the record.
pub(crate) fn fields_of(record: &Record, owner: Owner) -> Result<Fields, RecordError> {
    Ok(record.fields(owner)?.into_iter().map(|(key, field)| (key, field.text)).collect())
}

/// Everything that makes the answer of a visit: the texts of its build and its own.
///
/// # Errors
/// Those of the record.
pub(crate) fn fields_of_visit(record: &Record, visit: VisitId) -> Result<Fields, RecordError> {
    let build = record.visit(visit)?.build.id;
    let mut fields = fields_of(record, build.into())?;
    fields.extend(fields_of(record, visit.into())?);
    Ok(fields)
}

/// The engine file of these texts, once they make one. Ticks and free notes are no part of it.
pub(crate) fn engine_file(fields: &Fields) -> Option<String> {
    let known: Fields = fields
        .iter()
        .filter(|(key, _)| Field::named(key).is_some())
        .map(|(key, text)| (key.clone(), text.clone()))
        .collect();
    read_fields(&known).reading.map(|_| compose(&known).toml)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn round_trips_the_demo_and_leaves_ticks_out() {
        let mut fields = engine::file::fields::fields_of(engine::file::DEMO).unwrap();
        fields.insert("done.1".to_owned(), "yes".to_owned());
        let file = engine_file(&fields).unwrap();
        fields.remove("done.1");
        assert_eq!(engine::file::fields::fields_of(&file).unwrap(), fields);
        assert_eq!(engine_file(&Fields::new()), None);
    }
}
