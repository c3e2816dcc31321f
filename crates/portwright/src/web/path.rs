//! The guided path of an engine: the steps in the order of the work, with builds and job cards beside it.

use super::choices::Choices;
use super::form::anchor;
use super::icon;
use super::list::bring_back;
use super::moment;
use super::page::{Shell, shell};
use super::refusal::Refusal;
use super::results;
use super::subject::{Card, base_of};
use super::{App, bench, work};
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use record::{BuildLine, Deleted, DeletedItem, Engine, EngineId, Owner, RecordError, VisitId};
use std::sync::Arc;
use workshop::form::{Next, StepState, StepStatus};

/// The way to the job card that was worked on last; the page of an engine without one.
pub(super) async fn show_engine(
    State(app): State<Arc<App>>,
    choices: Choices,
    Path(id): Path<i64>,
) -> Result<Response, Refusal> {
    work(move || {
        let engine = app.record.engine(EngineId(id))?;
        if let (Some(visit), None) = (engine.line.latest_visit, engine.line.deleted_ms) {
            return Ok(page(&app, choices, visit, &format!("/engine/{id}"))?.into_response());
        }
        let frame = Shell { title: &engine.line.name, here: None, base: None, class: "path" };
        let main = html! {
            (head(&engine, None))
            (builds(&app, &engine, None)?)
        };
        Ok(shell(choices, &frame, &main).into_response())
    })
    .await?
}

/// The path of one job card.
pub(super) async fn show_visit(
    State(app): State<Arc<App>>,
    choices: Choices,
    Path(id): Path<i64>,
) -> Result<Response, Refusal> {
    work(move || {
        let visit = VisitId(id);
        if app.record.visit(visit)?.engine.deleted_ms.is_some() {
            return Ok(Redirect::to("/#deleted").into_response());
        }
        Ok(page(&app, choices, visit, &base_of(visit))?.into_response())
    })
    .await?
}

fn page(app: &App, choices: Choices, visit: VisitId, here: &str) -> Result<Markup, RecordError> {
    let card = Card::open(app, visit)?;
    let engine = app.record.engine(card.place.engine.id)?;
    let path = workshop::form::path(&card.file_texts());
    let base = card.base();
    let frame = Shell { title: &engine.line.name, here: Some(here), base: Some(&base), class: "path" };
    Ok(shell(
        choices,
        &frame,
        &html! {
            (head(&engine, Some(&card)))
            @if let Some(next) = &path.next { (go_on(next, &base, path.readable)) }
            div.path-columns {
                section aria-labelledby="path-title" {
                    h2 #path-title { "The work in its order" }
                    ol.steps-path { @for step in &path.steps { (step_row(step, &base, path.readable)) } }
                }
                div.side {
                    (builds(app, &engine, Some(visit))?)
                    section.panel aria-labelledby="more-title" {
                        h2 #more-title { "Beside the work" }
                        p.actions {
                            a.button href={ (base) "/checks" } { "Bench checks" }
                            a.button href={ (base) "/find" } { "Find a fault" }
                            a.button href={ (base) "/normal" } { "What normal looks like" }
                            @if path.readable {
                                a.button href={ (base) "/procedures" } { "Ways of setting" }
                                a.button href={ (base) "/power" } { "Torque and power" }
                                a.button href={ (base) "/fit" } { "What was not measured" }
                            }
                            a.button href={ (base) "/care" } { "Care" }
                            a.button href={ (base) "/pictures" } { "Pictures" }
                            a.button href={ "/compare?engine=" (engine.line.id) } { "Compare" }
                        }
                    }
                    (bench::reminder(app, &card, choices.units)?)
                    (notes(&card))
                    (results::list(&app.record.results(visit)?))
                    (naming(&engine, &card))
                }
            }
        },
    ))
}

/// Free words about the visit.
fn notes(card: &Card) -> Markup {
    let text = card.text("notes");
    html! {
        section.panel aria-labelledby="notes-title" {
            h2 #notes-title { "Notes" }
            form.fields.notes method="post" action={ (card.base()) "/entries" } data-save={ (card.base()) "/field" } data-step="plain" {
                div.field data-field="notes" {
                    label for="notes" { "What the figures do not say; printed on the sheet" }
                    textarea #notes name="t:notes" rows="4" maxlength="4000" data-key="notes" data-saved=(text) { "\n" (text) }
                    input type="hidden" name="v:notes" value=[card.fields.get("notes").map(|field| field.version)];
                    div.note aria-live="polite" {}
                }
                button.button.no-script type="submit" { "Keep the notes" }
                p.saved.only-script #saved role="status" { "Saved as they are left." }
            }
        }
    }
}

fn head(engine: &Engine, card: Option<&Card>) -> Markup {
    html! {
        header.page-head {
            h1 { (engine.line.name) }
            @if engine.line.invented { p.invented { "Invented engine, invented figures" } }
            @if let Some(card) = card {
                p.muted { (card.place.build.name) ", " (card.place.visit.name) }
                @if card.place.visit.deleted_ms.is_some() || card.place.build.deleted_ms.is_some() {
                    p.caution { (icon::WARN) "This job card is deleted. What is entered is kept; bring it back below." }
                }
            }
            @if engine.line.deleted_ms.is_some() {
                p.caution { (icon::WARN) "This engine is deleted." }
                form method="post" action={ "/engine/" (engine.line.id) "/undelete" } {
                    button.button.strong type="submit" { "Bring it back" }
                }
            }
        }
    }
}

/// Where one stopped.
fn go_on(next: &Next, base: &str, readable: bool) -> Markup {
    html! {
        section.panel.headline.go-on aria-labelledby="next-title" {
            h2.eyebrow #next-title { "Go on here" }
            p.say { (next.step.title()) }
            p { (next.text) }
            p.actions {
                a.button.strong href=(address(next.step, next.key.as_deref(), base)) { "Go on" }
                @if readable { a.button href={ (base) "/setting" } { "See the setting" } }
            }
        }
    }
}

/// Address of a step, at one of its fields.
fn address(step: workshop::form::Step, key: Option<&str>, base: &str) -> String {
    use workshop::form::Step;
    match (step, key) {
        (Step::Setting, _) => format!("{base}/setting"),
        (Step::Seen, _) => format!("{base}/setting#steps"),
        (Step::Sheet, _) => format!("{base}/sheet"),
        (step, Some(key)) => format!("{base}/step/{}#{}", step.slug(), anchor(key)),
        (step, None) => format!("{base}/step/{}", step.slug()),
    }
}

fn step_row(step: &StepState, base: &str, readable: bool) -> Markup {
    let (class, word) = match step.status {
        StepStatus::Complete if step.missing > 0 => ("warn", "begun".to_owned()),
        StepStatus::Complete => ("good", "complete".to_owned()),
        StepStatus::Wrong => ("bad", format!("{} wrong", step.wrong)),
        StepStatus::Started => ("warn", format!("{} missing", step.missing)),
        StepStatus::Empty if step.missing > 0 => ("open", format!("{} needed", step.missing)),
        StepStatus::Empty => ("open", "empty".to_owned()),
    };
    let has_form = !step.step.sections().is_empty();
    // A step without entries is done at the engine: it is ready, or it waits.
    let word = match (has_form, readable) {
        (true, _) => word,
        (false, true) => "ready".to_owned(),
        (false, false) => "waits".to_owned(),
    };
    let open = has_form || readable;
    html! {
        li class={ "step-row " (class) } {
            @if open {
                a.step-link href=(address(step.step, None, base)) { (inside(step, &word, class)) }
            } @else {
                div.step-link { (inside(step, &word, class)) }
            }
        }
    }
}

fn inside(step: &StepState, word: &str, class: &str) -> Markup {
    html! {
        strong { (step.title) }
        span class={ "pill " (class) } { (word) }
        @if let Some(next) = &step.next { span.muted.small.step-next { (next.text) } }
    }
}

/// All builds with their job cards, and how more are made.
fn builds(app: &App, engine: &Engine, current: Option<VisitId>) -> Result<Markup, RecordError> {
    let gone = deleted_of(app, engine)?;
    Ok(html! {
        section.panel #builds aria-labelledby="builds-title" {
            h2 #builds-title { "Builds and job cards" }
            @for build in &engine.builds {
                div.build {
                    h3 { (build.name) }
                    ul.rows {
                        @for visit in &build.visits {
                            li {
                                a.row-link href=(base_of(visit.id)) aria-current=[(current == Some(visit.id)).then_some("page")] {
                                    strong { (visit.name) }
                                    span.muted.small { "last change " (moment::date(visit.changed_ms)) }
                                }
                            }
                        }
                    }
                    (new_visit(build))
                }
            }
            details.more {
                summary { "New build" }
                p { "After a change of cylinder, valve or gear: the last build's description is copied, to be changed where it changed." }
                form.one-line method="post" action={ "/engine/" (engine.line.id) "/build" } {
                    label for="new-build" { "Name of the build" }
                    input #new-build type="text" name="name" maxlength="80" autocomplete="off" placeholder="cylinder bored, new blade";
                    button.button type="submit" { "Make a new build" }
                }
            }
            @if !gone.is_empty() {
                h3 { "Deleted" }
                ul.rows { @for (address, deleted) in &gone { li { (bring_back(address, &deleted.name, deleted.deleted_ms)) } } }
            }
        }
    })
}

fn new_visit(build: &BuildLine) -> Markup {
    let id = format!("new-visit-{}", build.id);
    html! {
        details.more {
            summary { "New job card" }
            p { "For the next visit: readings are taken anew and compared with the last return values." }
            form.one-line method="post" action={ "/build/" (build.id) "/visit" } {
                label for=(id) { "Name of the job card" }
                input id=(id) type="text" name="name" maxlength="80" autocomplete="off" placeholder="spring service";
                button.button type="submit" { "Make a new job card" }
            }
        }
    }
}

/// Builds and job cards of this engine that can be brought back.
fn deleted_of(app: &App, engine: &Engine) -> Result<Vec<(String, Deleted)>, RecordError> {
    let mut gone = Vec::new();
    for deleted in app.record.deleted()? {
        let (of, address) = match deleted.item {
            DeletedItem::Owner(Owner::Build(id)) => (app.record.build(id)?.engine, format!("/build/{id}")),
            DeletedItem::Owner(Owner::Visit(id)) => (app.record.visit(id)?.engine.id, base_of(id)),
            _ => continue,
        };
        if of == engine.line.id {
            gone.push((address, deleted));
        }
    }
    Ok(gone)
}

/// Names, and the way to be rid of something.
fn naming(engine: &Engine, card: &Card) -> Markup {
    let rows = [
        ("engine", engine.line.id.0, "Engine", &engine.line.name),
        ("build", card.place.build.id.0, "Build", &card.place.build.name),
        ("visit", card.place.visit.id.0, "Job card", &card.place.visit.name),
    ];
    html! {
        details.panel.more {
            summary { h2 { "Names, deleting, file" } }
            @for (kind, id, word, name) in rows {
                div.naming {
                    form.one-line method="post" action={ "/" (kind) "/" (id) "/rename" } {
                        label for={ "name-" (kind) } { (word) }
                        input id={ "name-" (kind) } type="text" name="name" value=(name) maxlength="80" autocomplete="off";
                        button.button type="submit" aria-label={ "Rename the " (word.to_lowercase()) } { "Rename" }
                    }
                    form method="post" action={ "/" (kind) "/" (id) "/delete" } {
                        button.button.danger type="submit" { "Delete this " (word.to_lowercase()) }
                    }
                }
            }
            p.muted.small { "What is deleted can be brought back." }
            p.actions {
                a.button href={ (card.base()) "/file" } { (icon::DOWN) "Download the engine file" }
                a.button href={ (card.base()) "/edit" } { (icon::PEN) "Edit it as text" }
            }
        }
    }
}
