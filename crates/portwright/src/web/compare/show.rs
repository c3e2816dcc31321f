//! The comparison as it stands on the page.

use super::super::page::{glued, verdict};
use super::side::Side;
use maud::{Markup, html};
use quantity::Units;
use workshop::compare::{Change, Comparison, EndChange, compare};
use workshop::report::{Drift, Figure, Turn};

/// What changed from the earlier side to the later one.
pub(super) fn comparison((a, b): &(Side, Side), units: Units) -> Markup {
    let found = compare(&a.fields, &b.fields, units);
    html! {
        dl.panel.compare-sides {
            div { dt { "Earlier" } dd { a href=(a.address) { (a.name) } } }
            div { dt { "Later" } dd { a href=(b.address) { (b.name) } } }
        }
        (in_words(&found))
        (turns(&found.turns))
        (ends(&found.ends))
        (drift(&found.drift))
        (changes(&found))
    }
}

fn in_words(found: &Comparison) -> Markup {
    html! {
        section.panel aria-labelledby="compare-words" {
            h2 #compare-words { "In short" }
            ul.plain-list { @for words in &found.words { li { (glued(words)) } } }
        }
    }
}

fn turns(turns: &[Turn]) -> Markup {
    html! {
        @if !turns.is_empty() {
            section.panel aria-labelledby="compare-turns" {
                h2 #compare-turns { "What to turn now" }
                ol.plain-list { @for turn in turns { li { strong { (glued(&turn.text)) } } } }
            }
        }
    }
}

fn ends(ends: &[EndChange]) -> Markup {
    html! {
        @if !ends.is_empty() {
            section.panel aria-labelledby="compare-ends" {
                h2 #compare-ends { "Valve edge as found" }
                ul.compare-rows {
                    @for end in ends {
                        li {
                            h3 { (super::super::page::capital(&end.end)) }
                            (pair(end.a.as_ref().map(text), end.b.as_ref().map(text)))
                            p { (glued(&end.text)) }
                            p { (reality(end.real)) " " @if let Some(word) = &end.verdict { (verdict(word)) " later, against what is accepted" } }
                        }
                    }
                }
            }
        }
    }
}

fn drift(drift: &[Drift]) -> Markup {
    html! {
        @if !drift.is_empty() {
            section.panel aria-labelledby="compare-drift" {
                h2 #compare-drift { "How far the valve is from its return values" }
                ul.compare-rows {
                    @for reading in drift {
                        li {
                            h3 { (reading.name) }
                            dl.compare-pair {
                                div { dt { "Return value" } dd { (glued(&reading.stored.text)) } }
                                div { dt { "Now" } dd { (glued(&reading.now.text)) } }
                            }
                            p { "Difference " strong { (glued(&reading.difference.text)) } " " (reality(Some(reading.real))) }
                            p { (glued(&reading.text)) }
                        }
                    }
                }
            }
        }
    }
}

fn changes(found: &Comparison) -> Markup {
    html! {
        section.panel aria-labelledby="compare-changes" {
            h2 #compare-changes { "What changed in the entries" }
            @if found.rows.is_empty() { p { "Nothing." } }
            ul.compare-rows { @for row in &found.rows { (change(row)) } }
            p.muted { (found.unchanged) " more entries are the same to the letter." }
        }
    }
}

fn change(row: &Change) -> Markup {
    html! {
        li {
            h3 { (row.label) }
            (pair(row.a.as_deref(), row.b.as_deref()))
            p {
                @if let Some(difference) = &row.difference { "Difference " strong { (glued(&difference.text)) } " " }
                @if row.real.is_some() { (reality(row.real)) " " }
                (row.text)
            }
        }
    }
}

fn text(figure: &Figure) -> &str {
    &figure.text
}

fn pair(a: Option<&str>, b: Option<&str>) -> Markup {
    let shown = |text: Option<&str>| html! { @match text { Some(text) => (glued(text)), None => span.muted { "nothing" } } };
    html! {
        dl.compare-pair {
            div { dt { "Earlier" } dd { (shown(a)) } }
            div { dt { "Later" } dd { (shown(b)) } }
        }
    }
}

/// Whether a difference is more than the readings can hide, in words and with a sign.
fn reality(real: Option<bool>) -> Markup {
    use super::super::icon;
    html! {
        @match real {
            Some(true) => { span.pill.warn { (icon::WARN) "real" } },
            Some(false) => { span.pill.good { (icon::PASS) "not real" } },
            None => { span.pill.warn { (icon::UNSURE) "cannot tell" } },
        }
    }
}
