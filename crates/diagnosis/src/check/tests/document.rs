//! The example of the document is read and works.

use super::{entries, example};
use crate::check::{Checks, SlipKind, State};
use quantity::Units;

fn own() -> Checks {
    Checks::read(example()).unwrap_or_else(|problems| panic!("{problems:#?}"))
}

#[test]
fn exact_the_example_is_read_and_added() {
    let known = Checks::built_in().checks.len();
    let all = Checks::built_in().clone().with(own());
    assert_eq!(all.checks.len(), known + 1);
    let check = all.get("adjuster-count").expect("the new check");
    assert_eq!(all.minutes(check, &[]), (4.0, 14.0));
}

#[test]
fn exact_a_known_key_takes_the_place_of_the_check() {
    let text = example().replace("adjuster-count", "cable-look");
    let own = Checks::read(&text).expect("the same file");
    let all = Checks::built_in().clone().with(own);
    assert_eq!(all.checks.len(), Checks::built_in().checks.len());
    assert_eq!(all.get("cable-look").map(|check| check.title.as_str()), Some("Adjuster counted"));
}

#[test]
fn practice_degrees_for_turns_are_asked_about() {
    let own = own();
    let check = own.get("adjuster-count").expect("the check");
    let judged = check.judge(&entries(&[("paint", "whole"), ("turns", "6°")]), Units::Metric);
    assert_eq!(judged.state, State::Asked);
    let question = judged.items[1].question.as_ref().expect("a question");
    assert_eq!(question.kind, SlipKind::Turns);
    assert_eq!(question.likely_entry.as_deref(), Some("2160 °"));
    let right =
        check.judge(&entries(&[("paint", "whole"), ("turns", "6.0 turns ± 0.1 turns")]), Units::Metric);
    assert_eq!(right.outcome.as_deref(), Some("untouched"));
}

#[test]
fn practice_inches_for_millimetres_are_asked_about() {
    let own = own();
    let check = own.get("adjuster-count").expect("the check");
    for (text, likely) in [("10.2 in", "10.2 mm"), ("0.4 mm", "10 mm")] {
        let judged = check.judge(&entries(&[("thread", text)]), Units::Metric);
        let question = judged.items[2].question.as_ref().unwrap_or_else(|| panic!("{text} is odd"));
        assert_eq!(question.kind, SlipKind::Inch, "{text}");
        assert_eq!(question.likely_entry.as_deref(), Some(likely), "{text}");
    }
}
