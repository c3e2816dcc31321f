//! Whole files in, sentences out.

use super::*;

#[test]
fn exact_demo_is_read_without_question_or_assumption() {
    let reading = read(DEMO.as_bytes()).unwrap_or_else(|problems| {
        panic!("{}", problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))
    });
    assert_eq!(reading.questions, []);
    assert_eq!(reading.engine.assumptions, []);
    assert!(reading.engine.invented);
    assert_eq!(reading.engine.ports.len(), 4);
}
