//! The list of engines.

use super::choices::Choices;
use super::edit;
use super::moment;
use super::page::{Shell, shell};
use super::refusal::Refusal;
use super::subject::{Card, base_of};
use super::{App, work};
use axum::extract::{Query, State};
use maud::{Markup, html};
use record::{DeletedItem, EngineFilter, EngineId, EngineLine, Owner, RecordError, VisitId};
use serde::Deserialize;
use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

/// Engines on one page of the list.
const ON_A_PAGE: usize = 40;

/// How far each engine is, remembered until something of it is saved: reading all its fields takes a moment.
#[derive(Default)]
pub(super) struct Stages {
    known: Mutex<HashMap<EngineId, (i64, Stage)>>,
}

/// Where the work on an engine stopped.
#[derive(Debug, Clone)]
struct Stage {
    /// Entries that are missing or wrong.
    open: usize,
    /// Title of the step to go on with.
    step: &'static str,
    /// What to do next.
    next: String,
}

impl Stages {
    fn of(&self, app: &App, line: &EngineLine, visit: VisitId) -> Result<Stage, RecordError> {
        let lock = || self.known.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((at, stage)) = lock().get(&line.id)
            && *at == line.changed_ms
        {
            return Ok(stage.clone());
        }
        let path = workshop::form::path(&Card::open(app, visit)?.file_texts());
        let stage = Stage {
            open: path.steps.iter().map(|step| step.missing + step.wrong).sum(),
            step: path.next.as_ref().map_or("Sheet", |next| next.step.title()),
            next: path.next.map(|next| next.text).unwrap_or_default(),
        };
        lock().insert(line.id, (line.changed_ms, stage.clone()));
        Ok(stage)
    }
}

/// Which part of the list is asked for.
#[derive(Debug, Default, Deserialize)]
pub(super) struct Asked {
    #[serde(default)]
    name: String,
    page: Option<String>,
}

/// The start page.
pub(super) async fn show_list(
    State(app): State<Arc<App>>,
    choices: Choices,
    Query(asked): Query<Asked>,
) -> Result<Markup, Refusal> {
    work(move || {
        let filter = EngineFilter { name_contains: asked.name.clone() };
        let engines = app.record.engines(&filter)?;
        let pages = engines.len().div_ceil(ON_A_PAGE).max(1);
        let page = asked.page.and_then(|page| page.parse::<usize>().ok()).unwrap_or(1).clamp(1, pages);
        let shown = engines.iter().skip((page - 1) * ON_A_PAGE).take(ON_A_PAGE);
        let rows = shown.map(|line| row(&app, line)).collect::<Result<Vec<_>, _>>()?;
        let frame = Shell { title: "Engines", here: Some("/"), base: None, class: "list" };
        Ok(shell(
            choices,
            &frame,
            &html! {
                header.page-head {
                    h1 { "Engines" }
                    p.lead { "What the workshop has measured and set. Everything is kept on this computer." }
                }
                div.list-columns {
                    section.panel aria-labelledby="engines-title" {
                        h2.unseen #engines-title { "All engines" }
                        @if engines.len() > ON_A_PAGE || !asked.name.is_empty() { (search(&asked.name)) }
                        @if rows.is_empty() { (none(&asked.name)) } @else { ul.rows.engines { @for row in &rows { (row) } } }
                        (turn_over(page, pages, &asked.name))
                    }
                    div.side {
                        (beginning())
                        (deleted(&app)?)
                    }
                }
            },
        ))
    })
    .await?
}

fn row(app: &App, line: &EngineLine) -> Result<Markup, RecordError> {
    let stage = line.latest_visit.map(|visit| app.stages.of(app, line, visit)).transpose()?;
    Ok(html! {
        li {
            a.row-link href={ "/engine/" (line.id) } {
                strong.row-name { (line.name) }
                @if line.invented { span.invented { "invented" } }
                @if let Some(stage) = &stage {
                    span.row-stage {
                        @if stage.open > 0 { span.pill.warn { (stage.open) " open" } }
                        @else { span.pill.good { "whole" } }
                        span { (stage.step) }
                    }
                    span.muted.small.row-next { (stage.next) }
                } @else { span.muted.small { "No job card" } }
                span.muted.small {
                    @if let Some(visit) = &line.latest_visit_name { (visit) ", " }
                    "last change " (moment::date(line.changed_ms))
                }
            }
            @if let Some(visit) = line.latest_visit {
                a.button.row-side href={ (base_of(visit)) "/setting" } aria-label={ "Setting of " (line.name) } { "Setting" }
            }
        }
    })
}

fn search(name: &str) -> Markup {
    html! {
        form.search method="get" action="/" role="search" {
            label for="name-contains" { "Find by name" }
            input #name-contains type="search" name="name" value=(name) autocomplete="off";
            button.button type="submit" { "Find" }
        }
    }
}

fn none(name: &str) -> Markup {
    html! {
        p.muted {
            @if name.is_empty() { "No engine yet. Begin with a new one, or bring an engine file." }
            @else { "No engine has \u{201c}" (name) "\u{201d} in its name. " a href="/" { "Show all" } }
        }
    }
}

fn turn_over(page: usize, pages: usize, name: &str) -> Markup {
    html! {
        @if pages > 1 {
            form.actions.turn-over method="get" action="/" aria-label="Pages of the list" {
                @if !name.is_empty() { input type="hidden" name="name" value=(name); }
                @if page > 1 { button.button name="page" value=(page - 1) { "Earlier page" } }
                span.muted { "Page " (page) " of " (pages) }
                @if page < pages { button.button name="page" value=(page + 1) { "Next page" } }
            }
        }
    }
}

/// Two ways to begin.
fn beginning() -> Markup {
    html! {
        section.panel #new aria-labelledby="new-title" {
            h2 #new-title { "New engine" }
            form.one-line method="post" action="/engine/new" {
                label for="new-name" { "Name, as the workshop calls it" }
                input #new-name type="text" name="name" maxlength="80" autocomplete="off" required;
                button.button.strong type="submit" { "Describe it" }
            }
            h3 { "From an engine file" }
            (edit::chooser())
        }
    }
}

/// Deleted engines, each with the way back.
fn deleted(app: &App) -> Result<Markup, RecordError> {
    let gone: Vec<(EngineId, String, i64)> = app
        .record
        .deleted()?
        .into_iter()
        .filter_map(|deleted| match deleted.item {
            DeletedItem::Owner(Owner::Engine(id)) => Some((id, deleted.name, deleted.deleted_ms)),
            _ => None,
        })
        .collect();
    Ok(html! {
        @if !gone.is_empty() {
            section.panel #deleted aria-labelledby="deleted-title" {
                h2 #deleted-title { "Deleted engines" }
                ul.rows {
                    @for (id, name, at_ms) in &gone {
                        li { (bring_back(&format!("/engine/{id}"), name, *at_ms)) }
                    }
                }
            }
        }
    })
}

/// One thing that was deleted, and a button to undo it.
pub(super) fn bring_back(address: &str, name: &str, at_ms: i64) -> Markup {
    html! {
        span.row-link { strong { (name) } span.muted.small { "deleted " (moment::date_and_time(at_ms)) } }
        form method="post" action={ (address) "/undelete" } {
            button.button type="submit" aria-label={ "Bring back " (name) } { "Bring back" }
        }
    }
}
