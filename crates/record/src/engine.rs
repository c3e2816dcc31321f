//! The list of engines, and one engine with its builds and job cards.

use crate::error::{Outcome, RecordError};
use crate::id::{BuildId, EngineId, Owner, VisitId};
use crate::record::Record;
use rusqlite::{Connection, OptionalExtension, Row, params};

/// Which engines the list shows. The default shows all that are not deleted.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct EngineFilter {
    /// Only engines with this in their name, in large or small letters; empty for all.
    pub name_contains: String,
}

/// One line of the list of engines.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EngineLine {
    /// Its number.
    pub id: EngineId,
    /// Its name.
    pub name: String,
    /// Made up for trying the program.
    pub invented: bool,
    /// When it was made.
    pub created_ms: i64,
    /// When anything of it was last saved.
    pub changed_ms: i64,
    /// When it was deleted, if it was; the list leaves deleted engines out.
    pub deleted_ms: Option<i64>,
    /// Number of builds that are not deleted.
    pub builds: i64,
    /// Number of job cards that are not deleted, in such builds.
    pub visits: i64,
    /// The job card worked on last, for the way straight back to the work.
    pub latest_visit: Option<VisitId>,
    /// Its name.
    pub latest_visit_name: Option<String>,
}

/// An engine with everything below it that is not deleted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Engine {
    /// The engine itself. It may be deleted: a page that is opened again can then offer to bring it back.
    pub line: EngineLine,
    /// Its builds, the oldest first.
    pub builds: Vec<BuildLine>,
}

/// A build and its job cards.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BuildLine {
    /// Its number.
    pub id: BuildId,
    /// The engine it is a state of.
    pub engine: EngineId,
    /// Its name.
    pub name: String,
    /// When it was made.
    pub created_ms: i64,
    /// When it or one of its job cards was last saved.
    pub changed_ms: i64,
    /// When it was deleted, if it was.
    pub deleted_ms: Option<i64>,
    /// Its job cards that are not deleted, the oldest first.
    pub visits: Vec<VisitLine>,
}

/// A job card.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct VisitLine {
    /// Its number.
    pub id: VisitId,
    /// The build it belongs to.
    pub build: BuildId,
    /// Its name.
    pub name: String,
    /// When it was made.
    pub created_ms: i64,
    /// When it was last saved.
    pub changed_ms: i64,
    /// When it was deleted, if it was.
    pub deleted_ms: Option<i64>,
}

/// A job card with what it stands in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct VisitPlace {
    /// The engine.
    pub engine: EngineLine,
    /// The build, with all its job cards that are not deleted.
    pub build: BuildLine,
    /// The job card itself.
    pub visit: VisitLine,
}

const ENGINE: &str = "
    SELECT e.id, e.name, e.invented, e.created_ms, e.changed_ms, e.deleted_ms,
        (SELECT count(*) FROM build b WHERE b.engine_id = e.id AND b.deleted_ms IS NULL),
        (SELECT count(*) FROM build b JOIN visit v ON v.build_id = b.id
          WHERE b.engine_id = e.id AND b.deleted_ms IS NULL AND v.deleted_ms IS NULL),
        latest.id, latest.name
    FROM engine e LEFT JOIN visit latest ON latest.id =
        (SELECT v.id FROM build b JOIN visit v ON v.build_id = b.id
          WHERE b.engine_id = e.id AND b.deleted_ms IS NULL AND v.deleted_ms IS NULL
          ORDER BY v.changed_ms DESC, v.id DESC LIMIT 1)";

impl Record {
    /// The engines that are not deleted, the one worked on last first.
    ///
    /// # Errors
    /// Those of the file.
    pub fn engines(&self, filter: &EngineFilter) -> Result<Vec<EngineLine>, RecordError> {
        let sql = format!("{ENGINE} WHERE e.deleted_ms IS NULL ORDER BY e.changed_ms DESC, e.id DESC");
        let all: Vec<EngineLine> = self.read(|rows| {
            let mut query = rows.prepare_cached(&sql)?;
            Ok(query.query_map([], engine_line)?.collect::<Result<_, _>>()?)
        })?;
        // SQLite folds only the letters A to Z.
        let wanted = filter.name_contains.trim().to_lowercase();
        Ok(all.into_iter().filter(|line| line.name.to_lowercase().contains(&wanted)).collect())
    }

    /// One engine, deleted or not.
    ///
    /// # Errors
    /// [`RecordError::Missing`]; those of the file.
    pub fn engine(&self, id: EngineId) -> Result<Engine, RecordError> {
        self.read(|rows| {
            let line = engine_in(rows, id)?;
            let mut query = rows.prepare_cached(
                "SELECT id, engine_id, name, created_ms, changed_ms, deleted_ms FROM build
                 WHERE engine_id = ?1 AND deleted_ms IS NULL ORDER BY id",
            )?;
            let builds: Vec<BuildLine> = query.query_map([id], build_line)?.collect::<Result<_, _>>()?;
            let builds = builds.into_iter().map(|build| with_visits(rows, build)).collect::<Outcome<_>>()?;
            Ok(Engine { line, builds })
        })
    }

    /// One build, deleted or not, with its job cards.
    ///
    /// # Errors
    /// [`RecordError::Missing`]; those of the file.
    pub fn build(&self, id: BuildId) -> Result<BuildLine, RecordError> {
        self.read(|rows| build_in(rows, id))
    }

    /// One job card, deleted or not, with what it stands in.
    ///
    /// # Errors
    /// [`RecordError::Missing`]; those of the file.
    pub fn visit(&self, id: VisitId) -> Result<VisitPlace, RecordError> {
        self.read(|rows| {
            let found = rows
                .prepare_cached(
                    "SELECT id, build_id, name, created_ms, changed_ms, deleted_ms FROM visit WHERE id = ?1",
                )?
                .query_row([id], visit_line)
                .optional()?;
            let visit = found.ok_or_else(|| missing(id.into()))?;
            let build = build_in(rows, visit.build)?;
            Ok(VisitPlace { engine: engine_in(rows, build.engine)?, build, visit })
        })
    }
}

fn missing(owner: Owner) -> RecordError {
    RecordError::Missing { what: owner.word(), number: owner.number() }
}

fn engine_in(rows: &Connection, id: EngineId) -> Outcome<EngineLine> {
    let sql = format!("{ENGINE} WHERE e.id = ?1");
    let found = rows.prepare_cached(&sql)?.query_row([id], engine_line).optional()?;
    Ok(found.ok_or_else(|| missing(id.into()))?)
}

fn build_in(rows: &Connection, id: BuildId) -> Outcome<BuildLine> {
    let found = rows
        .prepare_cached(
            "SELECT id, engine_id, name, created_ms, changed_ms, deleted_ms FROM build WHERE id = ?1",
        )?
        .query_row([id], build_line)
        .optional()?;
    with_visits(rows, found.ok_or_else(|| missing(id.into()))?)
}

fn with_visits(rows: &Connection, build: BuildLine) -> Outcome<BuildLine> {
    let mut query = rows.prepare_cached(
        "SELECT id, build_id, name, created_ms, changed_ms, deleted_ms FROM visit
         WHERE build_id = ?1 AND deleted_ms IS NULL ORDER BY id",
    )?;
    let visits = query.query_map(params![build.id], visit_line)?.collect::<Result<_, _>>()?;
    Ok(BuildLine { visits, ..build })
}

fn engine_line(row: &Row<'_>) -> rusqlite::Result<EngineLine> {
    Ok(EngineLine {
        id: row.get(0)?,
        name: row.get(1)?,
        invented: row.get(2)?,
        created_ms: row.get(3)?,
        changed_ms: row.get(4)?,
        deleted_ms: row.get(5)?,
        builds: row.get(6)?,
        visits: row.get(7)?,
        latest_visit: row.get(8)?,
        latest_visit_name: row.get(9)?,
    })
}

fn build_line(row: &Row<'_>) -> rusqlite::Result<BuildLine> {
    Ok(BuildLine {
        id: row.get(0)?,
        engine: row.get(1)?,
        name: row.get(2)?,
        created_ms: row.get(3)?,
        changed_ms: row.get(4)?,
        deleted_ms: row.get(5)?,
        visits: Vec::new(),
    })
}

fn visit_line(row: &Row<'_>) -> rusqlite::Result<VisitLine> {
    Ok(VisitLine {
        id: row.get(0)?,
        build: row.get(1)?,
        name: row.get(2)?,
        created_ms: row.get(3)?,
        changed_ms: row.get(4)?,
        deleted_ms: row.get(5)?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(record: &Record, contains: &str) -> Vec<String> {
        let filter = EngineFilter { name_contains: contains.to_string() };
        record.engines(&filter).unwrap().into_iter().map(|line| line.name).collect()
    }

    #[test]
    fn exact_the_engine_worked_on_last_comes_first() {
        let record = Record::open_in_memory().unwrap();
        let (_, build, visit) = record.create_engine("Änderung", false).unwrap();
        record.create_engine("Second", true).unwrap();
        assert_eq!(names(&record, ""), ["Second", "Änderung"]);
        std::thread::sleep(std::time::Duration::from_millis(2));
        let card = record.create_visit(build, "Later", None).unwrap();
        std::thread::sleep(std::time::Duration::from_millis(2));
        record.save_field(visit.into(), "note", "x", None).unwrap();
        assert_eq!(names(&record, ""), ["Änderung", "Second"]);
        assert_eq!(names(&record, " äNDER "), ["Änderung"]);
        let line = &record.engines(&EngineFilter::default()).unwrap()[0];
        assert_eq!((line.builds, line.visits, line.latest_visit), (1, 2, Some(visit)));
        record.delete(visit.into()).unwrap();
        let line = &record.engines(&EngineFilter::default()).unwrap()[0];
        assert_eq!((line.visits, line.latest_visit), (1, Some(card)));
        record.delete(build.into()).unwrap();
        let line = &record.engines(&EngineFilter::default()).unwrap()[0];
        assert_eq!((line.builds, line.visits, line.latest_visit), (0, 0, None));
    }
}
