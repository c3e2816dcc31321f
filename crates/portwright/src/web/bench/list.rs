//! All checks of a job card: what is done, what it came to, and what comes cheapest next.

use super::super::choices::Choices;
use super::super::icon;
use super::super::page::{Shell, shell};
use super::super::refusal::Refusal;
use super::super::{App, work};
use super::Bench;
use super::check::minutes_text;
use axum::extract::{Path, State};
use diagnosis::check::{Actuator, State as How};
use diagnosis::session::{self, Judged};
use maud::{Markup, html};
use std::sync::Arc;

/// The list.
pub(super) async fn show_checks(
    State(app): State<Arc<App>>,
    choices: Choices,
    Path(id): Path<i64>,
) -> Result<Markup, Refusal> {
    work(move || {
        let bench = Bench::open(&app, id)?;
        let base = bench.card.base();
        let here = format!("{base}/checks");
        let judged = session::judged(&bench.checks, &bench.entries, choices.units);
        let frame =
            Shell { title: "Bench checks", here: Some(&here), base: Some(&base), class: "path bench" };
        Ok(shell(choices, &frame, &page(&bench, &base, &judged)))
    })
    .await?
}

fn page(bench: &Bench, base: &str, judged: &[Judged<'_>]) -> Markup {
    let off = session::off(&bench.entries);
    let effort = |one: &Judged<'_>| {
        let (own, pieces) = bench.checks.minutes(one.check, &off);
        own + pieces
    };
    let mut left: Vec<&Judged<'_>> = judged.iter().filter(|one| !session::is_done(&one.judgement)).collect();
    left.sort_by(|a, b| effort(a).total_cmp(&effort(b)));
    let done: Vec<&Judged<'_>> = judged.iter().filter(|one| session::is_done(&one.judgement)).collect();
    html! {
        header.page-head {
            h1 { "Bench checks" }
            p.muted { a href=(base) { (bench.card.place.engine.name) ", " (bench.card.place.visit.name) } }
            p.lead {
                "One check a screen, cheapest first. Looking for a fault? "
                a href={ (base) "/find" } { "Find it" }
                " asks for the check that tells most for its time."
            }
        }
        (kind(bench, base))
        @if let Some(first) = left.first() {
            section.panel.headline.go-on aria-labelledby="next-check" {
                h2.eyebrow #next-check { "Cheapest check that is left" }
                p.say { (first.check.title) }
                p { (first.check.purpose) }
                p.actions { a.button.strong href=(address(base, first)) { "Begin" } }
            }
        }
        (rows("Done", base, &done, bench, &off))
        (rows("Not done yet", base, &left, bench, &off))
        p.actions {
            a.button href={ (base) "/normal" } { "What normal looks like" }
            a.button href="/bench/own" { "Checks of your own" }
        }
    }
}

fn address(base: &str, one: &Judged<'_>) -> String {
    format!("{base}/check/{}", one.check.key)
}

/// What moves the valve: it decides which checks apply.
fn kind(bench: &Bench, base: &str) -> Markup {
    let now = session::actuator(&bench.entries);
    let version = bench.card.fields.get("bench.actuator").map(|field| field.version);
    let saved = bench.card.text("bench.actuator");
    html! {
        form.panel.one-line method="post" action={ (base) "/entries" } {
            input type="hidden" name="back" value="/checks";
            input type="hidden" name="v:bench.actuator" value=[version];
            label for="actuator" { "What moves the valve" }
            select #actuator name="t:bench.actuator" {
                @for one in Actuator::ALL {
                    option value=(one.key()) selected[one == now] { (kind_words(one)) }
                }
            }
            button.button type="submit" { @if saved.is_empty() { "Keep" } @else { "Change" } }
        }
    }
}

fn kind_words(kind: Actuator) -> &'static str {
    match kind {
        Actuator::Servo => "servo with cables",
        Actuator::Governor => "centrifugal governor",
        Actuator::Diaphragm => "pressure diaphragm",
    }
}

fn rows(title: &str, base: &str, rows: &[&Judged<'_>], bench: &Bench, off: &[String]) -> Markup {
    html! {
        @if !rows.is_empty() {
            section aria-label=(title) {
                h2 { (title) }
                ul.steps-path.plain {
                    @for one in rows {
                        @let (class, word) = state(one);
                        li class={ "step-row " (class) } {
                            a.step-link href=(address(base, one)) {
                                strong { (one.check.title) }
                                span class={ "pill " (class) } { (word) }
                                span.muted.small.step-next {
                                    @if session::is_done(&one.judgement) { (one.judgement.text) }
                                    @else { (minutes_text(&bench.checks, one.check, off)) }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// Class and word for how far a check is.
pub(super) fn state(one: &Judged<'_>) -> (&'static str, Markup) {
    match (one.judgement.state, one.judgement.passes) {
        (How::NotDone, _) => ("open", html! { "not done" }),
        (How::Started, _) => ("warn", html! { "begun" }),
        (How::Asked, _) => ("warn", html! { (icon::UNSURE) "asks" }),
        (How::Done, Some(true)) => ("good", html! { (icon::PASS) "pass" }),
        (How::Done, Some(false)) => ("bad", html! { (icon::FAIL) "fail" }),
        (How::Done, None) => ("warn", html! { (icon::UNSURE) "cannot tell" }),
    }
}
