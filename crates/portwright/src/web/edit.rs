//! The engine file as text with line numbers, and its errors beside their lines.

use super::App;
use super::choices::Choices;
use super::icon;
use super::page::{Shell, shell};
use super::refusal::Refusal;
use axum::extract::{Path, State};
use engine::file::{Problem, Question};
use maud::{Markup, PreEscaped, html};
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
    /// Name of the engine, when it could be read.
    pub(super) name: Option<&'a str>,
    /// Its id, when it is kept.
    pub(super) id: Option<&'a str>,
}

/// The editor for an engine that is kept.
pub(super) async fn show_editor(
    State(app): State<Arc<App>>,
    choices: Choices,
    Path(id): Path<String>,
) -> Result<Markup, Refusal> {
    let kept = app.find(&id)?;
    let name = kept.reading.engine.name.clone();
    let draft = Draft { text: &kept.text, problems: &[], name: Some(&name), id: Some(&kept.id) };
    Ok(page_with(choices, &draft, &kept.reading.questions))
}

/// The editor with the problems of a text that could not be read.
pub(super) fn page(choices: Choices, draft: &Draft<'_>) -> Markup {
    page_with(choices, draft, &[])
}

fn page_with(choices: Choices, draft: &Draft<'_>, questions: &[Question]) -> Markup {
    let here = draft.id.map(|id| format!("/engine/{id}/edit"));
    let title = if draft.problems.is_empty() { "Engine file" } else { "Engine file with errors" };
    shell(
        choices,
        &Shell { title, here: here.as_deref(), engine: draft.id, class: "editing" },
        &html! {
            header.page-head {
                p.eyebrow { "Engine file" }
                @match draft.name {
                    Some(name) => h1 { (name) },
                    None => h1 { (count(draft.problems.len())) },
                }
                p.lead {
                    @if draft.problems.is_empty() {
                        "Change the figures and work the setting out again. The text as it stands is kept under its own address."
                    } @else {
                        "Nothing is lost: the text is below as it came. Mend the lines named here and send it again."
                    }
                }
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
    html! {
        form.editor method="post" action="/engine" enctype="multipart/form-data" {
            label.unseen for="text" { "Engine file, one line a row" }
            div.lines {
                pre.gutter aria-hidden="true" { (gutter(rows, draft.problems)) }
                textarea #text name="text" rows=(rows) spellcheck="false" autocapitalize="off" autocomplete="off" wrap="off" {
                    // A first line break is swallowed by browsers: this one is for them.
                    "\n" (draft.text)
                }
            }
            div.actions.stay {
                button.button.strong type="submit" { "Work out the setting" }
                @if let Some(id) = draft.id { a.button href={ "/engine/" (id) } { "Back, change nothing" } }
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
            button.button.strong type="submit" { "Work out its setting" }
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
