//! What the readings say.

use super::super::icon;
use super::super::moving::still;
use super::super::page::{capital, glued};
use engine::model::Engine;
use maud::{Markup, html};
use quantity::Units;
use workshop::fitting::{self, Entries, Fitted, Readings, Told, ToldEstimate};

/// The result, or what stands in its way.
pub(super) fn section(engine: &Engine, entries: &Entries, units: Units) -> Markup {
    let Some(readings) = &entries.readings else {
        return html! {
            section.panel #result aria-labelledby="result-title" {
                h2 #result-title { "What they say" }
                p.muted { "Tick what is sought and enter readings: the result stands here once they are whole." }
            }
        };
    };
    html! {
        section.panel.headline #result aria-labelledby="result-title" {
            h2 #result-title { "What they say" }
            @match fitting::fit(engine, readings) {
                Ok(fitted) => (found(engine, readings, &fitted, units)),
                Err(why) => p.caution { (icon::WARN) (capital(&why.to_string())) "." },
            }
        }
    }
}

fn found(engine: &Engine, readings: &Readings, fitted: &Fitted, units: Units) -> Markup {
    let told = fitted.told(readings, units);
    html! {
        ul.plain-list.found { @for one in &told.estimates { (estimate(one)) } }
        @for warning in &told.warnings { p.caution { (icon::WARN) (glued(warning)) } }
        h3 { "Do the readings agree with the gear?" }
        p { (glued(&told.agreement)) }
        div.drawings.two {
            @for scene in fitted.curve_scenes(engine, readings, units) {
                figure.scene {
                    (still(&scene))
                    figcaption { "Dots: what was read (rings: with another gap). Lines: what the gear says, the adjuster as found." }
                }
            }
            figure.scene {
                (still(&fitted.residual_scene(engine, readings)))
                figcaption { "How far each reading lies off, in its own uncertainty (dots rising, rings falling). Nineteen of twenty belong in the band, in no order." }
            }
        }
        (correlation(&told))
        (rows(&told))
        (enter(&told))
        p.actions { a.button.plain href="fit.json" { "Figures as JSON" } }
    }
}

fn estimate(one: &ToldEstimate) -> Markup {
    html! {
        li {
            p { (one.name) ": " strong.big { (glued(&one.found.text)) } }
            p.muted {
                @if let Some(before) = &one.before { "Engine file: " (glued(before)) ". " }
                (glued(&one.compared))
            }
        }
    }
}

/// How the unknowns hang together; only where there are several.
fn correlation(told: &Told) -> Markup {
    html! {
        @if told.estimates.len() > 1 {
            details.more {
                summary { "How they hang together" }
                p.small.muted { "Correlation: 0 when each is known by itself, near 1 or −1 when the readings mistake one for the other." }
                div.sideways tabindex="0" role="region" aria-label="Correlation of the unknowns, scrolls sideways" {
                    table {
                        thead { tr { th scope="col" { "Unknown" } @for one in &told.estimates { th scope="col" { (one.name) } } } }
                        tbody {
                            @for (one, row) in told.estimates.iter().zip(&told.correlation) {
                                tr { th scope="row" { (one.name) } @for value in row { td { (format!("{value:.2}").replace('-', "\u{2212}")) } } }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn rows(told: &Told) -> Markup {
    html! {
        details.more {
            summary { "Reading by reading" }
            div.sideways tabindex="0" role="region" aria-label="Readings against the gear, scrolls sideways" {
                table {
                    thead { tr { th scope="col" { "Servo" } th scope="col" { "Coming" } th scope="col" { "Gap" } th scope="col" { "Read" } th scope="col" { "The gear says" } th scope="col" { "Off" } } }
                    tbody {
                        @for row in &told.rows {
                            tr {
                                td { (glued(&row.servo)) } td { (row.way) }
                                td { @match &row.gap { Some(gap) => (glued(gap)), None => "as found" } }
                                td { (glued(&row.read)) } td { (glued(&row.says)) } td { (glued(&row.off)) }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn enter(told: &Told) -> Markup {
    html! {
        @if told.estimates.iter().any(|one| one.enter.is_some()) {
            h3 { "To enter into the engine's description" }
            p.muted.small { "Only what agrees with your own measurements, or corrects one that you have looked at again." }
            ul.plain-list { @for one in &told.estimates { @if let Some(line) = &one.enter { li { code { (line) } } } } }
        }
    }
}
