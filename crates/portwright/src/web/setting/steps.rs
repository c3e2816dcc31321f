//! The steps, one card each.

use super::ticks::Ticks;
use crate::web::icon;
use crate::web::moving::still;
use crate::web::page::glued;
use maud::{Markup, html};
use workshop::Answer;
use workshop::report::{Seen, Step, Turn};

/// All steps in their order.
pub(super) fn section(answer: &Answer, ticks: &Ticks) -> Markup {
    let steps = &answer.report.steps;
    html! {
        @if !steps.is_empty() {
            section.steps #steps aria-labelledby="steps-title" {
                h2 #steps-title { "Steps" }
                (cautions_first(answer))
                (ticks.form())
                ol.step-cards {
                    @for (index, step) in steps.iter().enumerate() { (card(answer, index, step, ticks)) }
                }
            }
        }
    }
}

/// The cautions by name, where the work begins; in full further down.
fn cautions_first(answer: &Answer) -> Markup {
    let titles: Vec<&str> = answer.report.cautions.iter().map(|caution| caution.title.as_str()).collect();
    html! {
        @if !titles.is_empty() {
            p.caution.first { (icon::WARN) span { a href="#cautions" { "Read the cautions first" } ": " (titles.join(", ")) "." } }
        }
    }
}

fn card(answer: &Answer, index: usize, step: &Step, ticks: &Ticks) -> Markup {
    html! {
        li.panel.step class=[step.turn.as_ref().map(|_| "turning")] {
            h3 { span.number { (index + 1) } (step.title) }
            p { (glued(&step.action)) }
            @if let Some(turn) = &step.turn {
                div.turn {
                    @if let Some(scene) = answer.turn_scene(index) { div.turn-picture { (still(&scene)) } }
                    (turn_figures(turn, step))
                }
            }
            @if !step.see.is_empty() {
                ul.see { @for seen in &step.see { (self::seen(seen)) } }
            }
            @for caution in &step.cautions { p.caution { (icon::WARN) span { (caution) } } }
            (ticks.tick(step))
        }
    }
}

fn turn_figures(turn: &Turn, step: &Step) -> Markup {
    html! {
        div.turn-text {
            p { span class={ "cable " (turn.cable) } { (turn.cable) " cable" } }
            p.turn-size { (glued(&turn.turns.text)) }
            p { strong { (turn.direction) } ", " (turn.effect) }
            @if turn.text != step.action { p { (turn.text) } }
        }
    }
}

fn seen(seen: &Seen) -> Markup {
    html! {
        li {
            span.eye aria-hidden="true" {}
            div {
                p { strong { (seen.what) } @if let Some(figure) = &seen.figure { " " span.must { (glued(&figure.text)) } } }
                p.muted { (seen.how) }
            }
        }
    }
}
