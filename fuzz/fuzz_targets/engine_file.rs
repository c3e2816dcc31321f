//! Any bytes are an engine or a list of problems, never a panic; an engine that was read can be written and read again.
#![no_main]

use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    match engine::file::read(bytes) {
        Ok(reading) => {
            let text = engine::file::write(&reading.engine);
            let again = engine::file::read(text.as_bytes());
            assert!(again.is_ok(), "what was written is refused: {:?}\n{text}", again.err());
        }
        Err(problems) => {
            assert!(!problems.is_empty());
            assert!(problems.iter().all(|problem| !problem.message.is_empty()));
        }
    }
});
