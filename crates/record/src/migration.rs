//! From every earlier layout of the file to the present one, one step after the other.

use crate::connection::{self, Marks};
use crate::error::{BUSY_S, Outcome, RecordError};
use crate::file::{APPLICATION_ID, Draft, free_name};
use rusqlite::backup::{Backup, StepResult};
use rusqlite::{Connection, TransactionBehavior};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// Step N leads from layout N - 1 to layout N. A step that was once given out is never edited.
pub(crate) const STEPS: [&str; 2] =
    [include_str!("../migrations/0001.sql"), include_str!("../migrations/0002.sql")];

/// The layout this program writes.
pub(crate) const LATEST: i64 = STEPS.len() as i64;

/// Brings the database to the latest layout in one transaction. A record that holds something is copied beside
/// first, as `<name>.before-N` with N the first step taken.
///
/// # Errors
/// Those of the database, and [`RecordError::NotARecord`] or [`RecordError::Newer`] with the file left as it was.
pub(crate) fn bring_up(writer: &mut Connection, path: Option<&Path>) -> Outcome<()> {
    let before = Marks::of(writer)?;
    judge(before, path)?;
    if before.layout == LATEST {
        return hold_tables(writer, path);
    }
    let steps = writer.transaction_with_behavior(TransactionBehavior::Immediate)?;
    // Another program may have been quicker while this one waited.
    let marks = Marks::of(&steps)?;
    judge(marks, path)?;
    let copy = match path {
        Some(path) if marks.layout >= 1 => Some(copy_beside(path, marks.layout + 1)?),
        _ => None,
    };
    let taken = climb(&steps, marks.layout)
        .and_then(|()| hold_tables(&steps, path))
        .and_then(|()| Ok(steps.commit()?));
    if let (Err(_), Some(copy)) = (&taken, copy) {
        // Nothing was changed, so there is nothing to go back to.
        let _ = std::fs::remove_file(copy);
    }
    taken
}

fn climb(steps: &Connection, from: i64) -> Outcome<()> {
    for (step, number) in STEPS.iter().zip(1_i64..).filter(|(_, number)| *number > from) {
        steps.execute_batch(step)?;
        steps.pragma_update(None, "user_version", number)?;
    }
    Ok(steps.pragma_update(None, "application_id", APPLICATION_ID)?)
}

/// The tables are those of the latest layout and no others: a missing one would come to light only when it is needed,
/// and a foreign trigger would run with every save.
pub(crate) fn hold_tables(rows: &Connection, path: Option<&Path>) -> Outcome<()> {
    let model = Connection::open_in_memory()?;
    climb(&model, 0)?;
    let (wanted, found) = (tables_of(&model)?, tables_of(rows)?);
    let Some((name, _)) = wanted.symmetric_difference(&found).next() else { return Ok(()) };
    let path = path.map_or_else(PathBuf::new, Path::to_path_buf);
    let detail = format!("its part {name} is not as a record has it");
    Err(RecordError::Damaged { path, detail }.into())
}

/// Name and making of each table, index and trigger; those of SQLite's own are left out.
fn tables_of(rows: &Connection) -> Outcome<BTreeSet<(String, Option<String>)>> {
    let mut query =
        rows.prepare("SELECT name, sql FROM sqlite_schema WHERE name NOT LIKE 'sqlite@_%' ESCAPE '@'")?;
    Ok(query.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?.collect::<Result<_, _>>()?)
}

/// Whether the database is one to work with.
pub(crate) fn judge(marks: Marks, path: Option<&Path>) -> Result<(), RecordError> {
    let path = path.map_or_else(PathBuf::new, Path::to_path_buf);
    if marks.is_blank() {
        return Ok(());
    }
    if !marks.is_ours() {
        return Err(RecordError::NotARecord { path, why: "it is a database of another program" });
    }
    if marks.layout > LATEST {
        return Err(RecordError::Newer { path, found: marks.layout, known: LATEST });
    }
    Ok(())
}

/// The writer's transaction keeps others from writing meanwhile, and a reader beside it sees what was last committed.
fn copy_beside(path: &Path, step: i64) -> Result<PathBuf, RecordError> {
    let name = free_name(path, &format!(".before-{step}"));
    let draft = Draft::beside(&name);
    let source = connection::open_to_read(path).map_err(|cause| RecordError::of(path, &cause))?;
    copy_whole(&source, path, draft.path())?;
    draft.put(&name)?;
    Ok(name)
}

/// Copies the database of a connection, read from `path`, into a new file at `to`, which needs no log beside it.
pub(crate) fn copy_whole(source: &Connection, path: &Path, to: &Path) -> Result<(), RecordError> {
    let at_target = |cause: rusqlite::Error| RecordError::of(to, &cause);
    let mut target = Connection::open(to).map_err(at_target)?;
    // All pages in one go: a copy in portions would begin anew with every write between them.
    let step = Backup::new(source, &mut target).and_then(|copy| copy.step(-1));
    match step {
        Ok(StepResult::Done) => {}
        Ok(_) => return Err(RecordError::Locked { path: path.to_path_buf(), waited_s: BUSY_S }),
        Err(cause) => {
            let of_source = cause.sqlite_error_code() == Some(rusqlite::ErrorCode::DatabaseCorrupt);
            return Err(RecordError::of(if of_source { path } else { to }, &cause));
        }
    }
    target.pragma_update_and_check(None, "journal_mode", "DELETE", |_| Ok(())).map_err(at_target)?;
    target.close().map_err(|(_, cause)| at_target(cause))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture::place;
    use crate::{EngineFilter, EngineId, Record, VisitId};

    /// What a program that knew only the first steps would have left, with something of every kind in it.
    fn record_of_layout(path: &Path, layout: usize) {
        let rows = Connection::open(path).unwrap();
        for step in &STEPS[..layout] {
            rows.execute_batch(step).unwrap();
        }
        rows.pragma_update(None, "application_id", APPLICATION_ID).unwrap();
        rows.pragma_update(None, "user_version", layout as i64).unwrap();
        rows.pragma_update_and_check(None, "journal_mode", "WAL", |_| Ok(())).unwrap();
        rows.execute_batch(
            "INSERT INTO engine (id, name, invented, created_ms) VALUES (1, 'First', 0, 100), (2, 'Second', 1, 150);
             INSERT INTO build (id, engine_id, name, created_ms) VALUES (1, 1, 'B', 100), (2, 2, 'B', 150);
             INSERT INTO visit (id, build_id, name, created_ms) VALUES (1, 1, 'V', 100), (2, 2, 'V', 150);
             INSERT INTO field VALUES ('visit', 1, 'note', 'tröpfelt', 2, 900), ('build', 2, 'bore', '54', 1, 160);
             INSERT INTO field_history VALUES ('visit', 1, 'note', 1, 'tr', 800), ('visit', 1, 'note', 2, 'tröpfelt', 900),
                ('build', 2, 'bore', 1, '54', 160);
             INSERT INTO result (visit_id, kind, made_ms, program_version, inputs_text, report_json)
                VALUES (2, 'setting', 170, '0.1.0', 'bore = \"54\"', '{}');
             INSERT INTO picture (visit_id, step, caption, media_type, width, height, made_ms, on_sheet, bytes)
                VALUES (2, 'found', 'c', 'image/jpeg', 1, 1, 165, 1, x'FFD8FF');
             INSERT INTO setting VALUES ('units', 'inch');",
        )
        .unwrap();
    }

    #[test]
    fn round_trips_what_earlier_layouts_hold() {
        for layout in 1..=STEPS.len() {
            let (folder, path) = place();
            record_of_layout(&path, layout);
            let record = Record::open(&path).unwrap();
            record.check().unwrap();
            let lines = record.engines(&EngineFilter::default()).unwrap();
            assert_eq!(lines.len(), 2, "layout {layout}");
            if layout == 1 {
                let order: Vec<_> = lines.iter().map(|line| (line.id, line.changed_ms)).collect();
                assert_eq!(order, [(EngineId(1), 900), (EngineId(2), 170)]);
            }
            let history = record.history(VisitId(1).into(), "note").unwrap();
            assert_eq!(history.len(), 2);
            assert_eq!(history[0].text, "tröpfelt");
            let result = record.results(VisitId(2)).unwrap()[0].id;
            assert_eq!(record.result(result).unwrap().inputs_text, "bore = \"54\"");
            let picture = &record.pictures(VisitId(2)).unwrap()[0];
            assert_eq!(record.picture(picture.id).unwrap().bytes, [0xFF, 0xD8, 0xFF]);
            assert_eq!(record.choice("units").unwrap().as_deref(), Some("inch"));
            assert_eq!(record.read(|rows| Marks::of(rows)).unwrap().layout, LATEST);
            // The file as it was before is kept, and is a whole record of its layout.
            let copies = std::fs::read_dir(folder.path())
                .unwrap()
                .map(|item| item.unwrap().path())
                .filter(|path| path.to_string_lossy().contains(".before-"))
                .collect::<Vec<_>>();
            if layout == STEPS.len() {
                assert!(copies.is_empty(), "nothing was to be done");
                continue;
            }
            assert_eq!(copies, [crate::file::beside(&path, &format!(".before-{}", layout + 1))]);
            let old = Connection::open(&copies[0]).unwrap();
            assert_eq!(Marks::of(&old).unwrap().layout, layout as i64);
            let texts: i64 =
                old.query_row("SELECT count(*) FROM field_history", [], |row| row.get(0)).unwrap();
            assert_eq!(texts, 3);
        }
    }

    #[test]
    fn exact_every_way_to_the_present_layout_gives_the_same_tables() {
        let layout_of = |path: &Path| Record::open(path).unwrap().read(|rows| tables_of(rows)).unwrap();
        let (_folder, fresh) = place();
        for layout in 1..=STEPS.len() {
            let (_folder, path) = place();
            record_of_layout(&path, layout);
            assert_eq!(layout_of(&path), layout_of(&fresh), "from layout {layout}");
        }
    }

    #[test]
    fn refuses_to_leave_a_record_half_way() {
        let (folder, path) = place();
        record_of_layout(&path, 1);
        // A table in the way of the second step.
        let rows = Connection::open(&path).unwrap();
        rows.execute_batch("CREATE INDEX visit_of_build ON visit (name)").unwrap();
        drop(rows);
        let before = std::fs::read(&path).unwrap();
        assert!(Record::open(&path).is_err());
        assert_eq!(std::fs::read(&path).unwrap(), before);
        let files = std::fs::read_dir(folder.path()).unwrap().count();
        assert!(files <= 3, "only the record and its log are left");
        assert!(!crate::file::beside(&path, ".before-2").exists());
    }
}
