//! Engines, builds and job cards as things that are made, named, deleted and brought back.

use crate::clock::now_ms;
use crate::error::{Outcome, RecordError};
use crate::field;
use crate::id::{BuildId, EngineId, Owner, PictureId, VisitId};
use crate::record::Record;
use rusqlite::{Connection, OptionalExtension, params};

/// Something that was deleted and can be brought back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Deleted {
    /// What it is.
    pub item: DeletedItem,
    /// Its name, or the caption of a picture.
    pub name: String,
    /// Where it stood: names of the engine, build and job card above it, from the top.
    pub within: Vec<String>,
    /// When it was deleted.
    pub deleted_ms: i64,
}

/// What can be brought back.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DeletedItem {
    /// By [`Record::undelete`].
    Owner(Owner),
    /// By [`Record::undelete_picture`].
    Picture(PictureId),
}

impl Record {
    /// A new engine with one build and one job card, named "First build" and "First job card".
    ///
    /// `invented` marks an engine that is made up for trying the program.
    ///
    /// # Errors
    /// Those of the file.
    pub fn create_engine(
        &self,
        name: &str,
        invented: bool,
    ) -> Result<(EngineId, BuildId, VisitId), RecordError> {
        self.write(|rows| {
            let now = now_ms();
            let engine = insert_engine(rows, name, invented, now)?;
            let build = insert_build(rows, engine, "First build", now)?;
            let visit = insert_visit(rows, build, "First job card", now)?;
            Ok((engine, build, visit))
        })
    }

    /// A new build of an engine; with `copy_from` every field of that build is copied.
    ///
    /// # Errors
    /// [`RecordError::Missing`] for an engine or build that is not there; those of the file.
    pub fn create_build(
        &self,
        engine: EngineId,
        name: &str,
        copy_from: Option<BuildId>,
    ) -> Result<BuildId, RecordError> {
        self.write(|rows| {
            require(rows, engine.into())?;
            let now = now_ms();
            let build = insert_build(rows, engine, name, now)?;
            if let Some(source) = copy_from {
                require(rows, source.into())?;
                field::copy(rows, source.into(), build.into(), "", now)?;
            }
            touch(rows, build.into(), now)?;
            Ok(build)
        })
    }

    /// A new job card of a build; with `copy_returns_from` the return values (`returns.*`) of that job card are copied.
    ///
    /// # Errors
    /// [`RecordError::Missing`] for a build or job card that is not there; those of the file.
    pub fn create_visit(
        &self,
        build: BuildId,
        name: &str,
        copy_returns_from: Option<VisitId>,
    ) -> Result<VisitId, RecordError> {
        self.write(|rows| {
            require(rows, build.into())?;
            let now = now_ms();
            let visit = insert_visit(rows, build, name, now)?;
            if let Some(source) = copy_returns_from {
                require(rows, source.into())?;
                field::copy(rows, source.into(), visit.into(), "returns.", now)?;
            }
            touch(rows, visit.into(), now)?;
            Ok(visit)
        })
    }

    /// Gives another name and returns the former one, so that it can be given back.
    ///
    /// # Errors
    /// [`RecordError::Missing`]; those of the file.
    pub fn rename(&self, owner: Owner, name: &str) -> Result<String, RecordError> {
        self.write(|rows| {
            let before = name_of(rows, owner)?;
            if before != name {
                let sql = format!("UPDATE {} SET name = ?1 WHERE id = ?2", owner.table());
                rows.prepare_cached(&sql)?.execute(params![name, owner.number()])?;
                touch(rows, owner, now_ms())?;
            }
            Ok(before)
        })
    }

    /// Marks an engine, build or job card as deleted; nothing below it is lost, and [`Record::undelete`] brings it
    /// back. Deleting twice keeps the first time.
    ///
    /// # Errors
    /// [`RecordError::Missing`]; those of the file.
    pub fn delete(&self, owner: Owner) -> Result<(), RecordError> {
        self.write(|rows| {
            require(rows, owner)?;
            let sql =
                format!("UPDATE {} SET deleted_ms = coalesce(deleted_ms, ?1) WHERE id = ?2", owner.table());
            rows.prepare_cached(&sql)?.execute(params![now_ms(), owner.number()])?;
            Ok(())
        })
    }

    /// Brings back what was deleted, and with it the build and the engine it belongs to, so that it can be seen.
    ///
    /// # Errors
    /// [`RecordError::Missing`]; those of the file.
    pub fn undelete(&self, owner: Owner) -> Result<(), RecordError> {
        self.write(|rows| {
            require(rows, owner)?;
            for place in chain(rows, owner)? {
                let sql = format!("UPDATE {} SET deleted_ms = NULL WHERE id = ?1", place.table());
                rows.prepare_cached(&sql)?.execute([place.number()])?;
            }
            Ok(())
        })
    }

    /// Everything that was deleted, the latest first.
    ///
    /// # Errors
    /// Those of the file.
    pub fn deleted(&self) -> Result<Vec<Deleted>, RecordError> {
        const SQL: &str = "
            SELECT 'engine', e.id, e.name, NULL, NULL, NULL, e.deleted_ms AS at
              FROM engine e WHERE e.deleted_ms IS NOT NULL
            UNION ALL
            SELECT 'build', b.id, b.name, e.name, NULL, NULL, b.deleted_ms
              FROM build b JOIN engine e ON e.id = b.engine_id WHERE b.deleted_ms IS NOT NULL
            UNION ALL
            SELECT 'visit', v.id, v.name, e.name, b.name, NULL, v.deleted_ms
              FROM visit v JOIN build b ON b.id = v.build_id JOIN engine e ON e.id = b.engine_id
             WHERE v.deleted_ms IS NOT NULL
            UNION ALL
            SELECT 'picture', p.id, p.caption, e.name, b.name, v.name, p.deleted_ms
              FROM picture p JOIN visit v ON v.id = p.visit_id JOIN build b ON b.id = v.build_id
              JOIN engine e ON e.id = b.engine_id WHERE p.deleted_ms IS NOT NULL
            ORDER BY at DESC, 1, 2";
        self.read(|rows| {
            let mut query = rows.prepare_cached(SQL)?;
            let lines = query.query_map([], |row| {
                let number: i64 = row.get(1)?;
                let item = match row.get::<_, String>(0)?.as_str() {
                    "engine" => DeletedItem::Owner(Owner::Engine(EngineId(number))),
                    "build" => DeletedItem::Owner(Owner::Build(BuildId(number))),
                    "visit" => DeletedItem::Owner(Owner::Visit(VisitId(number))),
                    _ => DeletedItem::Picture(PictureId(number)),
                };
                let above: [Option<String>; 3] = [row.get(3)?, row.get(4)?, row.get(5)?];
                Ok(Deleted {
                    item,
                    name: row.get(2)?,
                    within: above.into_iter().flatten().collect(),
                    deleted_ms: row.get(6)?,
                })
            })?;
            Ok(lines.collect::<Result<_, _>>()?)
        })
    }
}

fn insert_engine(rows: &Connection, name: &str, invented: bool, now: i64) -> Outcome<EngineId> {
    rows.execute(
        "INSERT INTO engine (name, invented, created_ms, changed_ms) VALUES (?1, ?2, ?3, ?3)",
        params![name, invented, now],
    )?;
    Ok(EngineId(rows.last_insert_rowid()))
}

fn insert_build(rows: &Connection, engine: EngineId, name: &str, now: i64) -> Outcome<BuildId> {
    rows.execute(
        "INSERT INTO build (engine_id, name, created_ms, changed_ms) VALUES (?1, ?2, ?3, ?3)",
        params![engine, name, now],
    )?;
    Ok(BuildId(rows.last_insert_rowid()))
}

fn insert_visit(rows: &Connection, build: BuildId, name: &str, now: i64) -> Outcome<VisitId> {
    rows.execute(
        "INSERT INTO visit (build_id, name, created_ms, changed_ms) VALUES (?1, ?2, ?3, ?3)",
        params![build, name, now],
    )?;
    Ok(VisitId(rows.last_insert_rowid()))
}

/// The name of something that must be there, deleted or not.
pub(crate) fn name_of(rows: &Connection, owner: Owner) -> Outcome<String> {
    let sql = format!("SELECT name FROM {} WHERE id = ?1", owner.table());
    let name = rows.prepare_cached(&sql)?.query_row([owner.number()], |row| row.get(0)).optional()?;
    Ok(name.ok_or(RecordError::Missing { what: owner.word(), number: owner.number() })?)
}

/// Refuses what is not there. What was deleted is: a page that was open meanwhile may still save into it.
pub(crate) fn require(rows: &Connection, owner: Owner) -> Outcome<()> {
    name_of(rows, owner).map(|_| ())
}

/// The thing itself, then what it belongs to, up to the engine.
fn chain(rows: &Connection, owner: Owner) -> Outcome<Vec<Owner>> {
    let number = |sql: &str, id: i64| rows.query_row(sql, [id], |row| row.get::<_, i64>(0));
    let mut places = vec![owner];
    let mut at = owner;
    loop {
        at = match at {
            Owner::Engine(_) => return Ok(places),
            Owner::Build(id) => {
                Owner::Engine(EngineId(number("SELECT engine_id FROM build WHERE id = ?1", id.0)?))
            }
            Owner::Visit(id) => {
                Owner::Build(BuildId(number("SELECT build_id FROM visit WHERE id = ?1", id.0)?))
            }
        };
        places.push(at);
    }
}

/// Notes that something was worked on just now, and what it belongs to with it.
pub(crate) fn touch(rows: &Connection, owner: Owner, now: i64) -> Outcome<()> {
    for place in chain(rows, owner)? {
        let sql = format!("UPDATE {} SET changed_ms = max(changed_ms, ?1) WHERE id = ?2", place.table());
        rows.prepare_cached(&sql)?.execute(params![now, place.number()])?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture::{picture, texts};
    use crate::{EngineFilter, Saved};

    #[test]
    fn exact_a_new_build_takes_all_fields_and_a_new_job_card_the_return_values() {
        let record = Record::open_in_memory().unwrap();
        let (engine, build, visit) = record.create_engine("Invented single", true).unwrap();
        record.save_field(build.into(), "bore", "54 mm", None).unwrap();
        record.save_field(build.into(), "bore", "54.5 mm", Some(1)).unwrap();
        for (key, text) in [("returns.slack", "0.5 mm"), ("found.slack", "2 mm"), ("note", "x")] {
            record.save_field(visit.into(), key, text, None).unwrap();
        }
        let second = record.create_build(engine, "New piston", Some(build)).unwrap();
        assert_eq!(texts(&record, second), [("bore".to_string(), "54.5 mm".to_string())]);
        assert_eq!(record.fields(second.into()).unwrap()["bore"].version, 1);
        let next = record.create_visit(second, "After the piston", Some(visit)).unwrap();
        assert_eq!(texts(&record, next), [("returns.slack".to_string(), "0.5 mm".to_string())]);
        // The copy is a copy: what is changed in one stays out of the other.
        let saved = record.save_field(second.into(), "bore", "55 mm", Some(1)).unwrap();
        assert_eq!(saved, Saved::Stored { version: 2 });
        assert_eq!(record.fields(build.into()).unwrap()["bore"].text, "54.5 mm");
        assert!(texts(&record, record.create_build(engine, "Bare", None).unwrap()).is_empty());
    }

    #[test]
    fn exact_what_is_deleted_is_out_of_sight_and_comes_back_whole() {
        let record = Record::open_in_memory().unwrap();
        let (engine, build, visit) = record.create_engine("Invented single", false).unwrap();
        record.save_field(visit.into(), "note", "x", None).unwrap();
        let photo = record.add_picture(visit, &picture("flap")).unwrap();
        record.delete_picture(photo).unwrap();
        record.delete(visit.into()).unwrap();
        record.delete(engine.into()).unwrap();
        assert!(record.engines(&EngineFilter::default()).unwrap().is_empty());
        let deleted = record.deleted().unwrap();
        assert_eq!(deleted.len(), 3);
        let card = deleted.iter().find(|one| one.item == DeletedItem::Owner(visit.into())).unwrap();
        assert_eq!(
            (card.name.as_str(), card.within.join("/")),
            ("First job card", "Invented single/First build".into())
        );
        // What a page still had open is kept even so.
        assert_eq!(
            record.save_field(visit.into(), "note", "y", Some(1)).unwrap(),
            Saved::Stored { version: 2 }
        );
        // Bringing back the job card brings back the engine it is in.
        record.undelete(visit.into()).unwrap();
        let whole = record.engine(engine).unwrap();
        assert_eq!(whole.line.deleted_ms, None);
        assert_eq!(whole.builds[0].visits[0].id, visit);
        assert_eq!(texts(&record, visit), [("note".to_string(), "y".to_string())]);
        assert_eq!(record.deleted().unwrap()[0].item, DeletedItem::Picture(photo));
        record.undelete_picture(photo).unwrap();
        assert_eq!(record.pictures(visit).unwrap().len(), 1);
        assert!(record.deleted().unwrap().is_empty());
        assert_eq!(record.visit(visit).unwrap().build.id, build);
    }

    #[test]
    fn exact_renaming_gives_the_former_name() {
        let record = Record::open_in_memory().unwrap();
        let (engine, ..) = record.create_engine("One", false).unwrap();
        assert_eq!(record.rename(engine.into(), "Two").unwrap(), "One");
        assert_eq!(record.engine(engine).unwrap().line.name, "Two");
    }

    #[test]
    fn refuses_what_is_not_there() {
        let record = Record::open_in_memory().unwrap();
        let (engine, build, _) = record.create_engine("One", false).unwrap();
        let sentences = [
            record.rename(EngineId(7).into(), "x").unwrap_err(),
            record.delete(BuildId(7).into()).unwrap_err(),
            record.undelete(VisitId(7).into()).unwrap_err(),
            record.create_build(EngineId(7), "x", None).unwrap_err(),
            record.create_build(engine, "x", Some(BuildId(7))).unwrap_err(),
            record.create_visit(build, "x", Some(VisitId(7))).unwrap_err(),
            record.picture(PictureId(7)).unwrap_err(),
            record.delete_picture(PictureId(7)).unwrap_err(),
            record.result(crate::ResultId(7)).unwrap_err(),
            record.fields(BuildId(7).into()).unwrap_err(),
        ];
        for error in sentences {
            assert!(error.to_string().contains("with the number 7 in this record"), "{error}");
        }
        // A build whose source is missing is not half made.
        assert_eq!(record.engine(engine).unwrap().builds.len(), 1);
    }
}
