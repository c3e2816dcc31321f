//! Whole files in, sentences out.

mod documents;
mod mutated;
mod questions;
mod refused;
mod returned;

use super::*;

/// The demo with one piece of its text changed; the piece must be there.
fn demo_with(from: &str, to: &str) -> String {
    assert!(DEMO.contains(from), "the demo has no '{from}'");
    DEMO.replacen(from, to, 1)
}

fn sentences(problems: Vec<Problem>) -> Vec<String> {
    problems.iter().map(ToString::to_string).collect()
}

/// The problems of a text, as sentences.
fn refused(text: &str) -> Vec<String> {
    match read(text.as_bytes()) {
        Ok(reading) => panic!("it was read: {:?}", reading.questions),
        Err(problems) => sentences(problems),
    }
}

/// The engine of a text that must be readable.
fn accepted(text: &str) -> Reading {
    read(text.as_bytes()).unwrap_or_else(|problems| panic!("{}", sentences(problems).join("\n")))
}

/// The only question about a text.
fn asked(text: &str) -> Question {
    let mut questions = accepted(text).questions;
    assert_eq!(questions.len(), 1, "{questions:?}");
    questions.remove(0)
}
