//! Any text is a file of procedures or a list of problems, never a panic; one that was read can be prepared on the demo
//! engine and drawn.
#![no_main]

use engine::model::Engine;
use libfuzzer_sys::fuzz_target;
use std::sync::LazyLock;
use workshop::procedure::{Comparison, Procedures, Scope};

static DEMO: LazyLock<Engine> =
    LazyLock::new(|| engine::file::read(engine::file::DEMO.as_bytes()).expect("the demo is read").engine);

fuzz_target!(|text: &str| {
    match Procedures::with(text) {
        Ok(mut procedures) => {
            // The built-in ones are drawn elsewhere: here only what the text brought.
            let built_in = Procedures::built_in();
            procedures.procedures.retain(|one| built_in.find(&one.key) != Some(one));
            for scope in [Scope::ThisEngine, Scope::LikeEngines] {
                let comparison = Comparison::of(&DEMO, &procedures, scope, 0..20, 1);
                let leaf = comparison.leaf(&DEMO, quantity::Units::Metric, 1);
                assert_eq!(leaf.ways.len() + leaf.left_out.len(), procedures.procedures.len());
            }
        }
        Err(problems) => {
            assert!(!problems.is_empty());
            assert!(problems.iter().all(|problem| !problem.message.is_empty()));
        }
    }
});
