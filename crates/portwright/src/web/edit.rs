//! The engine file as text with line numbers, and its errors beside their lines.

use super::choices::Choices;
use super::form::save;
use super::icon;
use super::page::{Shell, shell};
use super::refusal::Refusal;
use super::subject::Card;
use super::{App, work};
use axum::extract::rejection::FormRejection;
use axum::extract::{Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use engine::file::fields::{compose, fields_of};
use engine::file::{Problem, Question};
use maud::{Markup, PreEscaped, html};
use record::VisitId;
use serde::Deserialize;
use sha2::{Digest, Sha256};
use std::collections::BTreeSet;
use std::fmt::Write;
use std::sync::Arc;

/// Longest text that is put into an editing field; beyond it the file is no engine file anyway.
const LONGEST_SHOWN: usize = 200_000;

/// A text being written.
pub(super) struct Draft<'a> {
    /// The text as it stands.
    pub(super) text: &'a str,
    /// What is wrong with it.
    pub(super) problems: &'a [Problem],
    /// What else must be said first.
    pub(super) notice: Option<&'a str>,
    /// It can be taken as it is, to be mended in the forms.
    pub(super) can_be_kept: bool,
    /// The job card it is the text of; none for a file that came in.
    pub(super) of: Option<Of<'a>>,
}

/// The job card of a text.
pub(super) struct Of<'a> {
    /// Address of its pages.
    pub(super) base: &'a str,
    /// Name of the engine.
    pub(super) name: &'a str,
    /// Marks the text that the record held when writing began.
    pub(super) seen: &'a str,
}

/// The editor for a job card.
pub(super) async fn show_editor(
    State(app): State<Arc<App>>,
    choices: Choices,
    Path(id): Path<i64>,
) -> Result<Markup, Refusal> {
    work(move || {
        let card = Card::open(&app, VisitId(id))?;
        let texts = card.file_texts();
        let (base, name, text) = (card.base(), card.place.engine.name.clone(), compose(&texts).toml);
        let of = Of { base: &base, name: &name, seen: &mark(&text) };
        let draft = Draft { text: &text, problems: &[], notice: None, can_be_kept: false, of: Some(of) };
        let questions =
            app.shelf.fields(&texts).map_or_else(|_| Vec::new(), |kept| kept.reading.questions.clone());
        Ok(page_with(choices, &draft, &questions))
    })
    .await?
}

/// The editor with the problems of a text that could not be read.
pub(super) fn page(choices: Choices, draft: &Draft<'_>) -> Markup {
    page_with(choices, draft, &[])
}

/// Tells one text from another.
fn mark(text: &str) -> String {
    Sha256::digest(text).iter().take(8).fold(String::new(), |mark, byte| mark + &format!("{byte:02x}"))
}

/// What the editor sends.
#[derive(Deserialize)]
pub(super) struct Written {
    text: String,
    seen: String,
}

/// Takes the text of a job card apart and saves what changed.
pub(super) async fn save_text(
    State(app): State<Arc<App>>,
    choices: Choices,
    Path(id): Path<i64>,
    form: Result<Form<Written>, FormRejection>,
) -> Result<Response, Refusal> {
    let Form(written) = form.map_err(|error| Refusal::bad_form(&error.body_text()))?;
    work(move || {
        let card = Card::open(&app, VisitId(id))?;
        let text = written.text.replace("\r\n", "\n");
        let (base, name, there) =
            (card.base(), card.place.engine.name.clone(), compose(&card.file_texts()).toml);
        let seen = mark(&there);
        let back = |problems: &[Problem], notice: Option<&str>| {
            let of = Of { base: &base, name: &name, seen: &seen };
            let draft = Draft { text: &text, problems, notice, can_be_kept: false, of: Some(of) };
            let status =
                if notice.is_some() { StatusCode::CONFLICT } else { StatusCode::UNPROCESSABLE_ENTITY };
            Ok((status, page(choices, &draft)).into_response())
        };
        let fields = match fields_of(&text) {
            Ok(fields) => fields,
            Err(problems) => return back(&problems, None),
        };
        if written.seen != seen {
            return back(&[], Some(CHANGED));
        }
        save::replace(&app, &card, &fields)?;
        Ok(Redirect::to(&base).into_response())
    })
    .await?
}

const CHANGED: &str = "The entries were changed elsewhere since this text was opened, so it was not saved yet. Saving it \
                       now puts this text in place of theirs; every earlier entry stays in the record.";

fn page_with(choices: Choices, draft: &Draft<'_>, questions: &[Question]) -> Markup {
    let base = draft.of.as_ref().map(|of| of.base);
    let here = base.map(|base| format!("{base}/edit"));
    let title = if draft.problems.is_empty() { "Engine file" } else { "Engine file with errors" };
    shell(
        choices,
        &Shell { title, here: here.as_deref(), base, class: "editing" },
        &html! {
            header.page-head {
                p.eyebrow { "Engine file" }
                @match &draft.of {
                    Some(of) => h1 { (of.name) },
                    None => h1 { (count(draft.problems.len())) },
                }
                p.lead {
                    @if draft.problems.is_empty() {
                        "All entries of this engine and job card as one text. Comments are not kept."
                    } @else {
                        "Nothing is lost: the text is below as it came. Mend the lines named here and send it again."
                    }
                }
                @if let Some(notice) = draft.notice { p.caution role="alert" { (icon::WARN) (notice) } }
            }
            div.workbench {
                @if !draft.problems.is_empty() { (problem_list(draft)) }
                @if !questions.is_empty() { (question_list(questions)) }
                @if draft.text.len() <= LONGEST_SHOWN { (form(draft)) } @else { (again()) }
            }
        },
    )
}

fn count(problems: usize) -> String {
    if problems == 1 { "One thing to mend".to_owned() } else { format!("{problems} things to mend") }
}

fn problem_list(draft: &Draft<'_>) -> Markup {
    let lines: Vec<&str> = draft.text.lines().collect();
    html! {
        section.problems aria-labelledby="problems-title" {
            h2 #problems-title { "What to mend" }
            ol {
                @for problem in draft.problems {
                    li.problem.panel {
                        p.place {
                            @if let Some(line) = problem.line {
                                a.line-link href="#text" data-line=(line) { "Line " (line) }
                            } @else { span.line-link { "File" } }
                            @if !problem.key.is_empty() { code { (problem.key) } }
                        }
                        p { (problem.message) }
                        @if let Some(text) = problem.line.and_then(|line| lines.get(line.checked_sub(1)?)) {
                            pre.excerpt { (excerpt(text)) }
                        }
                    }
                }
            }
        }
    }
}

fn question_list(questions: &[Question]) -> Markup {
    html! {
        section.problems aria-labelledby="questions-title" {
            h2 #questions-title { "Questions to answer" }
            ol {
                @for question in questions {
                    li.problem.panel { (self::question(question)) }
                }
            }
        }
    }
}

/// One question, as the editor and the answer page show it.
pub(super) fn question(question: &Question) -> Markup {
    html! {
        p.place {
            @if let Some(line) = question.line { a.line-link href="#text" data-line=(line) { "Line " (line) } }
            code { (question.key) }
        }
        p { (question.text) }
        p { strong { "Likely: " } (question.likely) }
        p.muted { (question.confirm) }
    }
}

/// A line of noise can be a megabyte long.
fn excerpt(line: &str) -> String {
    let shown: String = line.chars().take(160).collect();
    if shown.len() < line.len() { format!("{shown} …") } else { shown }
}

fn form(draft: &Draft<'_>) -> Markup {
    let rows = draft.text.lines().count().max(12) + 1;
    let action = draft.of.as_ref().map_or_else(|| "/engine".to_owned(), |of| format!("{}/edit", of.base));
    // A file comes back the way it came in; the fields of a job card need no parts.
    let parts = draft.of.is_none().then_some("multipart/form-data");
    html! {
        form.editor method="post" action=(action) enctype=[parts] {
            @if let Some(of) = &draft.of { input type="hidden" name="seen" value=(of.seen); }
            label.unseen for="text" { "Engine file, one line a row" }
            div.lines {
                pre.gutter aria-hidden="true" { (gutter(rows, draft.problems)) }
                textarea #text name="text" rows=(rows) spellcheck="false" autocapitalize="off" autocomplete="off" wrap="off" {
                    // A first line break is swallowed by browsers: this one is for them.
                    "\n" (draft.text)
                }
            }
            div.actions.stay {
                @match &draft.of {
                    Some(of) => {
                        button.button.strong type="submit" { "Save this text" }
                        a.button href=(of.base) { "Back, change nothing" }
                    },
                    None => button.button.strong type="submit" { "Add this engine" },
                }
                @if draft.can_be_kept {
                    button.button type="submit" name="anyway" value="yes" { "Add it as it is and mend it in the forms" }
                }
                a.button.plain href="/help" { (icon::FILE) "What the keys mean" }
            }
        }
    }
}

fn again() -> Markup {
    html! {
        section.panel { p { "The text is too long to be shown here. Choose another file." } (chooser()) }
    }
}

/// A field for another engine file; files may also be dropped anywhere on the page.
pub(super) fn chooser() -> Markup {
    html! {
        form.chooser method="post" action="/engine" enctype="multipart/form-data" {
            label.drop {
                (icon::FILE)
                span { strong { "Choose an engine file" } span.muted.only-script { " or drop it on this page" } }
                input type="file" name="file" accept=".toml,text/plain,application/toml" required;
            }
            button.button.strong type="submit" { "Add this engine" }
        }
    }
}

fn gutter(rows: usize, problems: &[Problem]) -> PreEscaped<String> {
    let bad: BTreeSet<usize> = problems.iter().filter_map(|problem| problem.line).collect();
    let mut numbers = String::new();
    for row in 1..=rows {
        // Writing to a string cannot fail.
        let _ =
            if bad.contains(&row) { writeln!(numbers, "<b>{row}</b>") } else { writeln!(numbers, "{row}") };
    }
    PreEscaped(numbers)
}
