//! What is done with the record: its file is found, opened, and engines in it are chosen.

use super::failure::Failure;
use super::{backup, export, import, list, restore};
use crate::record_place;
use record::{EngineFilter, EngineId, EngineLine, Record};
use std::path::PathBuf;
use std::process::ExitCode;

/// A job with the record.
#[derive(Debug)]
pub(crate) struct RecordJob {
    /// The record named with --record.
    pub record: Option<PathBuf>,
    /// Answer as JSON.
    pub json: bool,
    /// What is done.
    pub deed: Deed,
}

/// What is done with the record.
#[derive(Debug)]
pub(crate) enum Deed {
    /// Show what is in it.
    List {
        /// Engines as they were typed; none for all.
        engines: Vec<String>,
    },
    /// Write engines as open files.
    Export {
        /// Engines as they were typed; none for all.
        engines: Vec<String>,
        /// The archive to write.
        output: PathBuf,
    },
    /// Add the engines of an archive.
    Import {
        /// The archive.
        file: PathBuf,
    },
    /// Copy the whole record.
    Backup {
        /// The copy to write.
        file: PathBuf,
    },
    /// Put a backup in the place of the record.
    Restore {
        /// The backup.
        file: PathBuf,
    },
}

impl RecordJob {
    /// Does it.
    pub(crate) fn run(&self) -> Result<ExitCode, Failure> {
        match &self.deed {
            Deed::List { engines } => list::run(self, engines),
            Deed::Export { engines, output } => export::run(self, engines, output),
            Deed::Import { file } => import::run(self, file),
            Deed::Backup { file } => backup::run(self, file),
            Deed::Restore { file } => restore::run(self, file),
        }?;
        Ok(ExitCode::SUCCESS)
    }

    /// The record's file.
    pub(crate) fn place(&self) -> Result<PathBuf, Failure> {
        record_place::find(self.record.as_deref()).map_err(Failure::Other)
    }

    /// Opens the record, or begins one.
    pub(crate) fn open_or_begin(&self) -> Result<Record, Failure> {
        Ok(Record::open(&self.place()?)?)
    }

    /// Opens a record that is there: nobody asks for a list of nothing.
    pub(crate) fn open(&self) -> Result<Record, Failure> {
        let place = self.place()?;
        if !place.exists() {
            return Err(Failure::Other(format!(
                "There is no record at {} yet. Start the app to begin one (portwright), or name another with --record \
                 FILE.",
                place.display()
            )));
        }
        Ok(Record::open(&place)?)
    }
}

/// The engines that these words mean (number or whole name); all of them when there are no words.
pub(crate) fn chosen(record: &Record, words: &[String]) -> Result<Vec<EngineLine>, Failure> {
    let mut all = record.engines(&EngineFilter::default())?;
    all.sort_by_key(|line| line.id);
    if words.is_empty() {
        return Ok(all);
    }
    let mut chosen: Vec<EngineLine> = Vec::new();
    for word in words {
        let engine = one(&all, word)?;
        if !chosen.iter().any(|line| line.id == engine.id) {
            chosen.push(engine.clone());
        }
    }
    Ok(chosen)
}

fn one<'a>(all: &'a [EngineLine], word: &str) -> Result<&'a EngineLine, Failure> {
    let wanted = word.trim().to_lowercase();
    let named: Vec<&EngineLine> =
        all.iter().filter(|line| line.name.trim().to_lowercase() == wanted).collect();
    let number = wanted.parse().ok().map(EngineId);
    let numbered = all.iter().find(|line| Some(line.id) == number);
    match (named.as_slice(), numbered) {
        ([one], _) => Ok(one),
        ([], Some(line)) => Ok(line),
        ([], None) => Err(Failure::Usage(format!(
            "No engine has the number or name \"{word}\". portwright list shows all with their numbers."
        ))),
        (several, _) => {
            let numbers: Vec<String> = several.iter().map(|line| line.id.to_string()).collect();
            Err(Failure::Usage(format!(
                "{} engines are called \"{word}\"; name the one you mean by its number: {}.",
                several.len(),
                numbers.join(", ")
            )))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_engines_are_found_by_number_and_name_once() {
        let record = Record::open_in_memory().unwrap();
        let (first, ..) = record.create_engine("Invented single", true).unwrap();
        let (second, ..) = record.create_engine("Invented twin", true).unwrap();
        let ids = |words: &[&str]| {
            let words: Vec<String> = words.iter().map(ToString::to_string).collect();
            chosen(&record, &words).map(|lines| lines.into_iter().map(|line| line.id).collect::<Vec<_>>())
        };
        assert_eq!(ids(&[]).unwrap(), [first, second]);
        assert_eq!(ids(&["invented TWIN", &second.to_string()]).unwrap(), [second]);
        assert!(matches!(ids(&["Invented"]), Err(Failure::Usage(_))));
        record.create_engine("Invented twin", true).unwrap();
        let Err(Failure::Usage(told)) = ids(&["Invented twin"]) else { panic!("two have this name") };
        assert!(told.contains("2, 3"), "{told}");
    }
}
