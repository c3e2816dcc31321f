//! States and intervals in words.

use super::{Count, Counts, DueState, Lead, Now, SeasonCall};
use crate::care::counter::{show_hours, show_km};
use crate::care::history::Done;
use crate::care::plan::{Interval, Plan};
use crate::care::task::{SeasonTurn, Tasks};

/// Mean length of a month, days.
const MONTH_DAYS: f64 = 365.2425 / 12.0;
/// Below so many months days are counted.
const FEW_MONTHS: f64 = 1.9;

/// What the sentence is about.
pub(super) struct Facts<'a> {
    pub(super) state: DueState,
    pub(super) last: Option<&'a Done>,
    pub(super) lead: Option<Count>,
    pub(super) counts: Option<&'a Counts>,
    pub(super) season: Option<SeasonCall>,
    pub(super) now: &'a Now,
    pub(super) plan: &'a Plan,
}

/// The state in a sentence or two.
pub(super) fn state(facts: &Facts) -> String {
    let since = facts.last.map_or("not noted as done yet".to_owned(), |l| format!("last done on {}", l.day));
    let over = facts.lead.filter(|l| l.part() >= 1.0);
    let mut text = match (facts.state, over, facts.season) {
        (DueState::Due, Some(lead), _) => format!("Due: {} ({since}).", ran(&lead, facts.plan)),
        (DueState::Due, None, Some(call)) => format!("Due: {} ({since}).", asks(call)),
        (DueState::NeverDone, ..) => {
            "Never noted as done. If it was, note when; else do it at the next chance.".to_owned()
        }
        (DueState::Soon, ..) => match (facts.lead.filter(|l| l.part() >= super::SOON), facts.season) {
            (Some(lead), _) => {
                format!("Soon: {}, {} left ({since}).", ran(&lead, facts.plan), left(&lead, facts))
            }
            (None, Some(SeasonCall::Soon(_, day))) => {
                format!("Soon: {}, from {day} on ({since}).", turn(facts.season))
            }
            _ => format!("Soon ({since})."),
        },
        (DueState::CannotTell, ..) => format!("Cannot tell ({since})."),
        _ => match (facts.lead, facts.season) {
            (Some(lead), _) => {
                format!("Later: {}, {} left ({since}).", ran(&lead, facts.plan), left(&lead, facts))
            }
            (None, Some(SeasonCall::Later(_, day) | SeasonCall::Soon(_, day))) => {
                format!("Later: {}, from {day} on ({since}).", turn(facts.season))
            }
            _ => format!("Later ({since})."),
        },
    };
    if let Some(counts) = facts.counts {
        text.push_str(&not_noted(counts));
    }
    text
}

/// What has run of the interval.
fn ran(count: &Count, plan: &Plan) -> String {
    match count.lead {
        Lead::Hours => format!("{} of {}", show_hours(count.ran), show_hours(count.limit)),
        Lead::Distance => {
            format!("{} of {}", show_km(count.ran, plan.units), show_km(count.limit, plan.units))
        }
        _ if count.ran.max(count.limit) / MONTH_DAYS < FEW_MONTHS => {
            format!("{:.0} of {}", count.ran, in_days(count.limit))
        }
        _ => format!("{} of {}", in_months(count.ran), in_months(count.limit)),
    }
}

/// What is left of the interval.
fn left(count: &Count, facts: &Facts) -> String {
    let rest = (count.limit - count.ran).max(0.0);
    match count.lead {
        Lead::Hours => show_hours(rest),
        Lead::Distance => show_km(rest, facts.plan.units),
        _ => format!("until {}, {}", facts.now.day.plus_days(rest.round() as i64), months(rest)),
    }
}

/// Days as months, or as days when there are few.
fn months(days: f64) -> String {
    if days / MONTH_DAYS < FEW_MONTHS { in_days(days) } else { in_months(days) }
}

fn in_days(days: f64) -> String {
    if days.round() == 1.0 { "1 day".to_owned() } else { format!("{days:.0} days") }
}

/// To the nearest half month.
fn in_months(days: f64) -> String {
    let halves = (2.0 * days / MONTH_DAYS).round() / 2.0;
    if halves == 1.0 { "1 month".to_owned() } else { format!("{halves} months") }
}

fn asks(call: SeasonCall) -> &'static str {
    match call.lead() {
        Lead::BeforeLayUp => "the season ends, and it is done before the engine is laid up",
        _ => "the season begins, and it is done before the first ride",
    }
}

fn turn(call: Option<SeasonCall>) -> &'static str {
    match call.map(SeasonCall::lead) {
        Some(Lead::BeforeLayUp) => "before the lay-up",
        _ => "after the lay-up",
    }
}

/// Counters that could not be used, and what to do about it.
fn not_noted(counts: &Counts) -> String {
    let named = |leads: &[Lead]| {
        let names = leads.iter().map(|l| if *l == Lead::Hours { "engine hours" } else { "distance" });
        names.collect::<Vec<_>>().join(" and ")
    };
    let mut text = String::new();
    if !counts.unknown.is_empty() && counts.known.is_empty() {
        text.push_str(&format!(" Note {} at each visit: its interval counts them.", named(&counts.unknown)));
    }
    if !counts.backwards.is_empty() {
        let names = named(&counts.backwards);
        text.push_str(&format!(
            " The {names} noted now are less than last time: look at the figures, or count anew."
        ));
    }
    text
}

/// The interval as it applies: "every 15 h, 1500 km or 6 months, whichever comes first, and before the lay-up
/// (competition: x 0.5)".
pub(super) fn interval(interval: &Interval, factor: f64, tasks: &Tasks, plan: &Plan) -> String {
    let every = interval.every.scaled(factor);
    let mut parts = Vec::new();
    parts.extend(every.hours.map(show_hours));
    parts.extend(every.km.map(|km| show_km(km, plan.units)));
    parts.extend(every.months.map(|m| match m {
        1 if factor == 1.0 => "1 month".to_owned(),
        m if factor == 1.0 => format!("{m} months"),
        m => format!("about {}", months(f64::from(m) * MONTH_DAYS * factor)),
    }));
    let mut text = match parts.as_slice() {
        [] => String::new(),
        [one] => format!("every {one}"),
        [first @ .., last] => format!("every {} or {last}, whichever comes first", first.join(", ")),
    };
    // An engine that is never laid up has no turn of the season.
    for turn in interval.season.iter().filter(|_| !plan.season.is_all_year()) {
        text.push_str(if text.is_empty() { "" } else { ", and " });
        text.push_str(match turn {
            SeasonTurn::BeforeLayUp => "before the lay-up",
            SeasonTurn::AfterLayUp => "after the lay-up",
        });
    }
    if !interval.uses.is_empty() {
        let title =
            |key: &String| tasks.uses.iter().find(|u| &u.key == key).map_or(key.clone(), |u| u.title.clone());
        let names: Vec<String> = interval.uses.iter().map(title).collect();
        text.push_str(&format!(" ({}: x {})", names.join(", "), (1000.0 * interval.factor).round() / 1000.0));
    }
    if text.is_empty() { "no interval".to_owned() } else { text }
}
