//! Engines for the tests: the demo, and the demo with lines changed.

#![allow(dead_code, unreachable_pub)]

use engine::file::{DEMO, Reading, read};
use engine::model::Engine;
use quantity::Units;
use workshop::Answer;

/// The answer to the demo file.
pub fn demo() -> Answer {
    changed(&[])
}

/// The answer to the demo file with every `(old, new)` replaced; each `old` must stand in it.
pub fn changed(edits: &[(&str, &str)]) -> Answer {
    let mut text = DEMO.to_owned();
    for (old, new) in edits {
        assert!(text.contains(old), "the demo file has no {old:?}");
        text = text.replace(old, new);
    }
    let reading = read(text.as_bytes()).unwrap_or_else(|problems| {
        let told: Vec<String> = problems.iter().map(ToString::to_string).collect();
        panic!("{}", told.join("\n"))
    });
    workshop::answer(&reading, Units::Metric)
}

/// The answer about an engine made by hand.
pub fn answer_to(engine: Engine) -> Answer {
    workshop::answer(&Reading { engine, questions: Vec::new() }, Units::Metric)
}
