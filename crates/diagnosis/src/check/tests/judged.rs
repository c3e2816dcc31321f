//! Verdicts of whole checks: limits, uncertainty, pairs, what is missing.

use super::{check, entries, judge};
use crate::check::{ItemVerdict, State};
use quantity::Units;

#[test]
fn exact_the_same_figure_is_told_by_a_better_meter() {
    let coarse = judge("sensor-ends", &[("end-to-end", "3.52 kΩ ± (1.5 % + 5 digits)")]);
    assert!(coarse.cannot_tell, "{}", coarse.text);
    assert_eq!((coarse.state, coarse.outcome), (State::Done, None));
    assert!(coarse.text.contains("would tell"), "{}", coarse.text);
    let fine = judge("sensor-ends", &[("end-to-end", "3.520 kΩ ± 0.1 %")]);
    assert_eq!(fine.outcome.as_deref(), Some("within"));
}

#[test]
fn exact_the_users_limit_goes_before_the_built_in_one() {
    let given = [
        ("end-to-end", "4.24 kΩ"),
        ("end-to-end.limit", "4.6 to 5.4 kΩ"),
        ("end-to-end.limit-source", "manual, page 7-12"),
    ];
    let judged = judge("sensor-ends", &given);
    assert_eq!(judged.outcome.as_deref(), Some("out"));
    assert_eq!(judged.items[0].limit_source.as_deref(), Some("manual, page 7-12"));
    assert!(judged.items[0].text.contains("manual, page 7-12"));
}

#[test]
fn exact_without_a_limit_the_choice_decides_and_says_so() {
    let judged = judge("free-turn", &[("feel", "free"), ("pull-opening", "6.2 N")]);
    assert_eq!(judged.outcome.as_deref(), Some("free"));
    assert_eq!(judged.items[1].verdict, ItemVerdict::NoLimit);
    assert!(judged.text.contains("Judged without 'Largest pull towards open'"), "{}", judged.text);
    let limited = judge(
        "free-turn",
        &[("feel", "free"), ("pull-opening", "6.2 N"), ("pull-opening.limit", "at most 4 N")],
    );
    assert_eq!(limited.outcome.as_deref(), Some("stiff"));
}

#[test]
fn exact_a_limit_on_the_side_that_has_no_outcome_is_refused() {
    let given = [("feel", "free"), ("pull-opening", "6.2 N"), ("pull-opening.limit", "at least 4 N")];
    let judged = judge("free-turn", &given);
    assert_eq!(judged.items[1].verdict, ItemVerdict::Unreadable);
    assert!(judged.text.contains("at most"), "{}", judged.text);
}

#[test]
fn exact_currents_that_differ_both_ways_point_at_the_motor() {
    let pair = |opening, closing| {
        judge(
            "motor-both-ways",
            &[("turns", "both-ways"), ("current-opening", opening), ("current-closing", closing)],
        )
    };
    let alike = pair("0.82 A", "0.78 A");
    assert_eq!(alike.outcome.as_deref(), Some("both-ways"));
    assert_eq!(alike.pairs[0].verdict, ItemVerdict::Pass);
    assert_eq!(alike.pairs[0].shown.as_deref(), Some("5 %"));
    let apart = pair("0.82 A", "1.64 A");
    assert_eq!(apart.outcome.as_deref(), Some("slow"));
    assert!(apart.pairs[0].probability.is_some_and(|within| within < 0.01));
    let between = pair("0.70 A", "1.00 A");
    assert_eq!(between.pairs[0].verdict, ItemVerdict::CannotTell);
    assert_eq!(between.outcome.as_deref(), Some("both-ways"), "what turns briskly passes by the answer");
    assert!(between.text.contains("Cannot tell"), "{}", between.text);
    let given = entries(&[
        ("turns", "both-ways"),
        ("current-opening", "0.82 A"),
        ("current-closing", "1.64 A"),
        ("currents-alike.limit", "at most 60 %"),
    ]);
    let own = check("motor-both-ways").judge(&given, Units::Metric);
    assert_eq!(own.outcome.as_deref(), Some("both-ways"));
}

#[test]
fn exact_a_certain_failure_stays_one_beside_what_cannot_be_told() {
    let judged = judge("earth-drop", &[("moves", "weak"), ("drop", "0.200 V")]);
    assert_eq!(judged.items[1].verdict, ItemVerdict::CannotTell);
    assert_eq!(judged.outcome.as_deref(), Some("high"));
}

#[test]
fn exact_the_worst_outcome_needs_no_more_answers() {
    assert_eq!(judge("earth-drop", &[("moves", "nothing")]).outcome.as_deref(), Some("open"));
    let begun = judge("earth-drop", &[("moves", "moves")]);
    assert_eq!((begun.state, begun.outcome), (State::Started, None));
    assert!(begun.text.contains("Voltage lost while the servo moves"), "{}", begun.text);
}

#[test]
fn refuses_what_cannot_be_read_and_says_how_to_write_it() {
    let bare = judge("sensor-ends", &[("end-to-end", "4.24")]);
    assert_eq!((bare.state, bare.items[0].verdict), (State::Started, ItemVerdict::Unreadable));
    assert!(bare.text.contains("has no unit") && bare.text.ends_with('.'), "{}", bare.text);
    let word = judge("free-turn", &[("feel", "fine")]);
    assert!(word.text.contains("choose one of free, stiff, stuck"), "{}", word.text);
    let limit = judge("sensor-ends", &[("end-to-end", "4.24 kΩ"), ("end-to-end.limit", "5 kΩ")]);
    assert!(limit.text.contains("at most"), "{}", limit.text);
}

#[test]
fn exact_units_of_the_reader_are_used() {
    let given = entries(&[("edge", "flush"), ("step", "0.05 mm")]);
    let judged = check("edge-open").judge(&given, Units::Inch);
    assert_eq!(judged.items[1].limit_shown.as_deref(), Some("\u{2212}0.0079 in to 0.0079 in"));
    assert!(judged.items[1].shown.as_deref().is_some_and(|shown| shown.ends_with(" in")));
}

#[test]
fn exact_a_judgement_goes_out_as_json() {
    let json = serde_json::to_value(judge("sensor-ends", &[("end-to-end", "4.24 Ω")])).expect("json");
    assert_eq!(json["state"], "asked");
    assert_eq!(json["items"][0]["question"]["kind"], "thousand");
    let json = serde_json::to_value(check("sensor-ends")).expect("json");
    assert_eq!(json["items"][0]["kind"]["kind"], "reading");
    assert_eq!(json["items"][0]["kind"]["dimension"], "resistance");
}
