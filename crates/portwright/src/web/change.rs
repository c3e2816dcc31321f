//! Making, naming, deleting and bringing back engines, builds and job cards.

use super::form::save;
use super::refusal::Refusal;
use super::subject::{Card, Named, base_of};
use super::{App, work};
use crate::paper::today;
use axum::extract::rejection::FormRejection;
use axum::extract::{Form, Path, State};
use axum::response::Redirect;
use record::{BuildId, EngineId, Owner, RecordError};
use serde::Deserialize;
use std::sync::Arc;

/// A name from a form.
#[derive(Deserialize)]
pub(super) struct Called {
    #[serde(default)]
    name: String,
}

type Name = Result<Form<Called>, FormRejection>;

/// Most letters of a name, as for the name in the engine file.
const LONGEST_NAME: usize = 80;

fn name_of(form: Name) -> Result<Option<String>, Refusal> {
    let Form(called) = form.map_err(|error| Refusal::bad_form(&error.body_text()))?;
    let name = called.name.trim();
    if name.chars().count() > LONGEST_NAME {
        return Err(Refusal::not_taken(format!(
            "A name has room for {LONGEST_NAME} letters. Go back and shorten it; what was typed stands there still."
        )));
    }
    Ok((!name.is_empty()).then(|| name.to_owned()))
}

/// A new engine, described from nothing.
pub(super) async fn new_engine(State(app): State<Arc<App>>, form: Name) -> Result<Redirect, Refusal> {
    let name = name_of(form)?.unwrap_or_else(|| "Engine without a name".to_owned());
    work(move || {
        let (_, build, visit) = app.record.create_engine(&name, false)?;
        app.record.save_field(build.into(), "engine.name", &name, None)?;
        Ok(Redirect::to(&base_of(visit)))
    })
    .await?
}

/// A new build: the description of the latest one, and a job card with the return values to compare with.
pub(super) async fn new_build(
    State(app): State<Arc<App>>,
    Path(id): Path<i64>,
    form: Name,
) -> Result<Redirect, Refusal> {
    let name = name_of(form)?.unwrap_or_else(|| format!("Build of {}", today()));
    work(move || {
        let engine = app.record.engine(EngineId(id))?;
        let last = engine.builds.last();
        let build = app.record.create_build(engine.line.id, &name, last.map(|build| build.id))?;
        let returns_from = last.and_then(|build| build.visits.last()).map(|visit| visit.id);
        let visit = app.record.create_visit(build, &format!("Job card of {}", today()), returns_from)?;
        Ok(Redirect::to(&base_of(visit)))
    })
    .await?
}

/// A new job card with the return values of the latest one.
pub(super) async fn new_visit(
    State(app): State<Arc<App>>,
    Path(id): Path<i64>,
    form: Name,
) -> Result<Redirect, Refusal> {
    let name = name_of(form)?.unwrap_or_else(|| format!("Job card of {}", today()));
    work(move || {
        let build = app.record.build(BuildId(id))?;
        let visit = app.record.create_visit(build.id, &name, build.visits.last().map(|visit| visit.id))?;
        Ok(Redirect::to(&base_of(visit)))
    })
    .await?
}

/// Another name. That of an engine also stands in its builds, for sheet and file.
pub(super) async fn rename(
    State(app): State<Arc<App>>,
    Named(owner): Named,
    form: Name,
) -> Result<Redirect, Refusal> {
    let name = name_of(form)?;
    work(move || {
        if let Some(name) = name {
            app.record.rename(owner, &name)?;
            if let Owner::Engine(id) = owner {
                for build in app.record.engine(id)?.builds {
                    save::put(&app, build.id.into(), [("engine.name".to_owned(), name.clone())])?;
                }
            }
        }
        Ok(Redirect::to(&page_of(&app, owner)?))
    })
    .await?
}

/// Deletes; the page that follows offers to bring it back.
pub(super) async fn delete(State(app): State<Arc<App>>, Named(owner): Named) -> Result<Redirect, Refusal> {
    work(move || {
        app.record.delete(owner)?;
        Ok(Redirect::to(&match owner {
            Owner::Engine(_) => "/#deleted".to_owned(),
            Owner::Build(id) => format!("/engine/{}#builds", app.record.build(id)?.engine),
            Owner::Visit(id) => format!("/engine/{}#builds", app.record.visit(id)?.engine.id),
        }))
    })
    .await?
}

/// Brings back what was deleted.
pub(super) async fn undelete(State(app): State<Arc<App>>, Named(owner): Named) -> Result<Redirect, Refusal> {
    work(move || {
        app.record.undelete(owner)?;
        Ok(Redirect::to(&page_of(&app, owner)?))
    })
    .await?
}

/// The page on which something is seen.
fn page_of(app: &App, owner: Owner) -> Result<String, RecordError> {
    Ok(match owner {
        Owner::Engine(id) => format!("/engine/{id}"),
        Owner::Build(id) => {
            let build = app.record.build(id)?;
            build.visits.last().map_or_else(|| format!("/engine/{}", build.engine), |visit| base_of(visit.id))
        }
        Owner::Visit(id) => Card::open(app, id)?.base(),
    })
}
