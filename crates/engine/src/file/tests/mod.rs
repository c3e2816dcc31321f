//! Whole files in, sentences out.

mod documents;
mod gas;
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

/// The demo with the first line of a key replaced, whatever figure it holds.
fn demo_line(key: &str, line: &str) -> String {
    change(DEMO, key, line)
}

/// A text with the first line of a key replaced.
fn change(text: &str, key: &str, line: &str) -> String {
    let start = format!("{key} =");
    let old =
        text.lines().find(|line| line.starts_with(&start)).unwrap_or_else(|| panic!("there is no {key}"));
    text.replacen(&format!("\n{old}\n"), &format!("\n{line}\n"), 1)
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

/// Asserts that the only thing said about a text is this sentence, at the first line that holds `at`.
#[track_caller]
fn says(text: &str, at: &str, sentence: &str) {
    let line = text.lines().position(|line| line.contains(at)).unwrap() + 1;
    assert_eq!(refused(text), [format!("line {line}, {sentence}")]);
}
