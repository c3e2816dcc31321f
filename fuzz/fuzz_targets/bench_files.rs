//! Any text is a file of checks, fault tables, care, logics or findings, or a list of sentences, never a panic; findings
//! that were read are judged and ranked.
#![no_main]

use diagnosis::care::Tasks;
use diagnosis::check::Checks;
use diagnosis::fault::{Tables, find};
use diagnosis::normal::{self, Recording};
use diagnosis::session::{self, read_file};
use libfuzzer_sys::fuzz_target;
use quantity::Units;

fuzz_target!(|text: &str| {
    let (checks, tables) = (Checks::built_in(), Tables::built_in());
    if let Err(problems) = Checks::read(text) {
        assert!(!problems.is_empty() && problems.iter().all(|problem| !problem.to_string().is_empty()));
    }
    if let Err(problems) = Tables::read(text) {
        assert!(!problems.is_empty());
    }
    let _ = Tasks::read(text);
    let _ = normal::read(text);
    match read_file(text, checks, tables) {
        Ok(entries) => {
            session::judged(checks, &entries, Units::Metric);
            let _ = Recording::read(&entries);
            let case = session::case(checks, &entries, Units::Metric);
            if let Ok(ranking) = find(tables, checks, &case) {
                assert!(ranking.causes.iter().all(|cause| (0.0..=1.0).contains(&cause.probability)));
            }
        }
        Err(problems) => assert!(!problems.is_empty()),
    }
});
