//! One side of a comparison: a job card with its build, or a build alone.

use super::super::refusal::Refusal;
use crate::job_card::{Fields, fields_of, fields_of_visit};
use record::{BuildId, Engine, EngineId, Record, RecordError, VisitId};

/// One side.
pub(super) struct Side {
    /// As in the address: `visit-3`, `build-2`.
    pub(super) key: String,
    /// The engine it belongs to.
    pub(super) engine: EngineId,
    /// Its name and that of what it stands in.
    pub(super) name: String,
    /// Address of its page.
    pub(super) address: String,
    /// When it was made.
    pub(super) created_ms: i64,
    /// Every text.
    pub(super) fields: Fields,
}

impl Side {
    /// Takes it from the record.
    pub(super) fn open(record: &Record, key: &str) -> Result<Self, Refusal> {
        let (kind, number) = key.split_once('-').ok_or_else(Refusal::bad_address)?;
        let number: i64 = number.parse().map_err(|_| Refusal::bad_address())?;
        match kind {
            "visit" => Ok(Self::of_visit(record, VisitId(number))?),
            "build" => Ok(Self::of_build(record, BuildId(number))?),
            _ => Err(Refusal::bad_address()),
        }
    }

    fn of_visit(record: &Record, id: VisitId) -> Result<Self, RecordError> {
        let place = record.visit(id)?;
        Ok(Self {
            key: format!("visit-{id}"),
            engine: place.engine.id,
            name: format!("{}, {}", place.build.name, place.visit.name),
            address: format!("/visit/{id}"),
            created_ms: place.visit.created_ms,
            fields: fields_of_visit(record, id)?,
        })
    }

    fn of_build(record: &Record, id: BuildId) -> Result<Self, RecordError> {
        let build = record.build(id)?;
        Ok(Self {
            key: format!("build-{id}"),
            engine: build.engine,
            name: format!("{}, description only", build.name),
            address: format!("/engine/{}#builds", build.engine),
            created_ms: build.created_ms,
            fields: fields_of(record, id.into())?,
        })
    }

    /// The one that was made earlier first.
    pub(super) fn in_order(a: Self, b: Self) -> (Self, Self) {
        if a.created_ms <= b.created_ms { (a, b) } else { (b, a) }
    }
}

/// The last two job cards of an engine, the earlier one first.
pub(super) fn last_two(
    record: &Record,
    engine: &Engine,
) -> Result<(Option<Side>, Option<Side>), RecordError> {
    let mut visits: Vec<_> = engine.builds.iter().flat_map(|build| &build.visits).collect();
    visits.sort_by_key(|visit| (visit.created_ms, visit.id));
    let mut last = visits.iter().rev().map(|visit| Side::of_visit(record, visit.id));
    let (b, a) = (last.next().transpose()?, last.next().transpose()?);
    Ok((a, b))
}
