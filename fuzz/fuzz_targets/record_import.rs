//! Any bytes are an archive of engines or a sentence, never a panic; what was taken in goes out and in again unchanged.
#![no_main]

use libfuzzer_sys::fuzz_target;
use record::{EngineFilter, EngineId, Record};
use std::collections::BTreeMap;
use std::io::Cursor;

fuzz_target!(|bytes: &[u8]| {
    let Ok(record) = Record::open_in_memory() else { return };
    match record.import(Cursor::new(bytes)) {
        Ok(engines) => {
            let first = exported(&record, &engines);
            let again = record.import(Cursor::new(&first));
            let again = again.unwrap_or_else(|error| panic!("what was written is refused: {error}"));
            assert!(exported(&record, &again) == first);
        }
        Err(error) => {
            assert!(!error.to_string().is_empty());
            let left = record.engines(&EngineFilter::default());
            assert!(left.is_ok_and(|lines| lines.is_empty()), "something of a refused archive was kept");
        }
    }
});

fn exported(record: &Record, engines: &[EngineId]) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    let no_engine_files = |_: &BTreeMap<String, String>| None;
    match record.export(engines, &no_engine_files, &mut bytes) {
        Ok(()) => bytes.into_inner(),
        Err(error) => panic!("cannot be exported: {error}"),
    }
}
