//! The workshop's own checks and fault tables: files in the layout of the built-in ones.

use super::super::choices::Choices;
use super::super::icon;
use super::super::page::{Shell, shell};
use super::super::refusal::Refusal;
use super::super::{App, work};
use super::{OWN_CHECKS, OWN_PROCEDURES, OWN_TABLES};
use axum::extract::rejection::FormRejection;
use axum::extract::{Form, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use diagnosis::check::Checks;
use diagnosis::fault::Tables;
use maud::{Markup, html};
use record::RecordError;
use serde::Deserialize;
use std::sync::Arc;
use workshop::procedure::Procedures;

/// One of the files.
struct Kind {
    /// Name under which the record keeps it, and in the form.
    name: &'static str,
    title: &'static str,
    text: &'static str,
    /// Sentences about what is wrong with a text.
    problems: fn(&str) -> Vec<String>,
}

const KINDS: [Kind; 3] = [
    Kind {
        name: OWN_CHECKS,
        title: "Bench checks",
        text: "A check with a known key takes the place of the built-in one; others are added. The layout stands in \
               docs/bench-checks.md.",
        problems: |text| {
            Checks::read(text).err().unwrap_or_default().iter().map(ToString::to_string).collect()
        },
    },
    Kind {
        name: OWN_TABLES,
        title: "Fault tables",
        text: "A row with a known key takes the place of the built-in one; others are added. The layout stands in \
               docs/faults.md.",
        problems: |text| {
            Tables::read(text).err().unwrap_or_default().iter().map(ToString::to_string).collect()
        },
    },
    Kind {
        name: OWN_PROCEDURES,
        title: "Ways of setting",
        text: "A procedure with a known key takes the place of the built-in one; others are added. The layout stands in \
               docs/procedures.md.",
        problems: |text| {
            Procedures::with(text).err().unwrap_or_default().iter().map(ToString::to_string).collect()
        },
    },
];

/// The page.
pub(super) async fn show_own(State(app): State<Arc<App>>, choices: Choices) -> Result<Markup, Refusal> {
    work(move || Ok(page(&app, choices, None)?)).await?
}

fn page(app: &App, choices: Choices, sent: Option<(&Own, &[String])>) -> Result<Markup, RecordError> {
    let frame = Shell { title: "Your own checks", here: Some("/bench/own"), base: None, class: "form bench" };
    let mut panels = Vec::new();
    for kind in &KINDS {
        let kept = app.record.choice(kind.name)?.unwrap_or_default();
        let (text, problems) = match sent.filter(|(own, _)| own.kind == kind.name) {
            Some((own, problems)) => (own.text.as_str(), problems),
            None => (kept.as_str(), &[][..]),
        };
        panels.push(panel(kind, text, problems));
    }
    Ok(shell(
        choices,
        &frame,
        &html! {
            header.page-head {
                h1 { "Checks and tables of your own" }
                p.lead { "For all engines of this record. Limits for one engine are better entered beside the reading, in its check." }
            }
            @for panel in &panels { (panel) }
        },
    ))
}

fn panel(kind: &Kind, text: &str, problems: &[String]) -> Markup {
    html! {
        form.panel.notes method="post" action="/bench/own" {
            h2 { (kind.title) }
            p { (kind.text) }
            @if !problems.is_empty() {
                div.caution role="alert" {
                    (icon::WARN)
                    div {
                        p { strong { "Not kept. Your text stands below." } }
                        ul { @for problem in problems { li { (problem) } } }
                    }
                }
            }
            input type="hidden" name="kind" value=(kind.name);
            label for=(kind.name) { "Text of the file" }
            textarea id=(kind.name) name="text" rows="12" spellcheck="false" { "\n" (text) }
            p.actions { button.button.strong type="submit" { "Check and keep" } }
        }
    }
}

/// What is sent.
#[derive(Deserialize)]
pub(super) struct Own {
    kind: String,
    text: String,
}

/// Keeps a file that has no errors; shows the errors beside the text otherwise.
pub(super) async fn keep_own(
    State(app): State<Arc<App>>,
    choices: Choices,
    form: Result<Form<Own>, FormRejection>,
) -> Result<Response, Refusal> {
    let Form(own) = form.map_err(|error| Refusal::bad_form(&error.body_text()))?;
    work(move || {
        let kind = KINDS.iter().find(|kind| kind.name == own.kind).ok_or_else(Refusal::no_page)?;
        let problems = if own.text.trim().is_empty() { Vec::new() } else { (kind.problems)(&own.text) };
        if !problems.is_empty() {
            return Ok((StatusCode::UNPROCESSABLE_ENTITY, page(&app, choices, Some((&own, &problems)))?)
                .into_response());
        }
        app.record.set_choice(kind.name, &own.text)?;
        Ok(Redirect::to("/bench/own").into_response())
    })
    .await?
}
