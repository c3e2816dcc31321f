//! The set-up sheet as a page that prints, and as PDF.

use super::choices::Choices;
use super::icon;
use super::page::{Shell, capital, glued, shell};
use super::refusal::Refusal;
use super::subject::Subject;
use super::take::{download, file_stem};
use super::{App, assets, work};
use super::{pictures, results};
use crate::paper;
use axum::extract::State;
use axum::response::Response;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use sheet::{Annex, Drawing, Place};
use std::sync::Arc;
use workshop::Answer;
use workshop::report::{ErrorBand, Report, Row, Step};

/// The sheet within the app.
pub(super) async fn show_sheet(
    State(app): State<Arc<App>>,
    choices: Choices,
    subject: Subject,
) -> Result<Markup, Refusal> {
    work(move || {
        let answer = subject.kept.answer(choices.units);
        let base = &subject.base;
        let here = format!("{base}/sheet");
        let frame = Shell { title: "Set-up sheet", here: Some(&here), base: Some(base), class: "on-paper" };
        // What is printed is kept, with the inputs that made it.
        let keep = subject.result.is_none().then(|| format!("{base}/keep"));
        let main = html! {
            p.actions.sheet-actions {
                button.button.strong.only-script type="button" data-print data-keep=[keep] { (icon::PRINT) "Print" }
                a.button href={ (base) "/sheet.pdf" } { (icon::DOWN) "PDF" }
                a.button.plain href={ (base) "/setting" } { "Back to the setting" }
            }
            (results::banner(&subject))
            (sheet(&answer, &paper::today(), &html! {
                (annexed(&paper::annex(&app.record, subject.place.visit.id, choices.units)?))
                (pictures::on_sheet(&app.record, subject.place.visit.id)?)
            }))
        };
        Ok(shell(choices, &frame, &main))
    })
    .await?
}

/// The sheet as PDF. It is a printed sheet: its result is kept.
pub(super) async fn sheet_pdf(
    State(app): State<Arc<App>>,
    choices: Choices,
    subject: Subject,
) -> Result<Response, Refusal> {
    work(move || {
        let name = format!("{}-sheet.pdf", file_stem(&subject.kept.reading.engine.name));
        let answer = subject.kept.answer(choices.units);
        let annex = paper::annex(&app.record, subject.place.visit.id, choices.units)?;
        let bytes = paper::pdf(&answer, paper::today(), annex).map_err(Refusal::not_made)?;
        if subject.result.is_none() {
            results::keep(&app, &subject, choices.units)?;
        }
        Ok(download("application/pdf", &name, bytes))
    })
    .await?
}

/// The sheet as a document of its own, with its style inside: for a file.
pub(crate) fn standing_document(answer: &Answer, date: &str) -> String {
    let page = html! {
        (DOCTYPE)
        html lang="en-GB" data-theme="light" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (answer.report.engine.name) " · set-up sheet" }
                style { (PreEscaped(assets::standing_style())) }
            }
            body { main.on-paper { (sheet(answer, date, &html! {})) } }
        }
    };
    page.into_string()
}

/// `more` are leaves that follow.
fn sheet(answer: &Answer, date: &str, more: &Markup) -> Markup {
    let report = &answer.report;
    let drawings = paper::drawings(answer);
    html! {
        article.sheet {
            section.leaf {
                (head(report, date))
                (ends(report, &drawings))
                (gates(report))
                (steps(&report.steps, &drawings))
            }
            section.leaf {
                (returns(report))
                (row_of_drawings(&drawings))
                h2 { "Measurements" }
                (rows(&report.engine.measurements))
                @if !report.as_found.is_empty() {
                    h2 { "As found" }
                    (rows(&report.as_found))
                }
                (assumptions(report))
                (cautions(report))
                (signature())
            }
            (more)
        }
    }
}

/// Bench checks and notes of the job card.
fn annexed(annex: &Annex) -> Markup {
    html! {
        @if !annex.checks.is_empty() || !annex.notes.trim().is_empty() {
            section.leaf {
                @if !annex.checks.is_empty() {
                    h2 { "Bench checks" }
                    table.stacked {
                        thead { tr { th { "Check" } th { "Read" } th { "It says" } th { "Verdict" } } }
                        tbody {
                            @for check in &annex.checks {
                                tr { th scope="row" { (check.title) } td data-head="Read" { (glued(&check.read)) } td data-head="It says" { (check.says) } td data-head="Verdict" { strong { (check.verdict) } } }
                            }
                        }
                    }
                }
                @if !annex.notes.trim().is_empty() {
                    h2 { "Notes" }
                    @for line in annex.notes.lines() { p { (line) } }
                }
            }
        }
    }
}

fn head(report: &Report, date: &str) -> Markup {
    html! {
        header.sheet-head {
            div {
                p.sheet-kind { "Set-up sheet" }
                h1 { (report.engine.name) }
                @if report.engine.invented { p.sheet-note { "Invented engine, invented figures." } }
                @if let Some(note) = &report.engine.note { p.sheet-note { (note) } }
            }
            p.sheet-date { "Printed " (date) }
        }
        div.sheet-say {
            p.sheet-headline { (glued(&report.headline)) }
            p { (glued(&report.matters)) }
            @for question in &report.questions {
                p { strong { "Question: " } (question.text) " " (question.likely) }
            }
            @for conflict in &report.conflicts {
                p { strong { "Conflict: " (conflict.between.join(" against ")) ". " } (conflict.by) " " (conflict.change) }
            }
        }
    }
}

fn ends(report: &Report, drawings: &[Drawing]) -> Markup {
    html! {
        @if !report.ends.is_empty() {
            div.sheet-ends {
                @for drawing in drawings.iter().filter(|drawing| drawing.place == Place::Ends) { (picture(drawing)) }
                table.stacked {
                    thead { tr { th { "Edge" } th { "As found" } th { "Proposed" } th { "Accepted" } } }
                    tbody {
                        @for end in report.ends.iter().rev() {
                            tr {
                                th scope="row" { (capital(&end.end)) }
                                td data-head="As found" { (band(end.found.as_ref())) }
                                td data-head="Proposed" { (band(end.proposed.as_ref())) }
                                td data-head="Accepted" { (end.accept) }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn band(band: Option<&ErrorBand>) -> Markup {
    html! {
        @if let Some(band) = band { (glued(&band.height.text)) br; (glued(&band.crank.text)) br; strong { (band.verdict) } }
        @else { "not known" }
    }
}

fn gates(report: &Report) -> Markup {
    html! {
        @if !report.gates.is_empty() {
            h2 { "Before any first start" }
            ul.sheet-gates {
                @for gate in &report.gates {
                    li { span.box {} div { strong { (gate.question) } br; (glued(&gate.answer)) ". " (gate.text) } }
                }
            }
        }
    }
}

fn steps(steps: &[Step], drawings: &[Drawing]) -> Markup {
    html! {
        @if !steps.is_empty() {
            h2 { "Steps" }
            table.ticks.steps-table {
                thead { tr { th.tick { "Done" } th { "What to do" } th { "What must be seen" } th { "As read" } } }
                tbody { @for (index, step) in steps.iter().enumerate() { (step_row(index, step, drawings)) } }
            }
        }
    }
}

fn step_row(index: usize, step: &Step, drawings: &[Drawing]) -> Markup {
    html! {
        tr {
            td.tick { span.box {} }
            td {
                @for drawing in drawings.iter().filter(|drawing| drawing.place == Place::Turn(index)) { (picture(drawing)) }
                strong { (index + 1) ". " (step.title) } br;
                (glued(&step.action))
                @if let Some(turn) = step.turn.as_ref().filter(|turn| turn.text != step.action) { p { strong { (turn.text) } } }
                @for caution in &step.cautions { p.sheet-caution { (caution) } }
            }
            td {
                @for seen in &step.see {
                    p {
                        (seen.what)
                        @match &seen.figure {
                            Some(figure) => { ": " strong { (glued(&figure.text)) } },
                            None => { ": " (seen.how) },
                        }
                    }
                }
            }
            td.write {}
        }
    }
}

fn returns(report: &Report) -> Markup {
    html! {
        @if !report.returns.is_empty() {
            h2 { "Return values" }
            table.returns {
                thead { tr { th { "Reading" } th { "Must be" } th { "As set" } } }
                tbody {
                    @for value in &report.returns {
                        tr { th scope="row" { (value.name) } td { (glued(&value.figure.text)) } td.write {} }
                    }
                }
            }
        }
    }
}

fn row_of_drawings(drawings: &[Drawing]) -> Markup {
    html! {
        div.sheet-row {
            @for drawing in drawings.iter().filter(|drawing| drawing.place == Place::Row) {
                figure { (picture(drawing)) figcaption { (drawing.caption) } }
            }
        }
    }
}

fn picture(drawing: &Drawing) -> Markup {
    html! { div.sheet-picture { (PreEscaped(drawing.svg.as_str())) } }
}

fn rows(rows: &[Row]) -> Markup {
    html! {
        dl.sheet-facts { @for row in rows { div { dt { (capital(&row.label)) } dd { (glued(&row.value)) } } } }
    }
}

fn assumptions(report: &Report) -> Markup {
    html! {
        @if !report.assumptions.is_empty() || !report.model_notes.is_empty() {
            h2 { "Assumed" }
            ul.sheet-cautions {
                @for assumption in &report.assumptions { li { (assumption.key) ": " (assumption.text) } }
                @for note in &report.model_notes { li { (note) } }
            }
        }
    }
}

fn cautions(report: &Report) -> Markup {
    html! {
        @if !report.cautions.is_empty() {
            h2 { "Cautions" }
            ul.sheet-cautions { @for caution in &report.cautions { li { strong { (caution.title) ". " } (caution.text) } } }
        }
    }
}

fn signature() -> Markup {
    html! {
        dl.signature {
            div { dt { "Set by" } dd {} }
            div { dt { "Date" } dd {} }
            div { dt { "Checked by" } dd {} }
        }
    }
}
