//! The built-in file, read with the reader of users' files.

use super::entries;
use crate::check::{Actuator, Check, Checks, Item, ItemKind, State, TextLimits};
use quantity::{Dimension, Units};
use std::collections::{BTreeMap, BTreeSet};

#[test]
fn exact_the_built_in_file_has_no_problem() {
    if let Err(problems) = Checks::read(crate::check::checks::BUILT_IN) {
        let list: Vec<String> = problems.iter().map(ToString::to_string).collect();
        panic!("{}", list.join("\n"));
    }
}

/// Every sentence of a check with the place where it stands.
fn sentences(check: &Check) -> Vec<(String, String)> {
    let mut found = vec![(format!("{}.purpose", check.key), check.purpose.clone())];
    let lists = [("disconnect", &check.disconnect), ("steps", &check.steps), ("cautions", &check.cautions)];
    for (name, list) in lists {
        found.extend(list.iter().map(|text| (format!("{}.{name}", check.key), text.clone())));
    }
    found.extend(check.look.iter().map(|text| (format!("{}.look", check.key), text.clone())));
    for item in &check.items {
        let place = format!("{}.{}", check.key, item.key);
        found.extend(item.from.iter().chain(&item.note).map(|text| (place.clone(), text.clone())));
        if let ItemKind::Choice { options } = &item.kind {
            found.extend(options.iter().map(|option| (place.clone(), option.text.clone())));
        }
    }
    for outcome in &check.outcomes {
        let place = format!("{}.{}", check.key, outcome.key);
        found.extend([(place.clone(), outcome.says.clone()), (place, outcome.means.clone())]);
    }
    found.extend(check.pairs.iter().map(|pair| (format!("{}.{}", check.key, pair.key), pair.asks.clone())));
    found
}

#[test]
fn exact_every_sentence_ends_in_a_full_stop() {
    for check in &Checks::built_in().checks {
        for (place, text) in sentences(check) {
            assert!(text.ends_with('.'), "{place}: {text}");
            assert!(text.starts_with(|c: char| c.is_uppercase() || c.is_ascii_digit()), "{place}: {text}");
            assert!(!text.contains(['—', '–']) && !text.contains(" - "), "{place}: {text}");
            assert!(text.chars().count() <= 260, "{place} is too long to read at the bench: {text}");
        }
        for item in &check.items {
            let question = matches!(item.kind, ItemKind::Choice { .. });
            assert_eq!(question, item.asks.ends_with('?'), "{}.{}: {}", check.key, item.key, item.asks);
        }
    }
}

#[test]
fn exact_every_figure_says_where_it_comes_from() {
    let known = ["common practice, no source", "estimate"];
    let checks = Checks::built_in();
    for piece in &checks.take_off {
        assert!(known.contains(&piece.source.as_str()) && piece.name.starts_with("the "), "{}", piece.key);
    }
    for check in &checks.checks {
        assert!(known.contains(&check.source.as_str()), "{}", check.key);
        for item in &check.items {
            let ItemKind::Reading(reading) = &item.kind else { continue };
            assert!(known.contains(&reading.source.as_str()), "{}.{}", check.key, item.key);
            assert!(item.from.is_some(), "{}.{} does not say where it is measured", check.key, item.key);
            if reading.limits.is_none() {
                assert!(
                    item.optional && item.note.is_some(),
                    "{}.{} must say how to judge",
                    check.key,
                    item.key
                );
            }
        }
        for pair in &check.pairs {
            assert!(known.contains(&pair.source.as_str()), "{}.{}", check.key, pair.key);
        }
    }
}

#[test]
fn exact_every_piece_to_take_off_is_known_and_none_is_idle_but_the_deep_ones() {
    let checks = Checks::built_in();
    let used: BTreeSet<&str> =
        checks.checks.iter().flat_map(|check| &check.take_off).map(String::as_str).collect();
    for piece in &checks.take_off {
        // Head and cylinder come off for repairs and for users' own checks.
        let deep = ["cylinder-head", "cylinder"].contains(&piece.key.as_str());
        assert!(deep || used.contains(piece.key.as_str()), "{}", piece.key);
    }
}

#[test]
fn practice_running_engines_and_driven_motors_come_with_their_cautions() {
    let cautions = |key: &str| Checks::built_in().get(key).expect("a check").cautions.join(" ");
    for key in ["wound-by-hand", "commanded-speeds", "governor-speed", "ignition-timing"] {
        assert!(cautions(key).contains("Carbon monoxide") && cautions(key).contains("outdoors"), "{key}");
    }
    let motor = cautions("motor-both-ways");
    for word in ["Motor pins only", "Connector off the controller", "Fuse", "at most 1 s", "rest", "heat"] {
        assert!(motor.contains(word), "{word}");
    }
    for check in Checks::built_in().checks.iter().filter(|check| check.take_off.contains(&"tank".to_owned()))
    {
        assert!(check.cautions.join(" ").contains("no sparks"), "{}", check.key);
    }
}

/// Entries under which everything that is needed is in order.
fn in_order(check: &Check) -> BTreeMap<String, String> {
    let best = |outcome: &str| check.outcome(outcome).is_some_and(|outcome| outcome.passes);
    let mut entries = BTreeMap::new();
    for item in check.items.iter().filter(|item| !item.optional) {
        let text = match &item.kind {
            ItemKind::Choice { options } => options
                .iter()
                .find(|option| best(&option.outcome))
                .expect("an option that passes")
                .key
                .clone(),
            ItemKind::Reading(reading) => shown(within(item), reading.dimension),
        };
        entries.insert(item.key.clone(), text);
    }
    entries
}

fn limits(item: &Item) -> TextLimits {
    let ItemKind::Reading(reading) = &item.kind else { panic!("{} is a choice", item.key) };
    TextLimits::read(reading.limits.as_deref().expect("limits"), reading.dimension)
        .expect("limits that can be read")
}

fn within(item: &Item) -> f64 {
    match limits(item) {
        TextLimits { lower: Some(lower), upper: Some(upper), .. } => 0.5 * (lower + upper),
        TextLimits { lower, upper, .. } => lower.map_or(0.5 * upper.unwrap_or(0.0), |lower| 1.1 * lower),
    }
}

fn shown(si: f64, dimension: Dimension) -> String {
    format!("{} exact", quantity::show_value(si, dimension, Units::Metric))
}

/// Answers of one item that lead to an outcome, when it has any.
fn answers(item: &Item, outcome: &str) -> Vec<String> {
    match &item.kind {
        ItemKind::Choice { options } => options
            .iter()
            .filter(|option| option.outcome == outcome)
            .map(|option| option.key.clone())
            .collect(),
        ItemKind::Reading(reading) => {
            let mut found = Vec::new();
            if reading.overload.as_deref() == Some(outcome) {
                found.push("OL".to_owned());
            }
            if reading.limits.is_some() {
                let limits = limits(item);
                let width = within(item).abs().max(1e-4);
                let sides = [(&reading.below, limits.lower, -0.3), (&reading.above, limits.upper, 0.3)];
                for (key, limit, step) in sides {
                    if let (Some(key), Some(limit)) = (key, limit)
                        && key == outcome
                    {
                        found.push(shown(limit + step * width, reading.dimension));
                    }
                }
            }
            found
        }
    }
}

#[test]
fn exact_every_outcome_is_reached_and_every_answer_leads_where_it_says() {
    for check in &Checks::built_in().checks {
        let healthy = check.judge(&in_order(check), Units::Metric);
        assert_eq!(healthy.state, State::Done, "{}: {}", check.key, healthy.text);
        assert_eq!(
            healthy.outcome.as_deref(),
            check.outcomes.first().map(|best| best.key.as_str()),
            "{}",
            check.key
        );
        for outcome in &check.outcomes {
            let mut reached = outcome.key == check.outcomes[0].key;
            for item in &check.items {
                for answer in answers(item, &outcome.key) {
                    let mut entries = in_order(check);
                    entries.insert(item.key.clone(), answer.clone());
                    let judged = check.judge(&entries, Units::Metric);
                    let place = format!("{}.{} = {answer}: {}", check.key, item.key, judged.text);
                    assert_eq!(judged.state, State::Done, "{place}");
                    assert_eq!(judged.outcome.as_deref(), Some(outcome.key.as_str()), "{place}");
                    assert_eq!(judged.means.as_deref(), Some(outcome.means.as_str()), "{place}");
                    reached = true;
                }
            }
            assert!(reached, "{}.{} cannot be reached", check.key, outcome.key);
        }
    }
}

#[test]
fn exact_nothing_entered_is_not_done_and_each_kind_has_checks() {
    for kind in Actuator::ALL {
        assert!(Checks::built_in().of(kind).count() > 10);
        for check in Checks::built_in().of(kind) {
            assert_eq!(check.judge(&entries(&[]), Units::Metric).state, State::NotDone, "{}", check.key);
        }
    }
}

#[test]
fn exact_what_is_off_already_costs_no_minutes() {
    let checks = Checks::built_in();
    let check = checks.get("cable-drag").expect("a check");
    let (own, all) = checks.minutes(check, &[]);
    let (_, less) = checks.minutes(check, &["tank".to_owned()]);
    let tank = checks.piece("tank").expect("a piece").minutes;
    assert_eq!(own, check.minutes);
    assert!((all - less - tank).abs() < 1e-12);
}
