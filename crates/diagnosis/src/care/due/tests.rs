use super::*;
use crate::care::history::Visit;
use proptest::prelude::*;
use quantity::Units;
use std::collections::BTreeMap;

type Card = (&'static str, BTreeMap<String, String>);

fn card(day: &'static str, entries: &[(&str, &str)]) -> Card {
    (day, entries.iter().map(|(k, v)| ((*k).to_owned(), (*v).to_owned())).collect())
}

fn now(day: &str, hours: impl Into<Option<f64>>, km: impl Into<Option<f64>>) -> Now {
    Now { day: day.parse().unwrap(), hours: hours.into(), km: km.into() }
}

fn all(cards: &[Card], plan: &[(&str, &str)], now: Now) -> Vec<Due> {
    let tasks = Tasks::built_in();
    let plan = Plan::read(&card("", plan).1, tasks, "servo", Units::Metric);
    assert_eq!(plan.problems, []);
    let visits = cards.iter().map(|(day, entries)| Visit { day: day.parse().unwrap(), entries });
    let history = History::read(tasks, visits);
    assert_eq!(history.problems, []);
    due(tasks, &plan, &history, &now)
}

fn one(key: &str, cards: &[Card], plan: &[(&str, &str)], now: Now) -> Due {
    all(cards, plan, now).into_iter().find(|d| d.task == key).unwrap()
}

fn cleaned(day: &'static str, hours: &'static str, found: &'static str) -> Card {
    card(day, &[("care.clean-valve", found), ("care.hours", hours)])
}

/// Interval 30 h, 3000 km, 12 months; soon from four fifths; the counter furthest on its way leads.
#[test]
fn exact_hours_distance_and_months_whichever_comes_first() {
    let cards = [card(
        "2025-04-01",
        &[("care.clean-valve", "done"), ("care.hours", "40 h"), ("care.distance", "4000 km")],
    )];
    let state = |n: Now| {
        let found = one("clean-valve", &cards, &[("care.season", "all year")], n);
        (found.state, found.lead.unwrap(), found.part.unwrap())
    };
    assert_eq!(state(now("2025-05-01", 55.0, 5500.0)), (DueState::Later, Lead::Distance, 0.5));
    assert_eq!(state(now("2025-05-01", 63.9, None)).0, DueState::Later);
    assert_eq!(state(now("2025-05-01", 64.0, None)).0, DueState::Soon);
    assert_eq!(state(now("2025-05-01", 70.0, 4000.0)), (DueState::Due, Lead::Hours, 1.0));
    assert_eq!(state(now("2025-05-01", 41.0, 7000.0)), (DueState::Due, Lead::Distance, 1.0));
    assert_eq!(state(now("2026-03-31", None, None)).0, DueState::Soon);
    assert_eq!(state(now("2026-04-01", None, None)), (DueState::Due, Lead::Months, 1.0));
}

#[test]
fn exact_sentences() {
    let cards = [cleaned("2025-04-01", "40 h", "done")];
    let text = |n: Now| one("clean-valve", &cards, &[("care.season", "all year")], n).text;
    assert_eq!(text(now("2025-05-01", 72.5, None)), "Due: 32.5 h of 30 h (last done on 1 April 2025).");
    assert_eq!(
        text(now("2025-05-01", 66.0, None)),
        "Soon: 26 h of 30 h, 4 h left (last done on 1 April 2025)."
    );
    assert_eq!(
        text(now("2025-05-01", 55.0, None)),
        "Later: 15 h of 30 h, 15 h left (last done on 1 April 2025)."
    );
    let months = text(now("2025-10-01", 45.0, None));
    assert_eq!(
        months,
        "Later: 6 months of 12 months, until 1 April 2026, 6 months left (last done on 1 April 2025)."
    );
    let late = one(
        "watch-usual",
        &[card("2024-05-01", &[("care.watch-usual", "done")])],
        &[],
        now("2025-09-10", None, None),
    );
    assert_eq!(late.text, "Due: 16.5 months of 1 month (last done on 1 May 2024).");
    let back = text(now("2025-10-01", 3.0, None));
    assert!(
        back.ends_with(
            "The engine hours noted now are less than last time: look at the figures, or count anew."
        ),
        "{back}"
    );
}

#[test]
fn exact_never_done_and_order_of_urgency() {
    let cards =
        [card("2025-04-01", &[("care.grease", "done"), ("care.cable-run", "done"), ("care.hours", "10 h")])];
    let found = all(&cards, &[], now("2025-05-15", 40.0, None));
    let states: Vec<DueState> = found.iter().map(|d| d.state).collect();
    assert!(states.windows(2).all(|s| s[0] <= s[1]), "{states:?}");
    assert_eq!(found[0].state, DueState::Due);
    let clean = found.iter().find(|d| d.task == "clean-valve").unwrap();
    assert_eq!((clean.state, clean.last), (DueState::NeverDone, None));
    assert!(found.iter().all(|d| d.text.ends_with('.') && !d.figures.is_empty() && !d.source.is_empty()));
    assert!(found.iter().all(|d| d.task != "governor" && d.task != "diaphragm"));
}

#[test]
fn exact_use_shortens_and_own_figures_replace() {
    let cards = [cleaned("2025-04-01", "40 h", "done")];
    let hours = now("2025-05-01", 55.0, None);
    let raced = one("clean-valve", &cards, &[("care.use", "competition")], hours);
    assert_eq!(raced.state, DueState::Due);
    assert_eq!(
        raced.interval,
        "every 15 h, 1500 km or about 6 months, whichever comes first, and before the lay-up (competition: x 0.5)"
    );
    let own = [
        ("care.use", "competition"),
        ("care.clean-valve.hours", "20 h"),
        ("care.clean-valve.source", "manual, page 88"),
    ];
    let own = one("clean-valve", &cards, &own, hours);
    assert_eq!((own.state, own.figures.as_str()), (DueState::Later, "manual, page 88"));
    assert_eq!(own.interval, "every 20 h, and before the lay-up");
    let off = all(&cards, &[("care.clean-valve.off", "yes")], hours);
    assert!(off.iter().all(|d| d.task != "clean-valve"));
}

#[test]
fn exact_own_hours_without_a_meter_cannot_be_told() {
    let cards = [card("2025-04-01", &[("care.clean-valve", "done")])];
    let plan = [("care.clean-valve.hours", "20 h"), ("care.clean-valve.season", "none")];
    let found = one("clean-valve", &cards, &plan, now("2025-05-01", 30.0, None));
    assert_eq!(found.state, DueState::CannotTell);
    assert!(found.text.contains("Note engine hours at each visit"), "{}", found.text);
}

/// Season March to October: the window before the lay-up opens on 1 October.
#[test]
fn exact_before_lay_up() {
    let cards = [cleaned("2025-03-15", "40 h", "done")];
    let at = |day: &str, hours: f64| one("clean-valve", &cards, &[], now(day, hours, None));
    assert_eq!(at("2025-08-31", 52.0).state, DueState::Later);
    assert_eq!(at("2025-09-01", 52.0).state, DueState::Soon);
    let due = at("2025-10-05", 52.0);
    assert_eq!((due.state, due.lead), (DueState::Due, Some(Lead::BeforeLayUp)));
    assert_eq!(
        due.text,
        "Due: the season ends, and it is done before the engine is laid up (last done on 15 March 2025)."
    );
    let done = [cards[0].clone(), cleaned("2025-10-10", "52 h", "usual")];
    assert_eq!(one("clean-valve", &done, &[], now("2025-10-20", 52.0, None)).state, DueState::Later);
    let fresh = [cleaned("2025-09-20", "51 h", "done")];
    assert_eq!(one("clean-valve", &fresh, &[], now("2025-10-05", 52.0, None)).state, DueState::Later);
    let all_year = one("clean-valve", &cards, &[("care.season", "all year")], now("2025-10-05", 52.0, None));
    assert_eq!(all_year.state, DueState::Later);
}

#[test]
fn exact_after_lay_up_without_an_interval() {
    let at = |cards: &[Card], day: &str| one("free-after-lay-up", cards, &[], now(day, None, None));
    assert_eq!(at(&[], "2025-12-15").state, DueState::Later);
    assert_eq!(at(&[], "2026-01-10").state, DueState::Soon);
    let due = at(&[], "2026-02-10");
    assert_eq!(
        due.text,
        "Due: the season begins, and it is done before the first ride (not noted as done yet)."
    );
    assert_eq!(due.interval, "after the lay-up");
    assert_eq!(at(&[], "2026-06-01").state, DueState::Later, "the first ride is over");
    assert_eq!(
        at(&[], "2026-01-10").text,
        "Soon: after the lay-up, from 30 January 2026 on (not noted as done yet)."
    );
    let done = [card("2026-02-12", &[("care.free-after-lay-up", "free")])];
    assert_eq!(at(&done, "2026-04-01").state, DueState::Later);
    assert_eq!(at(&done, "2027-02-10").state, DueState::Due);
}

#[test]
fn exact_history_shortens_and_lengthens() {
    let stiff = [cleaned("2023-04-01", "10 h", "stiff"), cleaned("2024-04-01", "40 h", "stiff")];
    let found = one("clean-valve", &stiff, &[("care.season", "all year")], now("2024-05-01", 64.0, None));
    assert_eq!(found.learned.as_ref().unwrap().factor, 0.8);
    assert_eq!((found.state, found.part), (DueState::Due, Some(1.0)));
    assert_eq!(found.interval, "every 24 h, 2400 km or about 9.5 months, whichever comes first");
    let clean = [cleaned("2023-04-01", "10 h", "clean"), cleaned("2024-04-01", "40 h", "clean")];
    let found = one("clean-valve", &clean, &[("care.season", "all year")], now("2024-05-01", 70.0, None));
    assert_eq!(found.state, DueState::Soon);
    assert_eq!(found.part, Some(0.8));
    // The manual is not lengthened by a clean engine, but it is shortened by a stiff one.
    let own = [("care.clean-valve.hours", "30 h"), ("care.clean-valve.season", "none")];
    assert_eq!(one("clean-valve", &clean, &own, now("2024-05-01", 70.0, None)).state, DueState::Due);
    assert_eq!(one("clean-valve", &stiff, &own, now("2024-05-01", 64.0, None)).state, DueState::Due);
    // Cleaned far too early: clean says nothing.
    let early = [cleaned("2024-02-01", "36 h", "clean"), cleaned("2024-04-01", "40 h", "clean")];
    let found = one("clean-valve", &early, &[("care.season", "all year")], now("2024-05-01", 70.0, None));
    assert_eq!(found.learned, None);
}

#[test]
fn refuses_to_look_into_the_future() {
    let cards = [cleaned("2026-04-01", "40 h", "done")];
    let found = one("clean-valve", &cards, &[], now("2025-04-01", 40.0, None));
    assert_eq!(found.state, DueState::NeverDone);
}

#[test]
fn round_trips_through_json() {
    let cards = [cleaned("2025-04-01", "40 h", "done")];
    let found = one("clean-valve", &cards, &[], now("2025-05-01", 72.5, None));
    let json = serde_json::to_value(&found).unwrap();
    assert_eq!(json["state"], "due");
    assert_eq!(json["lead"], "hours");
    assert_eq!(json["last"], "2025-04-01");
    assert_eq!(json["until"], "2026-04-01");
}

proptest! {
    /// Whatever stands on the cards and whatever day it is, every task of the actuator gets one state and a sentence.
    #[test]
    fn refuses_without_a_panic(
        texts in prop::collection::vec((0usize..9, ".{0,12}|[0-9.]{1,4} (h|km|months)|clean|stiff|stuck"), 0..9),
        day in -719_162i64..=2_932_896,
        visited in -719_162i64..=2_932_896,
        hours in prop::option::of(-1e9f64..1e9),
    ) {
        const KEYS: [&str; 9] = [
            "care.clean-valve", "care.hours", "care.distance", "care.season", "care.clean-valve.hours",
            "care.clean-valve.months", "care.clean-valve.last", "care.use", "care.day",
        ];
        let entries: BTreeMap<String, String> =
            texts.into_iter().map(|(key, text)| (KEYS[key].to_owned(), text)).collect();
        let (day, visited) = (Day::from_epoch_days(day).unwrap(), Day::from_epoch_days(visited).unwrap());
        let tasks = Tasks::built_in();
        let plan = Plan::read(&entries, tasks, "servo", Units::Inch);
        let history = History::read(tasks, [Visit { day: visited, entries: &entries }]);
        let found = due(tasks, &plan, &history, &Now { day, hours, km: hours });
        prop_assert_eq!(found.len(), tasks.of("servo").count());
        for one in found {
            prop_assert!(one.text.ends_with('.') && !one.text.contains("NaN") && !one.text.contains("inf "), "{}", one.text);
            prop_assert!(one.part.is_none_or(f64::is_finite));
        }
    }
}
