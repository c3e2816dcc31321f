//! From an archive into the record, whole or not at all. The archive may come from a stranger.

use super::name::{self, Folder, HEAD, Leaf};
use super::parts::{About, EngineAbout, FORMAT, Head, PictureAbout, ResultAbout, VERSION};
use crate::error::{Fault, Outcome, RecordError};
use crate::field::{self, Field, PastText, refuse_oversize};
use crate::id::{BuildId, EngineId, Owner, PictureId, VisitId};
use crate::picture::{self, PictureLine, refuse_misfit};
use crate::record::Record;
use crate::result::{self, NewResult};
use rusqlite::{Connection, params};
use serde::de::DeserializeOwned;
use std::collections::{BTreeMap, BTreeSet};
use std::io::{Read, Seek, SeekFrom};
use zip::{CompressionMethod, ZipArchive};

impl Record {
    /// Adds the engines of an archive as new engines and returns their numbers in the order of the archive. Texts,
    /// histories and times are kept as they are in it.
    ///
    /// # Errors
    /// [`RecordError::Import`] for anything that is not a whole, unchanged-in-form export; nothing is then added.
    /// Those of the file.
    pub fn import(&self, reader: impl Read + Seek) -> Result<Vec<EngineId>, RecordError> {
        let mut archive = Archive::open(reader).map_err(|fault| fault.at(&self.place()))?;
        self.write(|rows| archive.put(rows))
    }
}

/// Largest single file of an archive, in bytes.
const LARGEST_FILE: u64 = 512_000_000;

struct Archive<R: Read + Seek> {
    zip: ZipArchive<R>,
    /// The files of each folder, in the order of the numbers.
    folders: BTreeMap<Folder, BTreeSet<Leaf>>,
    /// How many bytes may still be read. Files that are not compressed are together no longer than the archive; if
    /// they claim to be, they lie over each other.
    budget: u64,
}

fn refused<T>(why: impl Into<String>) -> Outcome<T> {
    Err(Fault::Record(RecordError::Import { why: why.into() }))
}

impl<R: Read + Seek> Archive<R> {
    fn open(mut reader: R) -> Outcome<Self> {
        let length = reader.seek(SeekFrom::End(0)).and_then(|end| reader.rewind().map(|()| end));
        let Ok(budget) = length else { return refused("it cannot be read to its end; copy it once more") };
        let zip = match ZipArchive::new(reader) {
            Ok(zip) => zip,
            Err(cause) => {
                return refused(format!(
                    "it is no whole zip archive ({cause}); choose a file that Portwright exported"
                ));
            }
        };
        let mut archive = Self { zip, folders: BTreeMap::new(), budget };
        archive.know_itself()?;
        archive.sort_files()?;
        Ok(archive)
    }

    fn know_itself(&mut self) -> Outcome<()> {
        if self.zip.index_for_name(HEAD).is_none() {
            return refused(format!("it lacks {HEAD}, so it is no export of a record"));
        }
        let head: Head = self.json(HEAD)?;
        if head.format != FORMAT {
            return refused(format!("{HEAD} does not say \"{FORMAT}\""));
        }
        if head.version != VERSION {
            return refused(format!(
                "its form has number {}, and this program knows number {VERSION}; use a newer Portwright",
                head.version
            ));
        }
        Ok(())
    }

    /// Takes stock of all names before anything is read.
    fn sort_files(&mut self) -> Outcome<()> {
        let names: Vec<String> = self.zip.file_names().map(ToString::to_string).collect();
        for name in names {
            // Programs that pack folders add entries for the folders themselves; they hold nothing.
            let of_folder = name.ends_with('/') && !name.contains("..");
            if name == HEAD || of_folder {
                continue;
            }
            let Some((folder, leaf)) = name::parse(&name) else {
                return refused(format!("it has a file \"{}\" that no export has", shown(&name)));
            };
            self.folders.entry(folder).or_default().insert(leaf);
        }
        for (folder, files) in &self.folders {
            let above = folder.above();
            if !files.contains(&Leaf::About) || above.is_some_and(|above| !self.folders.contains_key(&above))
            {
                return refused(format!("the folder {folder} is not whole"));
            }
        }
        Ok(())
    }

    fn put(&mut self, rows: &Connection) -> Outcome<Vec<EngineId>> {
        let folders: Vec<Folder> = self.folders.keys().copied().collect();
        let mut engines = Vec::new();
        let mut build = None;
        // A folder comes before those in it.
        for folder in folders {
            match (folder.build, folder.visit, engines.last(), build) {
                (None, None, ..) => engines.push(self.put_engine(rows, folder)?),
                (Some(_), None, Some(engine), _) => build = Some(self.put_build(rows, folder, *engine)?),
                (Some(_), Some(_), _, Some(build)) => self.put_visit(rows, folder, build)?,
                _ => return refused(format!("the folder {folder} is not whole")),
            }
        }
        Ok(engines)
    }

    fn put_engine(&mut self, rows: &Connection, folder: Folder) -> Outcome<EngineId> {
        let about: EngineAbout = self.json(&folder.name(Leaf::About))?;
        rows.prepare_cached(
            "INSERT INTO engine (name, invented, created_ms, changed_ms, deleted_ms) VALUES (?1, ?2, ?3, ?4, ?5)",
        )?
        .execute(params![about.name, about.invented, about.created_ms, about.changed_ms, about.deleted_ms])?;
        let id = EngineId(rows.last_insert_rowid());
        self.put_fields(rows, folder, id.into())?;
        Ok(id)
    }

    fn put_build(&mut self, rows: &Connection, folder: Folder, engine: EngineId) -> Outcome<BuildId> {
        let about: About = self.json(&folder.name(Leaf::About))?;
        rows.prepare_cached(
            "INSERT INTO build (engine_id, name, created_ms, changed_ms, deleted_ms) VALUES (?1, ?2, ?3, ?4, ?5)",
        )?
        .execute(params![engine, about.name, about.created_ms, about.changed_ms, about.deleted_ms])?;
        let id = BuildId(rows.last_insert_rowid());
        self.put_fields(rows, folder, id.into())?;
        Ok(id)
    }

    fn put_visit(&mut self, rows: &Connection, folder: Folder, build: BuildId) -> Outcome<()> {
        let about: About = self.json(&folder.name(Leaf::About))?;
        rows.prepare_cached(
            "INSERT INTO visit (build_id, name, created_ms, changed_ms, deleted_ms) VALUES (?1, ?2, ?3, ?4, ?5)",
        )?
        .execute(params![build, about.name, about.created_ms, about.changed_ms, about.deleted_ms])?;
        let id = VisitId(rows.last_insert_rowid());
        self.put_fields(rows, folder, id.into())?;
        for leaf in self.folders.get(&folder).cloned().unwrap_or_default() {
            match leaf {
                Leaf::Result(number) => self.put_result(rows, folder, number, id)?,
                Leaf::PictureAbout(number) => self.put_picture(rows, folder, number, id)?,
                _ => {}
            }
        }
        self.refuse_loose(folder)
    }

    /// A part of a result or a picture that the rest of it is missing of would be lost in silence.
    fn refuse_loose(&self, folder: Folder) -> Outcome<()> {
        let files = self.folders.get(&folder);
        let has = |leaf| files.is_some_and(|files| files.contains(&leaf));
        let loose = files.into_iter().flatten().find(|leaf| match **leaf {
            Leaf::Inputs(number) | Leaf::Report(number) => !has(Leaf::Result(number)),
            Leaf::PictureBytes(number, _) => !has(Leaf::PictureAbout(number)),
            _ => false,
        });
        match loose {
            Some(leaf) => refused(format!("{} belongs to nothing", folder.name(*leaf))),
            None => Ok(()),
        }
    }

    fn put_fields(&mut self, rows: &Connection, folder: Folder, owner: Owner) -> Outcome<()> {
        let fields: BTreeMap<String, Field> = self.json(&folder.name(Leaf::Fields))?;
        let history: BTreeMap<String, Vec<PastText>> = self.json(&folder.name(Leaf::History))?;
        let at = |key: &str| format!("field \"{}\" in {folder}", shown(key));
        for (key, past) in &history {
            let Some(field) = fields.get(key) else {
                return refused(format!("the {} has a history but no text", at(key)));
            };
            let versions: Vec<i64> = past.iter().map(|text| text.version).chain([field.version]).collect();
            if !versions.is_sorted_by(|one, next| one < next) {
                return refused(format!("the versions of the {} do not follow each other", at(key)));
            }
            for text in past {
                accept(&at(key), key, text.version, &text.text)?;
                field::put_past(rows, owner, key, text)?;
            }
        }
        for (key, text) in &fields {
            accept(&at(key), key, text.version, &text.text)?;
            field::put(rows, owner, key, text)?;
        }
        Ok(())
    }

    fn put_result(&mut self, rows: &Connection, folder: Folder, number: u32, visit: VisitId) -> Outcome<()> {
        let about: ResultAbout = self.json(&folder.name(Leaf::Result(number)))?;
        let new = NewResult {
            kind: about.kind,
            program_version: about.program_version,
            inputs_text: self.text(&folder.name(Leaf::Inputs(number)))?,
            report_json: self.text(&folder.name(Leaf::Report(number)))?,
        };
        if let Err(error) = result::refuse_no_json(&new.report_json) {
            return refused(format!("{}: {error}", folder.name(Leaf::Report(number))));
        }
        result::insert(rows, visit, &new, about.made_ms)?;
        Ok(())
    }

    fn put_picture(&mut self, rows: &Connection, folder: Folder, number: u32, visit: VisitId) -> Outcome<()> {
        let about_name = folder.name(Leaf::PictureAbout(number));
        let about: PictureAbout = self.json(&about_name)?;
        let Some(ending) = picture::ending_of(&about.media_type) else {
            return refused(format!("{about_name} names a kind of picture that is not taken"));
        };
        let name = folder.name(Leaf::PictureBytes(number, ending));
        let bytes = self.bytes(&name, picture::LARGEST as u64)?;
        if let Err(error) = refuse_misfit(&about.media_type, &bytes) {
            return refused(format!("{name}: {error}"));
        }
        let line = PictureLine {
            id: PictureId(0),
            visit,
            step: about.step,
            caption: about.caption,
            media_type: about.media_type,
            width: about.width,
            height: about.height,
            made_ms: about.made_ms,
            deleted_ms: about.deleted_ms,
            on_sheet: about.on_sheet,
        };
        picture::insert(rows, &line, &bytes)?;
        Ok(())
    }

    fn json<T: DeserializeOwned>(&mut self, name: &str) -> Outcome<T> {
        let bytes = self.bytes(name, LARGEST_FILE)?;
        match serde_json::from_slice(&bytes) {
            Ok(part) => Ok(part),
            Err(cause) => refused(format!("{name} is not as an export writes it ({cause})")),
        }
    }

    fn text(&mut self, name: &str) -> Outcome<String> {
        match String::from_utf8(self.bytes(name, LARGEST_FILE)?) {
            Ok(text) => Ok(text),
            Err(_) => refused(format!("{name} is not text in UTF-8")),
        }
    }

    fn bytes(&mut self, name: &str, most: u64) -> Outcome<Vec<u8>> {
        let Ok(file) = self.zip.by_name(name) else {
            return refused(format!(
                "the file {name} is missing, encrypted or compressed; pack without compression"
            ));
        };
        if file.compression() != CompressionMethod::Stored {
            return refused(format!("the file {name} is compressed; pack without compression (zip -0)"));
        }
        let most = most.min(self.budget);
        let mut bytes = Vec::new();
        if let Err(cause) = file.take(most + 1).read_to_end(&mut bytes) {
            return refused(format!("the file {name} in it cannot be read ({cause})"));
        }
        let length = bytes.len() as u64;
        if length > most {
            return refused(format!("the file {name} in it is larger than an export can hold"));
        }
        self.budget -= length;
        Ok(bytes)
    }
}

fn accept(at: &str, key: &str, version: i64, text: &str) -> Outcome<()> {
    if version < 1 {
        return refused(format!("the {at} has the version {version}, and they count from 1"));
    }
    match refuse_oversize(key, text) {
        Ok(()) => Ok(()),
        Err(error) => refused(format!("the {at}: {error}")),
    }
}

/// A name from outside, short enough for a sentence and without line breaks.
fn shown(name: &str) -> String {
    name.chars().take(60).flat_map(char::escape_debug).collect()
}
