//! One question of a check: large choices, or a figure with its units and its limit.

use super::super::form::anchor;
use super::super::icon;
use super::super::page::{capital, glued};
use super::Bench;
use diagnosis::check::{Check, Choice, Item, ItemJudgement, ItemKind, ItemVerdict, Reading};
use maud::{Markup, html};
use quantity::{Dimension, Units};
use workshop::form::unit_keys_of;

/// Key under which the answer to an item is kept.
pub(super) fn key(check: &Check, item: &str) -> String {
    format!("check.{}.{item}", check.key)
}

/// The row of one item.
pub(super) fn row(
    bench: &Bench,
    check: &Check,
    item: &Item,
    told: Option<&ItemJudgement>,
    units: Units,
) -> Markup {
    let key = key(check, &item.key);
    let is_choice = matches!(item.kind, ItemKind::Choice { .. });
    html! {
        div.field data-field=(key) {
            @match &item.kind {
                ItemKind::Choice { options } => (choices(bench, item, &key, options)),
                ItemKind::Reading(reading) => (figure(bench, item, &key, reading, units)),
            }
            div.note id={ (anchor(&key)) "-note" } aria-live="polite" {
                @if let Some(told) = told { (note(check, told, is_choice)) }
            }
        }
    }
}

fn version(bench: &Bench, key: &str) -> Markup {
    html! {
        input type="hidden" name={ "v:" (key) } value=[bench.card.fields.get(key).map(|field| field.version)];
    }
}

fn choices(bench: &Bench, item: &Item, key: &str, options: &[Choice]) -> Markup {
    let saved = bench.card.text(key);
    html! {
        fieldset.choices {
            legend { (item.asks) @if item.optional { span.muted.small { " if you can" } } }
            (hints(item))
            @for option in options.iter().map(|one| (one.key.as_str(), one.text.as_str())).chain([("", "Not looked at")]) {
                label.choice {
                    input type="radio" name={ "t:" (key) } value=(option.0) checked[option.0 == saved]
                        data-key=(key) data-saved=(saved) aria-describedby={ (anchor(key)) "-note" };
                    span { (option.1) }
                }
            }
            (version(bench, key))
        }
    }
}

fn hints(item: &Item) -> Markup {
    html! {
        @if let Some(from) = &item.from { p.small.muted { "Measured: " (from.trim_end_matches('.')) "." } }
        @if let Some(note) = &item.note { p.small.muted { (note) } }
    }
}

fn figure(bench: &Bench, item: &Item, key: &str, reading: &Reading, units: Units) -> Markup {
    let id = anchor(key);
    let saved = bench.card.text(key);
    html! {
        div.ask {
            label for=(id) { (item.asks) @if item.optional { span.muted.small { " if you can" } } }
            (hints(item))
        }
        div.give {
            input id=(id) type="text" name={ "t:" (key) } value=(saved) inputmode="numeric" data-key=(key) data-saved=(saved)
                aria-describedby={ (id) "-note" } spellcheck="false" autocapitalize="off" enterkeyhint="next";
            (version(bench, key))
            div.keys.only-script role="group" aria-label={ "Type into " (item.asks) } {
                @for unit in unit_keys_of(reading.dimension, units) {
                    button.key-button type="button" data-types=(id) data-insert=(unit.insert) data-whole[unit.replaces] { (unit.label) }
                }
                @if reading.overload.is_some() {
                    button.key-button type="button" data-types=(id) data-insert="OL" data-whole { "OL" }
                }
                @if reading.dimension == Dimension::Time {
                    button.key-button.timer type="button" data-timer=(id) { "Start the timer" }
                }
            }
            (limit(bench, key, reading))
        }
    }
}

/// The limit it is judged by: the user's own goes before the built-in one.
fn limit(bench: &Bench, key: &str, reading: &Reading) -> Markup {
    let parts = [
        ("limit", "Limit", reading.limits.as_deref().unwrap_or("at most 15 N")),
        ("limit-source", "Where it stands", "service manual, page 7-12"),
    ];
    let own = !bench.card.text(&format!("{key}.limit")).is_empty();
    html! {
        details.ways open[own] {
            summary {
                @match &reading.limits {
                    Some(limits) => { "Accepted: " (glued(limits)) " (" (reading.source) "). Another limit" },
                    None => { "No general limit: enter the one from your manual" },
                }
            }
            @for (part, words, example) in parts {
                @let key = format!("{key}.{part}");
                @let id = anchor(&key);
                @let saved = bench.card.text(&key);
                div.field.bare data-field=(key) {
                    label for=(id) { (words) }
                    input id=(id) type="text" name={ "t:" (key) } value=(saved) data-key=(key) data-saved=(saved)
                        placeholder=(example) spellcheck="false";
                    (version(bench, &key))
                    div.note {}
                }
            }
        }
    }
}

/// How the entry was understood and what it says; the question when it is odd.
pub(super) fn note(check: &Check, told: &ItemJudgement, is_choice: bool) -> Markup {
    let text = capital(&glued(&told.text));
    let (class, sign) = match told.verdict {
        ItemVerdict::NotGiven => return html! {},
        ItemVerdict::Unreadable => ("bad", icon::WARN),
        ItemVerdict::Pass => ("good", icon::PASS),
        ItemVerdict::Fail => ("bad", icon::FAIL),
        ItemVerdict::Asked | ItemVerdict::CannotTell | ItemVerdict::NoLimit => ("warn", icon::UNSURE),
    };
    html! {
        @if told.question.is_none() {
            p class={ "said " (class) } { (sign) span { @if is_choice && told.verdict == ItemVerdict::Pass { "In order." } @else { (text) } } }
        }
        @if let Some(question) = &told.question {
            p.said.warn { (icon::UNSURE) span { (glued(&question.text)) " " (glued(&question.likely)) } }
            p.small { (question.confirm) }
            // Confirmed by hand only: nothing is changed in silence.
            button.key-button type="button" data-confirms={ "check." (check.key) "." (question.confirm_key) } { "It was checked and is right" }
        }
    }
}
