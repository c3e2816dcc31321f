//! Results, each with the inputs that made it; once kept, never changed.

use crate::clock::now_ms;
use crate::error::{Outcome, RecordError};
use crate::id::{ResultId, VisitId};
use crate::place::{require, touch};
use crate::record::Record;
use rusqlite::{Connection, OptionalExtension, Row, params};

/// A result to be kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewResult {
    /// What sort of result: one short word of the program's own.
    pub kind: String,
    /// Version of the program that made it.
    pub program_version: String,
    /// The engine file it was made from, word for word.
    pub inputs_text: String,
    /// The report as JSON.
    pub report_json: String,
}

/// One line of the list of results.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ResultLine {
    /// Its number.
    pub id: ResultId,
    /// The job card it belongs to.
    pub visit: VisitId,
    /// What sort of result.
    pub kind: String,
    /// When it was made.
    pub made_ms: i64,
    /// Version of the program that made it.
    pub program_version: String,
}

/// A result as it was made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeptResult {
    /// What the list shows of it.
    pub line: ResultLine,
    /// The engine file it was made from, word for word.
    pub inputs_text: String,
    /// The report as JSON.
    pub report_json: String,
}

impl Record {
    /// Keeps a result. When the latest of its kind on the job card is the same in everything but time, that one's
    /// number is returned and nothing is added: a page that is loaded again makes no new result.
    ///
    /// # Errors
    /// [`RecordError::Missing`]; [`RecordError::Refused`] for a report that is no JSON; those of the file.
    pub fn save_result(&self, visit: VisitId, new: &NewResult) -> Result<ResultId, RecordError> {
        refuse_no_json(&new.report_json)?;
        self.write(|rows| {
            require(rows, visit.into())?;
            if let Some(same) = latest_if_same(rows, visit, new)? {
                return Ok(same);
            }
            let now = now_ms();
            let id = insert(rows, visit, new, now)?;
            touch(rows, visit.into(), now)?;
            Ok(id)
        })
    }

    /// The results of a job card, the latest first.
    ///
    /// # Errors
    /// [`RecordError::Missing`]; those of the file.
    pub fn results(&self, visit: VisitId) -> Result<Vec<ResultLine>, RecordError> {
        self.read(|rows| {
            require(rows, visit.into())?;
            let mut query = rows.prepare_cached(
                "SELECT id, visit_id, kind, made_ms, program_version FROM result
                 WHERE visit_id = ?1 ORDER BY made_ms DESC, id DESC",
            )?;
            Ok(query.query_map([visit], line)?.collect::<Result<_, _>>()?)
        })
    }

    /// One result with its inputs.
    ///
    /// # Errors
    /// [`RecordError::Missing`]; those of the file.
    pub fn result(&self, id: ResultId) -> Result<KeptResult, RecordError> {
        self.read(|rows| one(rows, id))
    }
}

/// One result.
pub(crate) fn one(rows: &Connection, id: ResultId) -> Outcome<KeptResult> {
    let found = rows
        .prepare_cached(
            "SELECT id, visit_id, kind, made_ms, program_version, inputs_text, report_json
             FROM result WHERE id = ?1",
        )?
        .query_row([id], kept)
        .optional()?;
    Ok(found.ok_or(RecordError::Missing { what: "result", number: id.0 })?)
}

/// Refuses a report that is no JSON: an export of it could not be read in again.
pub(crate) fn refuse_no_json(report: &str) -> Result<(), RecordError> {
    match serde_json::from_str::<serde::de::IgnoredAny>(report) {
        Ok(_) => Ok(()),
        Err(cause) => Err(RecordError::Refused {
            what: "The result".to_string(),
            why: format!("its report is no JSON ({cause})"),
        }),
    }
}

/// Adds a result made at a given time.
pub(crate) fn insert(rows: &Connection, visit: VisitId, new: &NewResult, made_ms: i64) -> Outcome<ResultId> {
    rows.prepare_cached(
        "INSERT INTO result (visit_id, kind, made_ms, program_version, inputs_text, report_json)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
    )?
    .execute(params![
        visit,
        new.kind,
        made_ms,
        new.program_version,
        new.inputs_text,
        new.report_json
    ])?;
    Ok(ResultId(rows.last_insert_rowid()))
}

fn latest_if_same(rows: &Connection, visit: VisitId, new: &NewResult) -> Outcome<Option<ResultId>> {
    let latest = rows
        .prepare_cached(
            "SELECT id, program_version = ?3 AND inputs_text = ?4 AND report_json = ?5 FROM result
             WHERE visit_id = ?1 AND kind = ?2 ORDER BY id DESC LIMIT 1",
        )?
        .query_row(params![visit, new.kind, new.program_version, new.inputs_text, new.report_json], |row| {
            Ok((row.get::<_, ResultId>(0)?, row.get::<_, bool>(1)?))
        })
        .optional()?;
    Ok(latest.filter(|(_, same)| *same).map(|(id, _)| id))
}

fn line(row: &Row<'_>) -> rusqlite::Result<ResultLine> {
    Ok(ResultLine {
        id: row.get(0)?,
        visit: row.get(1)?,
        kind: row.get(2)?,
        made_ms: row.get(3)?,
        program_version: row.get(4)?,
    })
}

fn kept(row: &Row<'_>) -> rusqlite::Result<KeptResult> {
    Ok(KeptResult { line: line(row)?, inputs_text: row.get(5)?, report_json: row.get(6)? })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture;

    #[test]
    fn round_trips_a_result_with_its_inputs() {
        let record = Record::open_in_memory().unwrap();
        let (_, _, visit) = record.create_engine("Invented single", true).unwrap();
        let first = record.save_result(visit, &fixture::result("bore = \"54 mm\"")).unwrap();
        let second = record.save_result(visit, &fixture::result("bore = \"55 mm\"")).unwrap();
        let kept = record.result(first).unwrap();
        assert_eq!(kept.inputs_text, "bore = \"54 mm\"");
        assert_eq!(kept.report_json, fixture::result("bore = \"54 mm\"").report_json);
        let order: Vec<_> = record.results(visit).unwrap().into_iter().map(|line| line.id).collect();
        assert_eq!(order, [second, first]);
        let error = record.write(|rows| Ok(rows.execute("UPDATE result SET kind = ''", [])?)).unwrap_err();
        assert!(error.to_string().contains("keeps the inputs"), "{error}");
    }

    #[test]
    fn exact_the_same_again_is_not_kept_twice() {
        let record = Record::open_in_memory().unwrap();
        let (_, _, visit) = record.create_engine("Invented single", true).unwrap();
        let first = record.save_result(visit, &fixture::result("a")).unwrap();
        assert_eq!(record.save_result(visit, &fixture::result("a")).unwrap(), first);
        let other = record.save_result(visit, &fixture::result("b")).unwrap();
        assert_ne!(other, first);
        // Back to the former inputs is a new result: the list shows what was in force when.
        assert_ne!(record.save_result(visit, &fixture::result("a")).unwrap(), first);
        assert_eq!(record.results(visit).unwrap().len(), 3);
    }

    #[test]
    fn refuses_a_report_that_is_no_json() {
        let record = Record::open_in_memory().unwrap();
        let (_, _, visit) = record.create_engine("Invented single", true).unwrap();
        let broken = NewResult { report_json: "{".to_string(), ..fixture::result("a") };
        let error = record.save_result(visit, &broken).unwrap_err();
        assert!(error.to_string().contains("no JSON"), "{error}");
    }
}
