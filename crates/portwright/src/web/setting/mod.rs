//! The page of one engine: what to turn, how it is seen to be right, and why.

mod basis;
mod ends;
mod front;
mod proof;
mod steps;
mod ticks;

use super::choices::Choices;
use super::icon;
use super::moving::{self, Asked, View};
use super::page::{Shell, shell};
use super::refusal::Refusal;
use super::results;
use super::subject::Subject;
use super::{App, work};
use axum::extract::{Query, State};
use maud::{Markup, html};
use std::sync::Arc;
use ticks::Ticks;
use workshop::Answer;

/// Where the page stands.
pub(super) struct At<'a> {
    /// Address of its pages, without a slash at the end.
    base: &'a str,
    /// A kept result: it is shown as it was, nothing of it changes.
    kept: bool,
}

/// The answer for a job card as it stands, or of a kept result.
pub(super) async fn show_setting(
    State(app): State<Arc<App>>,
    choices: Choices,
    subject: Subject,
    Query(asked): Query<Asked>,
) -> Result<Markup, Refusal> {
    work(move || {
        let ticks = Ticks::of(&app, &subject)?;
        let answer = subject.kept.answer(choices.units);
        let view = View::of(&asked, &answer);
        let here = format!("{}/setting", subject.base);
        let title = &answer.report.engine.name;
        let frame = Shell { title, here: Some(&here), base: Some(&subject.base), class: "engine" };
        Ok(shell(choices, &frame, &page(&subject, &answer, view, &ticks)))
    })
    .await?
}

fn page(subject: &Subject, answer: &Answer, view: View, ticks: &Ticks) -> Markup {
    let report = &answer.report;
    let at = At { base: &subject.base, kept: subject.result.is_some() };
    html! {
        (front::head(report, &places(report.steps.is_empty())))
        (results::banner(subject))
        div.front {
            div.answer { (front::answer(report, &at)) }
            (ends::section(answer))
            (front::findings(report))
            (front::gap_rule(report))
            (front::gates(report))
            (moving::section(at.base, answer, view))
        }
        (steps::section(answer, ticks))
        div.columns {
            (proof::returns(report, &at))
            (proof::demands(report))
        }
        (proof::arithmetic(report))
        (proof::better(report))
        (proof::budget(report))
        (basis::ports(report))
        (basis::measurements(report))
        (basis::assumptions(report))
        (basis::cautions(report))
        section.panel.another aria-labelledby="another-title" {
            h2 #another-title { "As a file" }
            p { "The same engine for the command line, or for another program." }
            p.actions {
                @if !at.kept {
                    a.button href={ (at.base) "/file" } { (icon::DOWN) "Download this file" }
                    a.button href={ (at.base) "/edit" } { (icon::PEN) "Edit this file" }
                }
                a.button.plain href={ (at.base) "/report.json" } { "The whole answer as JSON" }
            }
        }
    }
}

/// Where things are on this long page.
fn places(no_steps: bool) -> Markup {
    let places = [
        ("answer", "Answer"),
        ("moving", "Drawing"),
        ("steps", "Steps"),
        ("returns", "Return values"),
        ("arithmetic", "Arithmetic"),
        ("ports", "Ports"),
        ("cautions", "Cautions"),
    ];
    html! {
        nav.places aria-label="On this page" {
            @for (id, label) in places {
                @if !(no_steps && id == "steps") { a href={ "#" (id) } { (label) } }
            }
        }
    }
}
