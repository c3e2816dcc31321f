//! The readings, a row each, and what is sought from them.

use super::super::icon;
use super::super::page::capital;
use super::super::subject::Card;
use engine::model::Engine;
use maud::{Markup, html};
use workshop::fitting::{Entries, MOST_ROWS, SeenKind, Unknown, row_count};

/// Rows that a page begins with, and that follow the last one that was begun.
const FIRST_ROWS: usize = 8;
const SPARE_ROWS: usize = 3;

/// The whole form.
pub(super) fn form(engine: &Engine, card: &Card, entries: &Entries) -> Markup {
    let base = card.base();
    let begun = row_count(&card.texts());
    let rows = (begun + SPARE_ROWS).clamp(FIRST_ROWS, MOST_ROWS);
    html! {
        @if begun == 0 && engine.invented {
            form.panel method="post" action={ (base) "/fit/demo" } {
                p { "This is an invented engine: invented readings of it can be put in, to see what comes of them." }
                p.actions { button.button type="submit" { "Put in invented readings" } }
            }
        }
        form.fields #fields method="post" action={ (base) "/entries" } data-save={ (base) "/field" } data-step="plain"
            autocomplete="off" {
            button type="submit" hidden { "Save" }
            input type="hidden" name="back" value="/fit#result";
            (sought(engine, card))
            (how(card))
            section.panel.group aria-labelledby="rows-title" {
                h2 #rows-title { "Readings" }
                p.muted {
                    "Move the servo up through its travel, then back, and stop at each place from the side you write down. The gap is \
                     written only in rows for which the opening adjuster was turned: two or three such rows tell a pulley's radius from \
                     slack. Write how well each was read, like 36.4 ± 0.3°."
                }
                @for problem in general(entries, begun) { p.caution { (icon::WARN) (capital(problem)) } }
                ol.readings { @for row in 1..=rows { (reading(card, entries, row)) } }
                p.muted.small { "Empty rows are left out; free rows follow the last one." }
            }
            div.actions.stay {
                button.button.strong type="submit" { "Work it out" }
                p.saved.only-script #saved role="status" { "Each entry is saved as it is left." }
            }
        }
    }
}

/// Problems that belong to no row; none while nothing was begun.
fn general(entries: &Entries, begun: usize) -> Vec<&str> {
    let general = |key: &str| !key.starts_with("fit.") || key == "fit.weigh" || key == "fit.unknown";
    let problems = entries.problems.iter().filter(|(key, _)| general(key));
    if begun == 0 { Vec::new() } else { problems.map(|(_, text)| text.as_str()).collect() }
}

fn version(card: &Card, key: &str) -> Markup {
    html! { input type="hidden" name={ "v:" (key) } value=[card.fields.get(key).map(|field| field.version)]; }
}

fn sought(engine: &Engine, card: &Card) -> Markup {
    html! {
        section.panel.group aria-labelledby="sought-title" {
            h2 #sought-title { "What is sought" }
            p.muted { "Tick few: every reading can tell only so much, and the page says by name what it cannot tell apart." }
            div.boxes {
                @for unknown in Unknown::all().into_iter().filter(|unknown| unknown.applies(engine)) {
                    @let key = format!("fit.unknown.{}", unknown.key());
                    (tick(card, &key, &unknown.name()))
                }
            }
            details.more {
                summary { "What the engine file says" }
                (tick(card, "fit.weigh", "counts as a reading too, as far as it is known there"))
            }
        }
    }
}

fn tick(card: &Card, key: &str, words: &str) -> Markup {
    let saved = card.text(key);
    html! {
        div.sought data-field=(key) {
            label.check {
                input type="checkbox" name={ "t:" (key) } value="yes" checked[saved == "yes"] data-key=(key) data-saved=(saved);
                (words)
            }
            (version(card, key))
        }
    }
}

/// With what the servo and the valve were read.
fn how(card: &Card) -> Markup {
    let by =
        [("servo", "its travel, in degrees from closed park"), ("sensor", "its position sensor, in ohms")];
    let kinds = SeenKind::ALL.map(|kind| (kind.key(), kind.name()));
    html! {
        section.panel.group aria-labelledby="how-title" {
            h2 #how-title { "How it was read" }
            div.pair {
                (choice(card, "fit.servo_by", "The servo, by", &by))
                (choice(card, "fit.kind", "At the valve", &kinds))
            }
        }
    }
}

fn choice(card: &Card, key: &str, words: &str, options: &[(&str, &str)]) -> Markup {
    let saved = card.text(key);
    let id = super::super::form::anchor(key);
    html! {
        div.field {
            label for=(id) { (words) }
            select id=(id) name={ "t:" (key) } data-key=(key) data-saved=(saved) {
                @for (at, (value, name)) in options.iter().enumerate() {
                    option value=(if at == 0 { "" } else { value }) selected[saved == *value || (saved.is_empty() && at == 0)] { (name) }
                }
            }
            (version(card, key))
        }
    }
}

fn reading(card: &Card, entries: &Entries, row: usize) -> Markup {
    let of = |name: &str| format!("fit.{row}.{name}");
    let problems: Vec<&str> = ["servo", "way", "gap", "seen"]
        .iter()
        .filter_map(|name| entries.problems.get(&of(name)))
        .map(String::as_str)
        .collect();
    html! {
        li {
            (cell(card, &of("servo"), "Servo"))
            (way(card, &of("way")))
            (cell(card, &of("seen"), "Seen at the valve"))
            (cell(card, &of("gap"), "Gap, if changed"))
            @for problem in problems { p.wrong { (icon::WARN) (capital(problem)) } }
        }
    }
}

fn cell(card: &Card, key: &str, label: &str) -> Markup {
    let (saved, id) = (card.text(key), super::super::form::anchor(key));
    html! {
        div.cell {
            label for=(id) { (label) }
            input type="text" id=(id) name={ "t:" (key) } value=(saved) data-key=(key) data-saved=(saved) spellcheck="false";
            (version(card, key))
        }
    }
}

fn way(card: &Card, key: &str) -> Markup {
    let (saved, id) = (card.text(key), super::super::form::anchor(key));
    html! {
        div.cell {
            label for=(id) { "Coming" }
            select id=(id) name={ "t:" (key) } data-key=(key) data-saved=(saved) {
                option value=(if saved == "rising" { "rising" } else { "" }) selected[saved != "falling"] { "rising" }
                option value="falling" selected[saved == "falling"] { "falling" }
            }
            (version(card, key))
        }
    }
}
