//! The comparison as it is shown, in the app and as a file of its own.

use super::super::moving::still;
use super::super::page::glued;
use super::super::subject::Subject;
use super::super::{assets, icon};
use crate::procedures::USUAL_SEED;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use quantity::Units;
use workshop::procedure::{Comparison, Driver, Entry, Measure, Quantiles, Scope, Told, ToldProcedure};

/// Measures that everyone looks at first; the others stand folded.
const FIRST: [Measure; 4] =
    [Measure::EdgeAtFull, Measure::EdgeAtClosed, Measure::LostMotion, Measure::WireTension];

/// Statements that stand open: who does best, who over-travels, who strains the cable.
const FIRST_STATEMENTS: usize = 5;

/// The page in the app.
pub(super) fn page(subject: &Subject, comparison: &Comparison, units: Units, share: f64) -> Markup {
    let told = comparison.told(units);
    let base = &subject.base;
    let word = if comparison.scope == Scope::ThisEngine { "this" } else { "like" };
    html! {
        header.page-head {
            h1 { "Ways of setting, compared" }
            p.muted { a href=(base) { (subject.place.engine.name) ", " (subject.place.visit.name) } }
            p.lead { "Every way is carried out on many drawn gears: same engine, other hands and readings. Where the hills overlap, the quarrel is about nothing." }
        }
        form.panel.one-line method="get" action={ (base) "/procedures" } {
            label for="scope" { "Drawn engines" }
            select #scope name="scope" {
                option value="this" selected[word == "this"] { "this engine, as it was measured" }
                option value="like" selected[word == "like"] { "engines like it, not measured" }
            }
            button.button type="submit" { "Show" }
        }
        (statements(&told))
        (hills(comparison, units))
        section.moving.panel aria-labelledby="moving-title" data-drawing={ (base) "/procedures/drawing" } {
            div.title-row { h2 #moving-title { "The middle draw of each, moving" } p.muted.small { "To scale; move it with the slider" } }
            form.controls method="get" action={ (base) "/procedures" } {
                input type="hidden" name="scope" value=(word);
                div.slider {
                    label for="travel" { "Servo travel" }
                    output for="travel" data-decimals="0" data-unit=" %" { (format!("{:.0} %", 100.0 * share)) }
                    input type="range" id="travel" name="travel" min="0" max="100" step="1" value=(format!("{:.0}", 100.0 * share));
                    button.play type="button" data-play="travel" aria-pressed="false" title="Sweep the servo" {
                        (icon::PLAY) span.unseen { "Sweep the servo" }
                    }
                }
                button.button.no-script type="submit" { "Draw this travel" }
            }
            div.drawings { (gears(comparison, units, share)) }
        }
        (table(&told, comparison, units))
        @for (told, entry) in told.procedures.iter().zip(&comparison.entries) { (one(told, entry, units)) }
        (left_out(&told))
        (basis(&told))
        p.actions {
            a.button href={ (base) "/procedures.html?scope=" (word) } { (icon::DOWN) "Save as one page to show" }
            a.button.plain href={ (base) "/procedures.json?scope=" (word) } { "Figures as JSON" }
            a.button.plain href="/bench/own" { "Ways of your own" }
        }
    }
}

/// The same as one file that needs nothing else, for someone who never saw the program.
pub(crate) fn standing_document(
    engine: &str,
    invented: bool,
    comparison: &Comparison,
    units: Units,
) -> String {
    let told = comparison.told(units);
    let page = html! {
        (DOCTYPE)
        html lang="en-GB" data-theme="light" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (engine) " · ways of setting, compared" }
                style { (PreEscaped(assets::style())) }
            }
            body {
                main.procedures.bench {
                    header.page-head {
                        h1 { "Ways of setting the exhaust valve, compared" }
                        p { strong { (engine) } @if invented { ", an invented engine with invented figures" } }
                        p.lead {
                            "A two-stroke's exhaust valve must close fully at low speed and open level with the port's roof at \
                             full travel: lower costs power, higher puts the blade into the port's way and strains the cable. \
                             Each way of setting it was carried out, by computation, on " (told.draws) " drawn gears; what came \
                             of it is shown below. The band is what is accepted."
                        }
                    }
                    (statements(&told))
                    (hills(comparison, units))
                    div.drawings { (gears(comparison, units, 1.0)) }
                    (table(&told, comparison, units))
                    @for (told, entry) in told.procedures.iter().zip(&comparison.entries) { (one(told, entry, units)) }
                    (left_out(&told))
                    (basis(&told))
                }
            }
        }
    };
    page.into_string()
}

fn statements(told: &Told) -> Markup {
    html! {
        section.panel.headline aria-labelledby="in-short" {
            h2.eyebrow #in-short { "In short" }
            @let (first, rest) = told.statements.split_at(told.statements.len().min(FIRST_STATEMENTS));
            @for statement in first { p { (glued(statement)) } }
            @if !rest.is_empty() {
                details.more {
                    summary { "Who agrees with whom" }
                    @for statement in rest { p { (glued(statement)) } }
                }
            }
        }
    }
}

fn hills(comparison: &Comparison, units: Units) -> Markup {
    html! {
        section.panel aria-labelledby="hills" {
            h2 #hills { "Where the edge stands at full travel" }
            figure.scene { (still(&comparison.edge_scene(units))) }
        }
    }
}

/// The gear of each procedure's middle draw.
pub(super) fn gears(comparison: &Comparison, units: Units, share: f64) -> Markup {
    html! {
        p.told data-part="told" aria-live="polite" { "Servo at " (format!("{:.0}", 100.0 * share)) " % of its travel" }
        div.gears {
            @for entry in &comparison.entries {
                @if let Some(scene) = entry.median_scene_at(share, units) {
                    figure.scene data-part={ "gear-" (entry.key()) } {
                        figcaption { (entry.run.procedure().name) }
                        (still(&scene))
                    }
                }
            }
        }
    }
}

fn percent(share: f64) -> String {
    match 100.0 * share {
        p if p > 0.0 && p < 1.0 => "under 1 %".to_owned(),
        p if p < 100.0 && p > 99.0 => "over 99 %".to_owned(),
        p => format!("{p:.0} %"),
    }
}

fn shown(value: f64, measure: Measure, units: Units) -> String {
    quantity::show_value(value, measure.dimension(), units)
}

/// The middle and the range of nineteen draws in twenty.
fn range(quantiles: Option<Quantiles>, measure: Measure, units: Units) -> Markup {
    html! {
        @match quantiles {
            Some(q) => {
                strong { (glued(&shown(q.median, measure, units))) }
                br;
                span.small.muted { (glued(&shown(q.low, measure, units))) " to " (glued(&shown(q.high, measure, units))) }
            },
            None => span.muted { "no figure" },
        }
    }
}

fn table(told: &Told, comparison: &Comparison, units: Units) -> Markup {
    html! {
        section.panel aria-labelledby="figures" {
            h2 #figures { "Figures" }
            p.muted.small { "The middle draw, and below it the range that holds nineteen of twenty." }
            div.wide tabindex="0" role="region" aria-label="Table of all ways, scrolls sideways" {
                table {
                    thead { tr { th { "Way" } th { "Meets every demand" } @for measure in FIRST { th { (measure.name()) } } } }
                    tbody {
                        @for (told, entry) in told.procedures.iter().zip(&comparison.entries) {
                            tr {
                                th scope="row" { a href={ "#" (told.key) } { (told.name) } }
                                td { strong { (percent(told.all_demands)) } }
                                @for measure in FIRST { td { (range(entry.summary.quantiles(measure), measure, units)) } }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn one(told: &ToldProcedure, entry: &Entry, units: Units) -> Markup {
    html! {
        section.panel id=(told.key) aria-labelledby={ "way-" (told.key) } {
            h2 id={ "way-" (told.key) } { (told.name) }
            p.muted { (told.claim) }
            p { strong { (glued(&told.headline)) } }
            @for reason in &told.reasons { p { (glued(reason)) } }
            details.more {
                summary { "How it is done, what drives the spread, all figures" }
                ol { @for step in &told.steps { li { (glued(step)) } } }
                @if !told.drivers.is_empty() {
                    h3 { "What drives the spread of the edge at full travel" }
                    ul.drivers { @for driver in told.drivers.iter().take(6) { (driver_bar(driver)) } }
                }
                dl.sheet-facts {
                    @for measure in Measure::ALL {
                        div { dt { (measure.name()) } dd { (range(entry.summary.quantiles(measure), measure, units)) } }
                    }
                }
                p.muted.small { "The way: " (told.source) ". Draws on which a step could not be done: " (percent(told.failed)) "." }
            }
        }
    }
}

fn driver_bar(driver: &Driver) -> Markup {
    let share = (100.0 * driver.share).round().clamp(0.0, 100.0);
    html! {
        li {
            span { (driver.name) } " " strong { (percent(driver.share)) }
            div.cause-bar aria-hidden="true" { div class={ "share-" (format!("{share:.0}")) } {} }
        }
    }
}

fn left_out(told: &Told) -> Markup {
    html! {
        @if !told.left_out.is_empty() {
            section.panel aria-labelledby="left-out" {
                h2 #left-out { "Not carried out here" }
                ul { @for (name, why) in &told.left_out { li { strong { (name) } ": " (why) } } }
            }
        }
    }
}

fn basis(told: &Told) -> Markup {
    html! {
        p.muted.small {
            (told.draws) " draws of each way, seed " (USUAL_SEED) ". Static equilibrium with friction as a band; how far hands \
             pull and readings err are estimates that stand in the file of procedures and can be changed. The maker's manual \
             comes first."
        }
    }
}
