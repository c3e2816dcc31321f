//! What was found on the bench, from a file or from a job card of the record.

use super::failure::Failure;
use super::input::Source;
use crate::job_card::{fields_of, fields_of_visit};
use crate::record_place;
use diagnosis::check::Checks;
use diagnosis::fault::Tables;
use diagnosis::session::{self, Entries, SWEEP, read_file};
use quantity::Units;
use record::{Record, VisitId};
use std::path::PathBuf;

/// A job with what was found.
#[derive(Debug)]
pub(crate) struct BenchJob {
    /// Where it stands.
    pub found: Found,
    /// Log of a sensor sweep.
    pub sweep: Option<Source>,
    /// File of the user's own checks.
    pub checks: Option<Source>,
    /// File of the user's own fault tables.
    pub tables: Option<Source>,
    /// Units shown.
    pub units: Units,
    /// Answer as JSON.
    pub json: bool,
}

/// Where findings stand.
#[derive(Debug)]
pub(crate) enum Found {
    /// In a file.
    File(Source),
    /// Nowhere: there is only a log.
    Nothing,
    /// On a job card of the record.
    Visit {
        /// Its number.
        visit: i64,
        /// The record named with --record.
        record: Option<PathBuf>,
    },
}

/// Everything that was read.
pub(crate) struct Bench {
    /// The checks that are known.
    pub checks: Checks,
    /// The fault tables that are known.
    pub tables: Tables,
    /// What was found.
    pub entries: Entries,
}

impl BenchJob {
    /// Reads it all.
    pub(crate) fn read(&self) -> Result<Bench, Failure> {
        let mut checks = Checks::built_in().clone();
        if let Some(source) = &self.checks {
            let problems = |problems| Failure::Bench { file: source.name(), problems };
            checks = checks.with(Checks::read(&source.text()?).map_err(problems)?);
        }
        let mut tables = Tables::built_in().clone();
        if let Some(source) = &self.tables {
            let problems = |problems| Failure::Bench { file: source.name(), problems };
            tables = tables.with(Tables::read(&source.text()?).map_err(problems)?);
        }
        let mut entries = match &self.found {
            Found::Nothing => Entries::new(),
            Found::File(source) => {
                let problems = |problems| Failure::Bench { file: source.name(), problems };
                read_file(&source.text()?, &checks, &tables).map_err(problems)?
            }
            Found::Visit { visit, record } => of_visit(VisitId(*visit), record.as_deref())?,
        };
        if let Some(source) = &self.sweep {
            entries.insert(format!("check.{SWEEP}.log"), source.text()?);
            if let Some(Err(problem)) = session::sweep(&entries) {
                return Err(Failure::Usage(format!("{}: {problem}", source.name())));
            }
        }
        Ok(Bench { checks, tables, entries })
    }
}

fn of_visit(visit: VisitId, record: Option<&std::path::Path>) -> Result<Entries, Failure> {
    let place = record_place::find(record).map_err(Failure::Other)?;
    if !place.exists() {
        return Err(Failure::Other(format!("There is no record at {} yet.", place.display())));
    }
    let record = Record::open(&place)?;
    let mut entries = fields_of(&record, record.visit(visit)?.engine.id.into())?;
    entries.extend(fields_of_visit(&record, visit)?);
    Ok(entries)
}
