//! Any text is a file of readings or a list of problems, never a panic; one that was read is fitted to the demo engine or
//! refused in a sentence, and comes back from the entries of a page.
#![no_main]

use engine::model::Engine;
use libfuzzer_sys::fuzz_target;
use std::sync::LazyLock;
use workshop::fitting::{entries_from, entries_of, fit, read};

static DEMO: LazyLock<Engine> =
    LazyLock::new(|| engine::file::read(engine::file::DEMO.as_bytes()).expect("the demo is read").engine);

fuzz_target!(|text: &str| {
    match read(text) {
        Ok(readings) => {
            match fit(&DEMO, &readings) {
                Ok(fitted) => {
                    let told = fitted.told(&readings, quantity::Units::Metric);
                    assert_eq!(told.rows.len(), readings.rows.len());
                    assert!(told.estimates.iter().all(|one| one.found.value.is_finite()));
                }
                Err(why) => assert!(!why.to_string().is_empty()),
            }
            let kept = entries_of(&entries_from(&readings));
            assert!(kept.readings.is_some() || !kept.problems.is_empty());
        }
        Err(problems) => {
            assert!(!problems.is_empty());
            assert!(problems.iter().all(|problem| !problem.message.is_empty()));
        }
    }
});
