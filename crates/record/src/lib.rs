//! The lasting record: engines, their builds and job cards in one SQLite file, and the ways in and out of it.
//!
//! What a mechanic types is kept exactly as typed, field by field, with every earlier text; results keep the inputs
//! that made them; deleting only marks. A save that returned is on the disk: the file is written with a write-ahead
//! log and `synchronous = FULL`. One connection writes, behind a lock; readers have their own and never wait for it.
//!
//! All times are milliseconds since 1970-01-01 00:00 UTC and are taken from the clock here.

// The record is one of the two places where files and the clock are touched; the core crates stay pure.
#![allow(clippy::disallowed_methods)]

mod archive;
mod backup;
mod choice;
mod clock;
mod connection;
mod engine;
mod error;
mod field;
mod file;
mod id;
mod migration;
mod picture;
mod place;
mod record;
mod restore;
mod result;

pub use archive::Compose;
pub use engine::{BuildLine, Engine, EngineFilter, EngineLine, VisitLine, VisitPlace};
pub use error::RecordError;
pub use field::{Change, Field, PastText, Saved};
pub use id::{BuildId, EngineId, Owner, PictureId, ResultId, VisitId};
pub use picture::{NewPicture, Picture, PictureLine};
pub use place::{Deleted, DeletedItem};
pub use record::Record;
pub use restore::Restored;
pub use result::{KeptResult, NewResult, ResultLine};

#[cfg(test)]
mod fixture;
