//! The pictures of a job card as a page, as files, and on the sheet.

use super::super::bench::CHECK_PART;
use super::super::choices::Choices;
use super::super::page::{Shell, shell};
use super::super::refusal::Refusal;
use super::super::{App, work};
use super::{photo, take};
use axum::extract::{Path, Query, State};
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use diagnosis::check::Checks;
use maud::{Markup, html};
use record::{PictureId, PictureLine, Record, RecordError, VisitId};
use serde::Deserialize;
use std::sync::Arc;
use workshop::form::Step;

/// Where one came from.
#[derive(Debug, Deserialize)]
pub(super) struct Asked {
    step: Option<String>,
    deleted: Option<i64>,
}

/// All pictures of a job card by step, and the form for one more.
pub(super) async fn show_pictures(
    State(app): State<Arc<App>>,
    choices: Choices,
    Path(id): Path<i64>,
    Query(asked): Query<Asked>,
) -> Result<Markup, Refusal> {
    work(move || {
        let place = app.record.visit(VisitId(id))?;
        let pictures = app.record.pictures(VisitId(id))?;
        let base = format!("/visit/{id}");
        let here = format!("{base}/pictures");
        let frame = Shell { title: "Pictures", here: Some(&here), base: Some(&base), class: "pictures" };
        let main = html! {
            header.page-head {
                h1 { "Pictures" }
                p.muted { a href=(base) { (place.engine.name) ", " (place.build.name) ", " (place.visit.name) } }
            }
            @if let Some(gone) = asked.deleted { (undo(gone)) }
            (new_picture(&here, asked.step.as_deref()))
            @if pictures.is_empty() { p.panel { "No pictures yet. A photo of the valve edge as found is worth most." } }
            @for (slug, title) in places() {
                @let of_step: Vec<&PictureLine> = pictures.iter().filter(|line| line.step == slug).collect();
                @if !of_step.is_empty() {
                    section.panel aria-labelledby={ "step-" (slug) } {
                        h2 id={ "step-" (slug) } { (title) }
                        ul.picture-list { @for line in of_step { (picture(line)) } }
                    }
                }
            }
        };
        Ok(shell(choices, &frame, &main))
    })
    .await?
}

/// What a picture can belong to: a step of the path, or a bench check.
fn places() -> Vec<(String, String)> {
    let steps = Step::ALL.into_iter().map(|step| (step.slug().to_owned(), step.title().to_owned()));
    let checks = &Checks::built_in().checks;
    let checks =
        checks.iter().map(|check| (format!("{CHECK_PART}{}", check.key), format!("Check: {}", check.title)));
    steps.chain(checks).collect()
}

/// Title of what a picture belongs to.
fn title_of(step: &str) -> String {
    places().into_iter().find(|(slug, _)| slug == step).map_or_else(String::new, |(_, title)| title)
}

fn undo(gone: i64) -> Markup {
    html! {
        form.panel.picture-undo method="post" action={ "/picture/" (gone) "/undelete" } {
            p role="status" { "The picture is deleted." }
            button.button type="submit" { "Bring it back" }
        }
    }
}

fn new_picture(here: &str, step: Option<&str>) -> Markup {
    let chosen = step.unwrap_or(Step::AsFound.slug());
    html! {
        form.panel.picture-new method="post" action=(here) enctype="multipart/form-data" aria-labelledby="new-picture" {
            h2 #new-picture { "Add a picture" }
            div.picture-field {
                label for="picture-photo" { "Photo" }
                input #picture-photo type="file" name="photo" accept="image/*" capture="environment" required
                    aria-describedby="picture-kinds";
                p.muted #picture-kinds {
                    "JPEG, PNG or WebP, at most 12 MB. It is shrunk to " (photo::LONGEST_SIDE) " pixels, and what the camera \
                     wrote into it (such as the place and time) is dropped."
                }
            }
            div.picture-field {
                label for="picture-step" { "Belongs to the step" }
                select #picture-step name="step" {
                    @for (slug, title) in places() { option value=(slug) selected[slug == chosen] { (title) } }
                }
            }
            div.picture-field {
                label for="picture-caption" { "What is seen on it" }
                input #picture-caption type="text" name="caption" maxlength=(take::LONGEST_CAPTION) autocomplete="off";
            }
            button.button.strong type="submit" { "Keep the picture" }
        }
    }
}

fn picture(line: &PictureLine) -> Markup {
    let (id, seen) = (line.id, spoken(line));
    html! {
        li id={ "picture-" (id) } {
            a href={ "/picture/" (id) } {
                img src={ "/picture/" (id) "/small" } alt=(seen) loading="lazy" decoding="async";
            }
            form.one-line method="post" action={ "/picture/" (id) "/caption" } {
                label for={ "caption-" (id) } { "What is seen on it" }
                input id={ "caption-" (id) } type="text" name="caption" value=(line.caption)
                    maxlength=(take::LONGEST_CAPTION) autocomplete="off";
                button.button type="submit" aria-label={ "Keep the text of: " (seen) } { "Keep the text" }
            }
            form.one-line method="post" action={ "/picture/" (id) "/sheet" } {
                @if !line.on_sheet { input type="hidden" name="on" value="yes"; }
                p { @if line.on_sheet { "Printed on the sheet." } @else { "Not on the sheet." } }
                button.button type="submit" aria-label={ (sheet_word(line)) ": " (seen) } { (sheet_word(line)) }
            }
            form method="post" action={ "/picture/" (id) "/delete" } {
                button.button.danger type="submit" aria-label={ "Delete: " (seen) } { "Delete" }
            }
        }
    }
}

fn sheet_word(line: &PictureLine) -> &'static str {
    if line.on_sheet { "Take off the sheet" } else { "Print on the sheet" }
}

/// What a screen reader says in place of the picture.
fn spoken(line: &PictureLine) -> String {
    if line.caption.is_empty() {
        format!("Picture {} of {}, without a text", line.id, title_of(&line.step))
    } else {
        line.caption.clone()
    }
}

/// What stands below a picture on paper.
pub(crate) fn caption(line: &PictureLine) -> String {
    let of = title_of(&line.step);
    if line.caption.is_empty() { of } else { format!("{of}: {}", line.caption) }
}

/// The leaf with the pictures that are printed on the sheet of a job card; nothing when there are none.
///
/// # Errors
/// Those of the record.
pub(crate) fn on_sheet(record: &Record, visit: VisitId) -> Result<Markup, RecordError> {
    let mut lines = record.pictures(visit)?;
    lines.retain(|line| line.on_sheet);
    Ok(html! {
        @if !lines.is_empty() {
            section.leaf {
                h2 { "Pictures" }
                div.sheet-photos {
                    @for line in &lines {
                        figure {
                            img src={ "/picture/" (line.id) } alt=(spoken(line)) width=(line.width) height=(line.height);
                            figcaption { (caption(line)) }
                        }
                    }
                }
            }
        }
    })
}

/// The picture itself.
pub(super) async fn whole(State(app): State<Arc<App>>, Path(id): Path<i64>) -> Result<Response, Refusal> {
    work(move || {
        let picture = app.record.picture(PictureId(id))?;
        Ok(sent(&picture.line.media_type, picture.bytes))
    })
    .await?
}

/// The picture in small, made when it is asked for; the browser keeps it.
pub(super) async fn small(State(app): State<Arc<App>>, Path(id): Path<i64>) -> Result<Response, Refusal> {
    work(move || {
        let picture = app.record.picture(PictureId(id))?;
        // One that came in by an import and cannot be unpacked is shown whole: the browser may know it.
        match photo::small(&picture.bytes) {
            Ok(bytes) => Ok(sent("image/jpeg", bytes)),
            Err(_) => Ok(sent(&picture.line.media_type, picture.bytes)),
        }
    })
    .await?
}

/// The bytes under a number never change. Only the three kinds of picture are ever named: nothing that could run.
fn sent(kind: &str, bytes: Vec<u8>) -> Response {
    let kind = match kind {
        "image/png" => "image/png",
        "image/webp" => "image/webp",
        _ => "image/jpeg",
    };
    ([(CONTENT_TYPE, kind), (CACHE_CONTROL, "private, max-age=31536000, immutable")], bytes).into_response()
}
