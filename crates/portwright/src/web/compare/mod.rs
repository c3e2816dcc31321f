//! Two job cards or two builds side by side: what changed, and what that means for the valve.

mod show;
mod side;

use super::choices::Choices;
use super::page::{Shell, shell};
use super::refusal::Refusal;
use super::{App, work};
use axum::Router;
use axum::extract::{Query, State};
use axum::routing::get;
use maud::{Markup, html};
use record::{Engine, EngineId};
use serde::Deserialize;
use side::Side;
use std::sync::Arc;

/// The addresses of this room.
pub(super) fn routes() -> Router<Arc<App>> {
    Router::new().route("/compare", get(show_comparison))
}

/// What is asked for: `a` and `b` as `visit-3` or `build-2`; without them the last two of an engine are offered.
#[derive(Debug, Deserialize)]
struct Asked {
    a: Option<String>,
    b: Option<String>,
    engine: Option<i64>,
}

async fn show_comparison(
    State(app): State<Arc<App>>,
    choices: Choices,
    Query(asked): Query<Asked>,
) -> Result<Markup, Refusal> {
    work(move || page(&app, choices, &asked)).await?
}

fn page(app: &App, choices: Choices, asked: &Asked) -> Result<Markup, Refusal> {
    let side = |text: &Option<String>| match text.as_deref() {
        None | Some("") => Ok(None),
        Some(text) => Side::open(&app.record, text).map(Some),
    };
    let (a, b) = (side(&asked.a)?, side(&asked.b)?);
    let first = a.as_ref().or(b.as_ref()).map(|side| side.engine);
    let engine = app.record.engine(first.or(asked.engine.map(EngineId)).ok_or_else(nothing_asked)?)?;
    let (a, b) = match (a, b) {
        (Some(a), Some(b)) => (Some(a), Some(b)),
        _ => side::last_two(&app.record, &engine)?,
    };
    let main = html! {
        header.page-head {
            h1 { "Compare" }
            p.muted { a href={ "/engine/" (engine.line.id) } { (engine.line.name) } }
        }
        (chooser(&engine, a.as_ref(), b.as_ref()))
        @match (a, b) {
            (Some(a), Some(b)) if a.key == b.key => { p.panel { "Both sides are the same: choose two different ones." } },
            (Some(a), Some(b)) => { (show::comparison(&Side::in_order(a, b), choices.units)) },
            _ => { p.panel { "This engine has one job card only, so there is nothing to compare yet. Make a new job card or \
                              build on the engine's page." } },
        }
    };
    let frame = Shell { title: "Compare", here: None, base: None, class: "compare" };
    Ok(shell(choices, &frame, &main))
}

fn nothing_asked() -> Refusal {
    Refusal::not_taken("The address does not say what is compared. Go to an engine and choose Compare there.")
}

/// Two lists to choose from; everything of the engine is in them.
fn chooser(engine: &Engine, a: Option<&Side>, b: Option<&Side>) -> Markup {
    let list = |name: &str, label: &str, chosen: Option<&Side>| {
        html! {
            div.compare-field {
                label for={ "compare-" (name) } { (label) }
                select id={ "compare-" (name) } name=(name) {
                    @for build in &engine.builds {
                        optgroup label=(build.name) {
                            @for visit in &build.visits {
                                @let key = format!("visit-{}", visit.id);
                                option value=(key) selected[is(chosen, &key)] { (visit.name) " (" (build.name) ")" }
                            }
                            @let key = format!("build-{}", build.id);
                            option value=(key) selected[is(chosen, &key)] { (build.name) ", description only" }
                        }
                    }
                }
            }
        }
    };
    html! {
        form.panel.compare-choose method="get" action="/compare" {
            (list("a", "One", a))
            (list("b", "The other", b))
            button.button type="submit" { "Compare" }
        }
    }
}

fn is(chosen: Option<&Side>, key: &str) -> bool {
    chosen.is_some_and(|side| side.key == key)
}

#[cfg(test)]
mod tests;
