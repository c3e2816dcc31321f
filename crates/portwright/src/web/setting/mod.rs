//! The page of one engine: what to turn, how it is seen to be right, and why.

mod basis;
mod ends;
mod front;
mod proof;
mod steps;

use super::choices::Choices;
use super::edit;
use super::icon;
use super::moving::{self, Asked, View};
use super::page::{Shell, shell};
use super::refusal::Refusal;
use super::{App, work};
use crate::shelf::Kept;
use axum::extract::{Path, Query, State};
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use std::sync::Arc;
use workshop::Answer;

/// The start page: the demo engine.
pub(super) async fn show_start(
    State(app): State<Arc<App>>,
    choices: Choices,
    Query(asked): Query<Asked>,
) -> Result<Response, Refusal> {
    let kept = work(move || app.shelf.keep(engine::file::DEMO.as_bytes())).await?;
    let kept = kept.map_err(|_| Refusal::broken())?;
    Ok(show(kept, choices, asked, "/".to_owned()).await?.into_response())
}

/// The page of an engine on the shelf.
pub(super) async fn show_engine(
    State(app): State<Arc<App>>,
    choices: Choices,
    Path(id): Path<String>,
    Query(asked): Query<Asked>,
) -> Result<Markup, Refusal> {
    show(app.find(&id)?, choices, asked, format!("/engine/{id}")).await
}

async fn show(kept: Arc<Kept>, choices: Choices, asked: Asked, here: String) -> Result<Markup, Refusal> {
    work(move || {
        let answer = kept.answer(choices.units);
        let view = View::of(&asked, &answer);
        let title = &answer.report.engine.name;
        let frame = Shell { title, here: Some(&here), engine: Some(&kept.id), class: "engine" };
        shell(choices, &frame, &page(&kept, &answer, view))
    })
    .await
}

fn page(kept: &Kept, answer: &Answer, view: View) -> Markup {
    let report = &answer.report;
    html! {
        (front::head(report, &places(report.steps.is_empty())))
        div.front {
            div.answer { (front::answer(report, &kept.id)) }
            (ends::section(answer))
            (front::findings(report))
            (front::gap_rule(report))
            (front::gates(report))
            (moving::section(&kept.id, answer, view))
        }
        (steps::section(answer))
        div.columns {
            (proof::returns(report, &kept.id))
            (proof::demands(report))
        }
        (proof::arithmetic(report))
        (proof::budget(report))
        (basis::ports(report))
        (basis::measurements(report))
        (basis::assumptions(report))
        (basis::cautions(report))
        section.panel.another aria-labelledby="another-title" {
            h2 #another-title { "Another engine" }
            p { "Take this file as a pattern, or bring one that is written already." }
            (edit::chooser())
            p.actions {
                a.button href={ "/engine/" (kept.id) "/file" } { (icon::DOWN) "Download this file" }
                a.button href={ "/engine/" (kept.id) "/edit" } { (icon::PEN) "Edit this file" }
                a.button.plain href={ "/engine/" (kept.id) "/report.json" } { "The whole answer as JSON" }
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
