//! Files with mistakes: each is answered with its line, its key and the mend.

use super::example;
use crate::check::{Checks, Problem};

fn problems(text: &str) -> Vec<Problem> {
    Checks::read(text).err().unwrap_or_default()
}

/// The one problem of the example after a change.
fn after(from: &str, to: &str) -> Problem {
    assert!(example().contains(from), "{from}");
    let found = problems(&example().replacen(from, to, 1));
    assert_eq!(found.len(), 1, "{from} -> {to}: {found:#?}");
    found[0].clone()
}

#[test]
fn refuses_mistakes_with_line_key_and_mend() {
    let cases = [
        ("purpose =", "purpos =", "did you mean purpose?"),
        ("minutes = 4", "minutes = 0", "more than 0 and at most 600"),
        ("minutes = 4", "minutes = \"4\"", "a number without quotes"),
        ("[\"servo\"]", "[\"server\"]", "did you mean servo?"),
        ("\"seat\", \"tank\"", "\"seat\", \"tanks\"", "did you mean tank?"),
        ("dimension = \"angle\"", "dimension = \"angel\"", "did you mean angle?"),
        ("5.5 turns to 6.5 turns", "6.5 turns to 5.5 turns", "larger figure first"),
        ("5.5 turns to 6.5 turns", "6 turns", "at most"),
        ("by = \"eye\"", "by = \"burette\"", "protractor"),
        ("within = \"untouched\"", "within = \"untuched\"", "did you mean untouched?"),
        ("optional = true", "optional = \"yes\"", "true or false"),
        ("source = \"own practice\"", "source = \"\"", "the text is empty"),
        ("steps = [\n", "stepz = [\n", "steps"),
        ("portwright = 1", "portwright = 9", "portwright = 1"),
    ];
    for (from, to, mend) in cases {
        let found = problems(&example().replacen(from, to, 1));
        assert!(!found.is_empty(), "{to} was accepted");
        assert!(found.iter().any(|problem| problem.message.contains(mend)), "{to}: {found:#?}");
        assert!(found.iter().all(|problem| problem.line.is_some()), "{to}: {found:#?}");
    }
}

#[test]
fn refuses_with_the_place_in_the_file() {
    let line = |needle: &str| example().lines().position(|line| line.contains(needle)).map(|at| at + 1);
    let problem = after("minutes = 4", "minutes = -4");
    assert_eq!(problem.line, line("minutes = 4"));
    assert_eq!(problem.key, "check \"adjuster-count\".minutes");
    let problem = after("below = \"turned\"", "below = \"gone\"");
    assert_eq!(problem.key, "check \"adjuster-count\".item \"turns\".below");
    assert!(problem.to_string().starts_with("line "), "{problem}");
}

#[test]
fn refuses_broken_toml_in_plain_words() {
    let problem = after("title = \"Adjuster counted\"", "title = Adjuster counted");
    assert_eq!(problem.message, "the value must stand in quotes; write title = \"Adjuster counted\"");
    let problem = after("title = \"Adjuster counted\"", "title = \"Adjuster counted");
    assert!(problem.message.contains("not closed"), "{problem}");
}

#[test]
fn refuses_files_that_are_none() {
    assert!(problems("").iter().any(|problem| problem.message.contains("holds no check")));
    assert!(problems("[check]\nkey = \"a\"").iter().any(|problem| problem.message.contains("[[check]]")));
    assert!(problems("check = 3").iter().any(|problem| problem.message.contains("[[check]]")));
    assert!(problems(&"x".repeat(1_000_001)).iter().any(|problem| problem.message.contains("1 MB")));
    let nested = format!("a = {}1{}", "[".repeat(500), "]".repeat(500));
    assert!(!problems(&nested).is_empty());
}

#[test]
fn refuses_checks_that_could_not_be_judged() {
    let twice = example().replacen("key = \"turned\"", "key = \"untouched\"", 1);
    assert!(problems(&twice).iter().any(|problem| problem.message.contains("used twice")));
    let upside = example().replace("passes = true", "passes = maybe");
    assert!(!problems(&upside).is_empty());
    let worst_first = example().replacen("passes = true", "passes = false", 1).replacen(
        "passes = false\nmeans = \"Set",
        "passes = true\nmeans = \"Set",
        1,
    );
    assert!(problems(&worst_first).iter().any(|problem| problem.message.contains("from best to worst")));
    let pair = format!(
        "{}\n[[check.pair]]\nkey = \"p\"\nasks = \"P.\"\nitems = [\"turns\", \"thread\"]\nlimits = \"at most 30 %\"\nwithin = \"untouched\"\napart = \"turned\"\nsource = \"estimate\"\n",
        example()
    );
    assert!(problems(&pair).iter().any(|problem| problem.message.contains("same dimension")));
}
