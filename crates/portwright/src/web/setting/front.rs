//! The top of the page: which engine, what to do, what was found, what must be checked first.

use super::At;
use crate::web::edit;
use crate::web::form::anchor;
use crate::web::icon;
use crate::web::page::{capital, glued};
use engine::file::Question;
use maud::{Markup, html};
use workshop::form::Step;
use workshop::report::{Finding, Gate, GateState, Outcome, Report};

/// Name of the engine, and whether it is made up.
pub(super) fn head(report: &Report, places: &Markup) -> Markup {
    html! {
        header.page-head {
            h1 { (report.engine.name) }
            @if report.engine.invented {
                p.invented { "Invented engine, invented figures" }
            }
            @if let Some(note) = &report.engine.note { p.muted.note { (note) } }
            (places)
        }
    }
}

/// What to do, in one sentence, and what matters about it.
pub(super) fn answer(report: &Report, at: &At<'_>) -> Markup {
    let base = at.base;
    let (class, state) = outcome(report.outcome);
    html! {
        section #answer class={ "headline panel " (class) } aria-labelledby="answer-title" {
            h2.eyebrow #answer-title { "What to do" }
            p.say { (glued(&report.headline)) }
            p.matters { (glued(&report.matters)) }
            p.state { (state) }
            p.actions {
                a.button.strong href={ (base) "/sheet" } { (icon::PRINT) "Print sheet" }
                a.button href={ (base) "/sheet.pdf" } { (icon::DOWN) "PDF" }
                @if !at.kept { a.button href=(base) { (icon::PEN) "Change entries" } }
            }
            @if !at.kept {
                form.actions method="post" action={ (base) "/keep" } {
                    button.button type="submit" { "Keep this answer" }
                }
            }
        }
        @if !report.questions.is_empty() {
            section.panel.asks aria-labelledby="questions-title" {
                h2 #questions-title { "Questions first" }
                p { "These figures are odd. Mend them or say that they are right, then the steps are given." }
                ol {
                    @for question in &report.questions { li { (edit::question(question)) (ask(question, at)) } }
                }
            }
        }
        @for conflict in &report.conflicts {
            section.panel.conflict {
                h2 { (icon::WARN) "Demands in conflict" }
                p { strong { (conflict.between.join(" against ")) } }
                p { (conflict.by) }
                p { (conflict.change) }
            }
        }
    }
}

/// The two ways to answer a question: mend the figure in its form, or say that it is right.
fn ask(question: &Question, at: &At<'_>) -> Markup {
    let step = Step::of(&question.key).filter(|_| !at.kept);
    html! {
        @if let Some(step) = step {
            form.actions method="post" action={ (at.base) "/sure" } {
                input type="hidden" name="key" value=(question.key);
                a.button.strong href={ (at.base) "/step/" (step.slug()) "#" (anchor(&question.key)) } { (icon::PEN) "Mend it" }
                button.button type="submit" { "It was checked and is right" }
            }
        }
    }
}

fn outcome(outcome: Outcome) -> (&'static str, &'static str) {
    match outcome {
        Outcome::Ready => ("good", "A setting was found and the gates are passed."),
        Outcome::GateOpen => ("warn", "A setting was found. A gate is still to be checked before any start."),
        Outcome::GateStops => ("bad", "A gate forbids going on. Mend that first."),
        Outcome::Questions => ("warn", "Odd figures want an answer before the steps are given."),
        Outcome::ReadingMissing => {
            ("warn", "A reading is missing, so the steps say \u{201c}turn until\u{201d}.")
        }
        Outcome::Conflict => ("bad", "No setting meets every demand."),
    }
}

/// Faults named from the present state.
pub(super) fn findings(report: &Report) -> Markup {
    html! {
        @if !report.findings.is_empty() {
            section.findings aria-labelledby="findings-title" {
                h2 #findings-title { "What the present state shows" }
                ul.cards.two { @for finding in &report.findings { (self::finding(finding)) } }
            }
        }
    }
}

fn finding(finding: &Finding) -> Markup {
    html! {
        li class={ "panel finding " (if finding.serious { "bad" } else { "calm" }) } {
            h3 {
                @if finding.serious { (icon::WARN) }
                (finding.name)
                @if let Some(sure) = finding.probability { span.sure { (percent(sure)) " sure" } }
            }
            p { (glued(&finding.text)) }
            @if finding.serious { p.bad-word { "Do not run the engine like this." } }
        }
    }
}

/// A probability in per cent; never 0 or 100, which no measurement gives.
pub(super) fn percent(share: f64) -> String {
    match share {
        sure if sure > 0.995 => "over 99 %".to_owned(),
        sure if sure < 0.005 => "under 1 %".to_owned(),
        _ => format!("{:.0} %", share * 100.0),
    }
}

/// A fixed gap against the gap of this engine.
pub(super) fn gap_rule(report: &Report) -> Markup {
    html! {
        @if let Some(rule) = &report.gap_rule {
            section.panel.gap aria-labelledby="gap-title" {
                h2 #gap-title { "A fixed gap, and the gap of this engine" }
                dl.figures {
                    div { dt { "Gap as found" } dd { (rule.found.text) } }
                    div { dt { "Edge with it, above flush" } dd { (rule.edge_at_found.text) } }
                    div.key { dt { "Gap that brings it flush" } dd { (rule.target.text) } }
                }
                p { (glued(&rule.text)) }
            }
        }
    }
}

/// Gates before a first start.
pub(super) fn gates(report: &Report) -> Markup {
    html! {
        @if !report.gates.is_empty() {
            section.gates aria-labelledby="gates-title" {
                h2 #gates-title { "Before any first start" }
                ul.cards.many { @for gate in &report.gates { (self::gate(gate)) } }
            }
        }
    }
}

fn gate(gate: &Gate) -> Markup {
    let (class, sign, word) = match gate.state {
        GateState::Pass => ("good", icon::PASS, "passed"),
        GateState::Open => ("warn", icon::UNSURE, "open"),
        GateState::Stop => ("bad", icon::WARN, "stop"),
    };
    html! {
        li class={ "panel gate " (class) } {
            h3 { (gate.question) span class={ "pill " (class) } { (sign) (word) } }
            p { strong { (capital(&glued(&gate.answer))) ". " } span.muted { (glued(&gate.text)) } }
        }
    }
}
