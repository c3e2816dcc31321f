//! Which fault it is: what was noticed, causes by probability, and the check that tells most for its time.

use super::super::choices::Choices;
use super::super::icon;
use super::super::page::{Shell, shell};
use super::super::refusal::Refusal;
use super::super::{App, work};
use super::Bench;
use axum::extract::{Path, State};
use diagnosis::check::Actuator;
use diagnosis::fault::{Foreseen, NextTest, RankedCause, Ranking, Symptom, find};
use diagnosis::session;
use maud::{Markup, html};
use quantity::Units;
use std::sync::Arc;

/// Causes shown at once; the others stand folded below.
const SHOWN: usize = 5;

/// The page.
pub(super) async fn show_find(
    State(app): State<Arc<App>>,
    choices: Choices,
    Path(id): Path<i64>,
) -> Result<Markup, Refusal> {
    work(move || {
        let bench = Bench::open(&app, id)?;
        let base = bench.card.base();
        let here = format!("{base}/find");
        let frame =
            Shell { title: "Find a fault", here: Some(&here), base: Some(&base), class: "form bench" };
        Ok(shell(choices, &frame, &page(&bench, &base, choices.units)))
    })
    .await?
}

/// The ranking alone, for the script that asks again after each answer.
pub(super) async fn show_ranking(
    State(app): State<Arc<App>>,
    choices: Choices,
    Path(id): Path<i64>,
) -> Result<Markup, Refusal> {
    work(move || {
        let bench = Bench::open(&app, id)?;
        let base = bench.card.base();
        Ok(ranking(&bench, &base, choices.units))
    })
    .await?
}

fn page(bench: &Bench, base: &str, units: Units) -> Markup {
    let kind = session::actuator(&bench.entries);
    html! {
        header.page-head {
            h1 { "Find a fault" }
            p.muted { a href=(base) { (bench.card.place.engine.name) ", " (bench.card.place.visit.name) } }
            p.lead { "Say what was noticed. Each answer and each bench check moves the causes below; the next check is the one that tells most for its time." }
        }
        div #ranking data-ranking={ (base) "/find/ranking" } aria-live="off" { (ranking(bench, base, units)) }
        form.fields #fields method="post" action={ (base) "/entries" } data-save={ (base) "/field" } data-step="plain" autocomplete="off" {
            button type="submit" hidden { "Save" }
            input type="hidden" name="back" value="/find";
            section.panel.group aria-labelledby="noticed" {
                h2 #noticed { "What was noticed" }
                @for symptom in bench.tables.symptoms.iter().filter(|symptom| applies(symptom, kind)) {
                    (yes_or_no(bench, &format!("symptom.{}", symptom.key), &symptom.name))
                }
            }
            section.panel.group aria-labelledby="off" {
                h2 #off { "What is off already" }
                p.muted { "What is off costs no time any more: checks behind it come sooner." }
                @for piece in &bench.checks.take_off { (off(bench, &piece.key, &piece.name)) }
            }
            div.actions.stay {
                a.button.strong href="#ranking" { "See the causes" }
                button.button.no-script type="submit" { "Save" }
                p.saved.only-script #saved role="status" { "Each answer is saved as it is given." }
            }
        }
    }
}

fn applies(symptom: &Symptom, kind: Actuator) -> bool {
    symptom.actuators.contains(&kind)
}

fn version(bench: &Bench, key: &str) -> Markup {
    html! { input type="hidden" name={ "v:" (key) } value=[bench.card.fields.get(key).map(|field| field.version)]; }
}

fn yes_or_no(bench: &Bench, key: &str, question: &str) -> Markup {
    let saved = bench.card.text(key);
    html! {
        div.field.bare data-field=(key) {
            fieldset.answer {
                legend { (question) }
                div.segments {
                    @for (value, word) in [("yes", "yes"), ("no", "no"), ("", "not looked at")] {
                        label {
                            input type="radio" name={ "t:" (key) } value=(value) checked[value == saved] data-key=(key) data-saved=(saved);
                            span { (word) }
                        }
                    }
                }
            }
            (version(bench, key))
            div.note aria-live="polite" {}
        }
    }
}

fn off(bench: &Bench, piece: &str, name: &str) -> Markup {
    let key = format!("off.{piece}");
    let saved = bench.card.text(&key);
    html! {
        div.field.bare data-field=(key) {
            label.check {
                input type="checkbox" name={ "t:" (key) } value="yes" checked[saved == "yes"] data-key=(key) data-saved=(saved);
                (name)
            }
            (version(bench, &key))
            div.note aria-live="polite" {}
        }
    }
}

fn ranking(bench: &Bench, base: &str, units: Units) -> Markup {
    let case = session::case(&bench.checks, &bench.entries, units);
    match find(&bench.tables, &bench.checks, &case) {
        Err(why) => html! { p.caution role="status" { (icon::WARN) (why) } },
        Ok(found) => html! {
            (headline(&found, case.findings.len()))
            @if let Some(conflict) = &found.conflict { p.caution { (icon::UNSURE) (conflict) } }
            @if let Some(next) = found.next.first() { (next_test(next, base, found.settled.is_some())) }
            (causes(&found))
            (others(&found.next, base))
            (basis(&found))
        },
    }
}

fn percent(probability: f64) -> String {
    match 100.0 * probability {
        p if p < 1.0 => "under 1 %".to_owned(),
        p if p > 99.0 => "over 99 %".to_owned(),
        p => format!("{p:.0} %"),
    }
}

fn headline(found: &Ranking, findings: usize) -> Markup {
    html! {
        section.panel.headline aria-labelledby="top" {
            h2.eyebrow #top { @if found.settled.is_some() { "What it is" } @else { "Likeliest so far" } }
            @if findings == 0 {
                p.say { "Nothing was noticed or checked yet." }
                p { "Answer below what was noticed, or begin with the next check." }
            } @else if let Some(top) = found.causes.first().filter(|top| top.probability >= found.nothing) {
                p.say { (top.name) ", " (percent(top.probability)) }
                p { (top.in_words) }
                p { strong { "What to do: " } (top.remedy) }
            } @else {
                p.say { "Probably nothing is wrong, " (percent(found.nothing)) }
            }
            @if let Some(settled) = &found.settled { p { strong { (settled) } } }
        }
    }
}

fn next_test(next: &NextTest, base: &str, settled: bool) -> Markup {
    html! {
        section.panel aria-labelledby="next-test" {
            h2 #next-test { @if settled { "To be surer still" } @else { "Next check" } }
            p.say { (next.title) }
            p { (cost(next)) }
            (foreseen(&next.outcomes))
            p.actions { a.button.strong href={ (base) "/check/" (next.check) } { "Do this check" } }
            form method="post" action={ (base) "/entries" } {
                input type="hidden" name="back" value="/find";
                input type="hidden" name={ "t:skip." (next.check) } value="yes";
                button.button type="submit" { "It cannot be done now" }
            }
        }
    }
}

/// Time, parts and worth of a check, in a sentence.
fn cost(next: &NextTest) -> String {
    let mut text = format!("About {:.0} min", next.minutes);
    if next.minutes_off > 0.0 {
        text.push_str(&format!(" and {:.0} min for what must come off", next.minutes_off));
    }
    if !next.parts.is_empty() {
        text.push_str(&format!("; used up: {}", next.parts.join(", ")));
    }
    text.push_str(&format!(". Tells {:.2} bit on the average.", next.bits));
    text
}

fn foreseen(outcomes: &[Foreseen]) -> Markup {
    html! {
        ul.foreseen {
            @for outcome in outcomes {
                li {
                    p { strong { (outcome.says) } " " span.muted { (percent(outcome.probability)) } }
                    @if !outcome.points_to.is_empty() { p.small { "Points to: " (outcome.points_to.join("; ")) "." } }
                    @if !outcome.rules_out.is_empty() { p.small.muted { "Rules out: " (outcome.rules_out.join("; ")) "." } }
                }
            }
        }
    }
}

fn causes(found: &Ranking) -> Markup {
    let (first, rest) = found.causes.split_at(found.causes.len().min(SHOWN));
    html! {
        section.panel aria-labelledby="causes" {
            h2 #causes { "Causes by probability" }
            ol.causes { @for cause in first { (cause_row(cause)) } }
            details.more {
                summary { "All other causes" }
                ol.causes { @for cause in rest { (cause_row(cause)) } }
            }
            p.muted { "Nothing wrong: " (percent(found.nothing)) }
        }
    }
}

fn cause_row(cause: &RankedCause) -> Markup {
    let share = (100.0 * cause.probability).round().clamp(0.0, 100.0);
    html! {
        li {
            div.title-row {
                h3 { (cause.name) @if cause.not_the_valve { " " span.pill.open { "not the valve" } } }
                strong { (percent(cause.probability)) }
            }
            div.cause-bar aria-hidden="true" { div class={ "share-" (format!("{share:.0}")) } {} }
            details {
                summary { "Why, and what to do" }
                p { (cause.in_words) }
                @for (word, reasons) in [("For", &cause.because), ("Against", &cause.against)] {
                    @if !reasons.is_empty() {
                        h4 { (word) }
                        ul { @for reason in reasons { li { (reason.text) } } }
                    }
                }
                p { strong { "What to do: " } (cause.remedy) }
                p.muted.small { "Figures: " (cause.sources.join("; ")) "." }
            }
        }
    }
}

fn others(next: &[NextTest], base: &str) -> Markup {
    html! {
        @if next.len() > 1 {
            details.panel.more {
                summary { h2 { "Other checks" } }
                ul.rows {
                    @for other in next.iter().skip(1) {
                        li {
                            a.row-link href={ (base) "/check/" (other.check) } {
                                strong { (other.title) }
                                span.muted.small { (cost(other)) }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn basis(found: &Ranking) -> Markup {
    html! {
        details.panel.more {
            summary { h2 { "What this rests on" } }
            ul { @for line in found.assumptions.iter().chain(&found.alike) { li { (line) } } }
            p { "Every figure stands in a table that you can change: " a href="/bench/own" { "tables of your own" } "." }
        }
    }
}
