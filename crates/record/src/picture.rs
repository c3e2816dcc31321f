//! Photos attached to a step of a job card.

use crate::clock::now_ms;
use crate::error::{Outcome, RecordError};
use crate::id::{PictureId, VisitId};
use crate::place::{require, touch};
use crate::record::Record;
use rusqlite::{Connection, OptionalExtension, Row, params};

/// A picture to be kept, shrunk already.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewPicture {
    /// The step it belongs to: a key of the program's own.
    pub step: String,
    /// What is seen on it; may be empty.
    pub caption: String,
    /// `image/jpeg`, `image/png` or `image/webp`.
    pub media_type: String,
    /// The file itself.
    pub bytes: Vec<u8>,
    /// In pixels.
    pub width: u32,
    /// In pixels.
    pub height: u32,
}

/// What is known of a picture without its bytes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PictureLine {
    /// Its number.
    pub id: PictureId,
    /// The job card it belongs to.
    pub visit: VisitId,
    /// The step it belongs to.
    pub step: String,
    /// What is seen on it.
    pub caption: String,
    /// `image/jpeg`, `image/png` or `image/webp`.
    pub media_type: String,
    /// In pixels.
    pub width: u32,
    /// In pixels.
    pub height: u32,
    /// When it was added.
    pub made_ms: i64,
    /// When it was deleted, if it was.
    pub deleted_ms: Option<i64>,
    /// Whether it is printed on the sheet.
    pub on_sheet: bool,
}

/// A picture with its bytes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// What is known of it.
    pub line: PictureLine,
    /// The file itself.
    pub bytes: Vec<u8>,
}

/// Largest picture file, in bytes. The program shrinks photos before; this is what the record takes at all.
pub(crate) const LARGEST: usize = 16_000_000;

/// The kinds of picture that are kept: media type, and ending of the file in an export.
const KINDS: [(&str, &str); 3] = [("image/jpeg", "jpg"), ("image/png", "png"), ("image/webp", "webp")];

const COLUMNS: &str = "id, visit_id, step, caption, media_type, width, height, made_ms, deleted_ms, on_sheet";

impl Record {
    /// Keeps a picture; it is not printed on the sheet until that is asked for.
    ///
    /// # Errors
    /// [`RecordError::Missing`]; [`RecordError::Refused`] for bytes that are not of the media type named, for other
    /// media types, and for more than 16 MB; those of the file.
    pub fn add_picture(&self, visit: VisitId, new: &NewPicture) -> Result<PictureId, RecordError> {
        refuse_misfit(&new.media_type, &new.bytes)?;
        self.write(|rows| {
            require(rows, visit.into())?;
            let now = now_ms();
            let line = PictureLine {
                id: PictureId(0),
                visit,
                step: new.step.clone(),
                caption: new.caption.clone(),
                media_type: new.media_type.clone(),
                width: new.width,
                height: new.height,
                made_ms: now,
                deleted_ms: None,
                on_sheet: false,
            };
            let id = insert(rows, &line, &new.bytes)?;
            touch(rows, visit.into(), now)?;
            Ok(id)
        })
    }

    /// The pictures of a job card that are not deleted, in the order they were added.
    ///
    /// # Errors
    /// [`RecordError::Missing`]; those of the file.
    pub fn pictures(&self, visit: VisitId) -> Result<Vec<PictureLine>, RecordError> {
        self.read(|rows| {
            require(rows, visit.into())?;
            Ok(lines(rows, visit)?.into_iter().filter(|line| line.deleted_ms.is_none()).collect())
        })
    }

    /// One picture with its bytes, deleted or not.
    ///
    /// # Errors
    /// [`RecordError::Missing`]; those of the file.
    pub fn picture(&self, id: PictureId) -> Result<Picture, RecordError> {
        self.read(|rows| {
            let sql = format!("SELECT {COLUMNS}, bytes FROM picture WHERE id = ?1");
            let found = rows
                .prepare_cached(&sql)?
                .query_row([id], |row| Ok(Picture { line: line(row)?, bytes: row.get(10)? }))
                .optional()?;
            Ok(found.ok_or(RecordError::Missing { what: "picture", number: id.0 })?)
        })
    }

    /// Marks a picture as deleted.
    ///
    /// # Errors
    /// [`RecordError::Missing`]; those of the file.
    pub fn delete_picture(&self, id: PictureId) -> Result<(), RecordError> {
        self.change_picture(id, "deleted_ms = coalesce(deleted_ms, ?2)", now_ms())
    }

    /// Brings a picture back.
    ///
    /// # Errors
    /// [`RecordError::Missing`]; those of the file.
    pub fn undelete_picture(&self, id: PictureId) -> Result<(), RecordError> {
        self.change_picture(id, "deleted_ms = ?2", None::<i64>)
    }

    /// Says whether a picture is printed on the sheet.
    ///
    /// # Errors
    /// [`RecordError::Missing`]; those of the file.
    pub fn set_on_sheet(&self, id: PictureId, on_sheet: bool) -> Result<(), RecordError> {
        self.change_picture(id, "on_sheet = ?2", on_sheet)
    }

    /// Changes what is written under a picture.
    ///
    /// # Errors
    /// [`RecordError::Missing`]; those of the file.
    pub fn set_caption(&self, id: PictureId, caption: &str) -> Result<(), RecordError> {
        self.change_picture(id, "caption = ?2", caption)
    }

    fn change_picture(
        &self,
        id: PictureId,
        what: &str,
        value: impl rusqlite::ToSql,
    ) -> Result<(), RecordError> {
        self.write(|rows| {
            let sql = format!("UPDATE picture SET {what} WHERE id = ?1 RETURNING visit_id");
            let visit: Option<VisitId> =
                rows.prepare_cached(&sql)?.query_row(params![id, value], |row| row.get(0)).optional()?;
            let visit = visit.ok_or(RecordError::Missing { what: "picture", number: id.0 })?;
            touch(rows, visit.into(), now_ms())
        })
    }
}

/// The pictures of a job card, deleted ones too, in the order they were added.
pub(crate) fn lines(rows: &Connection, visit: VisitId) -> Outcome<Vec<PictureLine>> {
    let sql = format!("SELECT {COLUMNS} FROM picture WHERE visit_id = ?1 ORDER BY id");
    let mut query = rows.prepare_cached(&sql)?;
    Ok(query.query_map([visit], line)?.collect::<Result<_, _>>()?)
}

/// The bytes of one picture.
pub(crate) fn bytes(rows: &Connection, id: PictureId) -> Outcome<Vec<u8>> {
    Ok(rows.prepare_cached("SELECT bytes FROM picture WHERE id = ?1")?.query_row([id], |row| row.get(0))?)
}

/// Adds a picture; the number in `line` is not looked at.
pub(crate) fn insert(rows: &Connection, line: &PictureLine, bytes: &[u8]) -> Outcome<PictureId> {
    rows.prepare_cached(
        "INSERT INTO picture
            (visit_id, step, caption, media_type, width, height, made_ms, deleted_ms, on_sheet, bytes)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)",
    )?
    .execute(params![
        line.visit,
        line.step,
        line.caption,
        line.media_type,
        line.width,
        line.height,
        line.made_ms,
        line.deleted_ms,
        line.on_sheet,
        bytes
    ])?;
    Ok(PictureId(rows.last_insert_rowid()))
}

/// The ending of a picture's file in an export.
pub(crate) fn ending_of(media_type: &str) -> Option<&'static str> {
    KINDS.iter().find(|(known, _)| *known == media_type).map(|(_, ending)| *ending)
}

/// Refuses bytes that are not what they are called: a browser shows them as what they are called.
pub(crate) fn refuse_misfit(media_type: &str, bytes: &[u8]) -> Result<(), RecordError> {
    let refused = |why: String| Err(RecordError::Refused { what: "The picture".to_string(), why });
    if ending_of(media_type).is_none() {
        let called: String = media_type.chars().take(40).collect();
        return refused(format!(
            "it is called \"{called}\", and only image/jpeg, image/png and image/webp are taken"
        ));
    }
    if bytes.len() > LARGEST {
        return refused(format!("it has {} bytes, and at most {LARGEST} are taken; shrink it", bytes.len()));
    }
    if kind_of(bytes) != Some(media_type) {
        return refused(format!("its bytes are no {media_type}; take it again or save it anew as JPEG"));
    }
    Ok(())
}

/// The media type that the first bytes of a file tell.
fn kind_of(bytes: &[u8]) -> Option<&'static str> {
    if bytes.starts_with(&[0xFF, 0xD8, 0xFF]) {
        Some("image/jpeg")
    } else if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
        Some("image/png")
    } else if bytes.starts_with(b"RIFF") && bytes.get(8..12) == Some(b"WEBP".as_slice()) {
        Some("image/webp")
    } else {
        None
    }
}

fn line(row: &Row<'_>) -> rusqlite::Result<PictureLine> {
    Ok(PictureLine {
        id: row.get(0)?,
        visit: row.get(1)?,
        step: row.get(2)?,
        caption: row.get(3)?,
        media_type: row.get(4)?,
        width: row.get(5)?,
        height: row.get(6)?,
        made_ms: row.get(7)?,
        deleted_ms: row.get(8)?,
        on_sheet: row.get(9)?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture;

    #[test]
    fn round_trips_a_picture_and_what_is_said_of_it() {
        let record = Record::open_in_memory().unwrap();
        let (_, _, visit) = record.create_engine("Invented single", true).unwrap();
        let new = fixture::picture("flap open");
        let id = record.add_picture(visit, &new).unwrap();
        record.set_on_sheet(id, true).unwrap();
        record.set_caption(id, "flap shut").unwrap();
        let kept = record.picture(id).unwrap();
        assert_eq!(kept.bytes, new.bytes);
        assert_eq!((kept.line.caption.as_str(), kept.line.on_sheet), ("flap shut", true));
        assert_eq!((kept.line.width, kept.line.height, kept.line.step.as_str()), (640, 480, "found"));
        assert_eq!(record.pictures(visit).unwrap(), [kept.line]);
    }

    #[test]
    fn refuses_what_is_not_the_picture_it_is_called() {
        let record = Record::open_in_memory().unwrap();
        let (_, _, visit) = record.create_engine("Invented single", true).unwrap();
        let with = |media_type: &str, bytes: &[u8]| NewPicture {
            media_type: media_type.to_string(),
            bytes: bytes.to_vec(),
            ..fixture::picture("")
        };
        let jpeg = [0xFF, 0xD8, 0xFF, 0xE0];
        let mut huge = jpeg.to_vec();
        huge.resize(LARGEST + 1, 0);
        for (picture, word) in [
            (with("image/svg+xml", b"<svg/>"), "only image/jpeg, image/png and image/webp"),
            (with("image/jpeg", b"<html>"), "its bytes are no image/jpeg"),
            (with("image/png", &jpeg), "its bytes are no image/png"),
            (with("image/jpeg", &huge), "shrink it"),
        ] {
            let error = record.add_picture(visit, &picture).unwrap_err();
            assert!(error.to_string().contains(word), "{error}");
        }
        assert!(record.pictures(visit).unwrap().is_empty());
        assert!(record.add_picture(visit, &with("image/webp", b"RIFF\0\0\0\0WEBPVP8 ")).is_ok());
        assert!(record.add_picture(visit, &with("image/png", b"\x89PNG\r\n\x1a\n")).is_ok());
    }
}
