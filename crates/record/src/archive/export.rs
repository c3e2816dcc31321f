//! From the record to an archive.

use super::Compose;
use super::name::{Folder, HEAD, Leaf};
use super::parts::{About, EngineAbout, FORMAT, Head, PictureAbout, ResultAbout, VERSION};
use crate::error::{Fault, Outcome, RecordError};
use crate::field;
use crate::file::{Draft, exists};
use crate::id::{BuildId, EngineId, Owner, PictureId, ResultId, VisitId};
use crate::picture::{self, ending_of};
use crate::place::require;
use crate::record::Record;
use crate::result::{self, KeptResult};
use rusqlite::Connection;
use serde::Serialize;
use std::collections::BTreeMap;
use std::io::{Seek, Write};
use std::path::Path;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

impl Record {
    /// Writes engines with all that belongs to them as an archive of open files. The same content gives the same
    /// bytes, whatever the record and whenever it is done. `compose` makes the readable engine files.
    ///
    /// # Errors
    /// [`RecordError::Missing`]; those of the file and of the writer.
    pub fn export(
        &self,
        engines: &[EngineId],
        compose: Compose<'_>,
        writer: impl Write + Seek,
    ) -> Result<(), RecordError> {
        self.export_named(engines, compose, writer, Path::new("the export"))
    }

    /// Writes an archive into a new file, whole or not at all.
    ///
    /// # Errors
    /// [`RecordError::Refused`] when there is a file of this name; as for [`Record::export`].
    pub fn export_to_file(
        &self,
        engines: &[EngineId],
        compose: Compose<'_>,
        to: &Path,
    ) -> Result<(), RecordError> {
        if exists(to) {
            return Err(RecordError::Refused {
                what: "The export".to_string(),
                why: format!("there is a file {} already; name another", to.display()),
            });
        }
        let draft = Draft::beside(to);
        let file = std::fs::File::create(draft.path())
            .map_err(|cause| RecordError::of_file(to, "written", &cause))?;
        self.export_named(engines, compose, std::io::BufWriter::new(file), to)?;
        draft.put(to)
    }

    fn export_named(
        &self,
        engines: &[EngineId],
        compose: Compose<'_>,
        writer: impl Write + Seek,
        name: &Path,
    ) -> Result<(), RecordError> {
        self.read(|rows| {
            let mut entries = plan(rows, engines)?;
            entries.sort_by(|one, other| one.0.cmp(&other.0));
            let mut zip = ZipWriter::new(writer);
            for (entry, item) in entries {
                if let Some(bytes) = content(rows, &item, compose)? {
                    zip.start_file(entry, options()).map_err(|cause| zip_fault(name, cause))?;
                    zip.write_all(&bytes)
                        .map_err(|cause| Fault::Record(RecordError::of_file(name, "written", &cause)))?;
                }
            }
            let mut writer = zip.finish().map_err(|cause| zip_fault(name, cause))?;
            writer.flush().map_err(|cause| Fault::Record(RecordError::of_file(name, "written", &cause)))
        })
    }
}

fn options() -> SimpleFileOptions {
    SimpleFileOptions::default()
        .compression_method(CompressionMethod::Stored)
        .last_modified_time(zip::DateTime::default())
        .unix_permissions(0o644)
}

fn zip_fault(name: &Path, cause: zip::result::ZipError) -> Fault {
    let cause = match cause {
        zip::result::ZipError::Io(cause) => cause,
        other => std::io::Error::other(other.to_string()),
    };
    Fault::Record(RecordError::of_file(name, "written", &cause))
}

/// What a file of the archive is made from. Read only when its turn comes, so that no export is held in memory.
enum Item {
    Head,
    About(Owner),
    Fields(Owner),
    History(Owner),
    BuildFile(BuildId),
    VisitFile(BuildId, VisitId),
    Result(ResultId),
    Inputs(ResultId),
    Report(ResultId),
    PictureAbout(VisitId, PictureId),
    PictureBytes(PictureId),
}

type Entries = Vec<(String, Item)>;

fn plan(rows: &Connection, engines: &[EngineId]) -> Outcome<Entries> {
    let mut engines = engines.to_vec();
    engines.sort_unstable();
    engines.dedup();
    let mut entries = vec![(HEAD.to_string(), Item::Head)];
    for (engine, number) in engines.into_iter().zip(1..) {
        require(rows, engine.into())?;
        let folder = Folder::of_engine(number);
        plan_owner(&mut entries, folder, engine.into());
        let builds = numbers(rows, "SELECT id FROM build WHERE engine_id = ?1 ORDER BY id", engine.0)?;
        for (build, number) in builds.into_iter().map(BuildId).zip(1..) {
            let folder = Folder { build: Some(number), ..folder };
            plan_owner(&mut entries, folder, build.into());
            entries.push((folder.name(Leaf::EngineFile), Item::BuildFile(build)));
            let visits = numbers(rows, "SELECT id FROM visit WHERE build_id = ?1 ORDER BY id", build.0)?;
            for (visit, number) in visits.into_iter().map(VisitId).zip(1..) {
                let folder = Folder { visit: Some(number), ..folder };
                plan_visit(rows, &mut entries, folder, build, visit)?;
            }
        }
    }
    Ok(entries)
}

fn plan_owner(entries: &mut Entries, folder: Folder, owner: Owner) {
    entries.push((folder.name(Leaf::About), Item::About(owner)));
    entries.push((folder.name(Leaf::Fields), Item::Fields(owner)));
    entries.push((folder.name(Leaf::History), Item::History(owner)));
}

fn plan_visit(
    rows: &Connection,
    entries: &mut Entries,
    folder: Folder,
    build: BuildId,
    visit: VisitId,
) -> Outcome<()> {
    plan_owner(entries, folder, visit.into());
    entries.push((folder.name(Leaf::EngineFile), Item::VisitFile(build, visit)));
    let results = numbers(rows, "SELECT id FROM result WHERE visit_id = ?1 ORDER BY id", visit.0)?;
    for (result, number) in results.into_iter().map(ResultId).zip(1..) {
        entries.push((folder.name(Leaf::Result(number)), Item::Result(result)));
        entries.push((folder.name(Leaf::Inputs(number)), Item::Inputs(result)));
        entries.push((folder.name(Leaf::Report(number)), Item::Report(result)));
    }
    for (picture, number) in picture::lines(rows, visit)?.into_iter().zip(1..) {
        let ending = ending_of(&picture.media_type).unwrap_or("jpg");
        entries.push((folder.name(Leaf::PictureAbout(number)), Item::PictureAbout(visit, picture.id)));
        entries.push((folder.name(Leaf::PictureBytes(number, ending)), Item::PictureBytes(picture.id)));
    }
    Ok(())
}

fn numbers(rows: &Connection, sql: &str, of: i64) -> Outcome<Vec<i64>> {
    Ok(rows.prepare_cached(sql)?.query_map([of], |row| row.get(0))?.collect::<Result<_, _>>()?)
}

fn content(rows: &Connection, item: &Item, compose: Compose<'_>) -> Outcome<Option<Vec<u8>>> {
    let bytes = match *item {
        Item::Head => json(&Head { format: FORMAT.to_string(), version: VERSION })?,
        Item::About(Owner::Engine(id)) => json(&engine_about(rows, id)?)?,
        Item::About(owner) => json(&about(rows, owner)?)?,
        Item::Fields(owner) => json(&field::all(rows, owner)?)?,
        Item::History(owner) => json(&field::past(rows, owner)?)?,
        Item::BuildFile(build) => return composed(rows, &[build.into()], compose),
        Item::VisitFile(build, visit) => return composed(rows, &[build.into(), visit.into()], compose),
        Item::Result(id) => {
            let KeptResult { line, .. } = result::one(rows, id)?;
            let result::ResultLine { kind, made_ms, program_version, .. } = line;
            json(&ResultAbout { kind, made_ms, program_version })?
        }
        Item::Inputs(id) => result::one(rows, id)?.inputs_text.into_bytes(),
        Item::Report(id) => result::one(rows, id)?.report_json.into_bytes(),
        Item::PictureAbout(visit, id) => json(&picture_about(rows, visit, id)?)?,
        Item::PictureBytes(id) => picture::bytes(rows, id)?,
    };
    Ok(Some(bytes))
}

/// The fields of these owners as one engine file.
fn composed(rows: &Connection, owners: &[Owner], compose: Compose<'_>) -> Outcome<Option<Vec<u8>>> {
    let mut texts = BTreeMap::new();
    for owner in owners {
        texts.extend(field::all(rows, *owner)?.into_iter().map(|(key, field)| (key, field.text)));
    }
    Ok(compose(&texts).map(String::into_bytes))
}

fn json(part: &impl Serialize) -> Outcome<Vec<u8>> {
    let mut bytes = serde_json::to_vec_pretty(part).map_err(|cause| {
        Fault::Record(RecordError::Refused { what: "The export".to_string(), why: cause.to_string() })
    })?;
    bytes.push(b'\n');
    Ok(bytes)
}

fn engine_about(rows: &Connection, id: EngineId) -> Outcome<EngineAbout> {
    let sql = "SELECT name, invented, created_ms, changed_ms, deleted_ms FROM engine WHERE id = ?1";
    Ok(rows.prepare_cached(sql)?.query_row([id], |row| {
        Ok(EngineAbout {
            name: row.get(0)?,
            invented: row.get(1)?,
            created_ms: row.get(2)?,
            changed_ms: row.get(3)?,
            deleted_ms: row.get(4)?,
        })
    })?)
}

fn about(rows: &Connection, owner: Owner) -> Outcome<About> {
    let sql = format!("SELECT name, created_ms, changed_ms, deleted_ms FROM {} WHERE id = ?1", owner.table());
    Ok(rows.prepare_cached(&sql)?.query_row([owner.number()], |row| {
        Ok(About {
            name: row.get(0)?,
            created_ms: row.get(1)?,
            changed_ms: row.get(2)?,
            deleted_ms: row.get(3)?,
        })
    })?)
}

fn picture_about(rows: &Connection, visit: VisitId, id: PictureId) -> Outcome<PictureAbout> {
    let found = picture::lines(rows, visit)?.into_iter().find(|line| line.id == id);
    let line = found.ok_or(RecordError::Missing { what: "picture", number: id.0 })?;
    Ok(PictureAbout {
        step: line.step,
        caption: line.caption,
        media_type: line.media_type,
        width: line.width,
        height: line.height,
        made_ms: line.made_ms,
        deleted_ms: line.deleted_ms,
        on_sheet: line.on_sheet,
    })
}
