//! The comparison as it is shown, in the app and as a file of its own.

use super::super::icon;
use super::super::moving::still;
use super::super::page::glued;
use super::super::subject::Subject;
use super::leaf;
use crate::procedures::USUAL_SEED;
use maud::{Markup, html};
use quantity::Units;
use workshop::power::ToldTorque;
use workshop::procedure::{Comparison, Leaf, LeafFigure, LeafWay, Scope, Told, ToldProcedure};

/// Statements that stand open: who does best, who over-travels, who strains the cable.
const FIRST_STATEMENTS: usize = 5;

/// The page in the app.
pub(super) fn page(
    subject: &Subject,
    comparison: &Comparison,
    torque: Option<&ToldTorque>,
    units: Units,
    share: f64,
) -> Markup {
    let told = comparison.told(units);
    let all = comparison.leaf(&subject.kept.reading.engine, units, USUAL_SEED);
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
        (leaf::edges(&all, false))
        (table(&all, comparison))
        (super::torque::section(base, torque))
        (leaf::agreement(&all, false))
        (leaf::reading(&all))
        @for (told, way) in told.procedures.iter().zip(&all.ways) {
            (one(told, way, false))
        }
        (left_out(&told))
        (leaf::stated(&all, false))
        p.actions {
            a.button href={ (base) "/procedures.html?scope=" (word) } { (icon::DOWN) "Save as one page to show" }
            a.button.plain href={ (base) "/procedures.pdf?scope=" (word) } { "As PDF" }
            a.button.plain href={ (base) "/procedures.json?scope=" (word) } { "Figures as JSON" }
            a.button.plain href="/bench/own" { "Ways of your own" }
        }
    }
}

pub(super) fn statements(told: &Told) -> Markup {
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

pub(super) fn hills(comparison: &Comparison, units: Units) -> Markup {
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

/// The middle and the range of nineteen draws in twenty.
fn figure(figure: &LeafFigure) -> Markup {
    html! {
        strong { (glued(&figure.middle)) }
        @if !figure.range.is_empty() { br; span.small.muted { (glued(&figure.range)) } }
    }
}

pub(super) fn table(all: &Leaf, comparison: &Comparison) -> Markup {
    html! {
        section.panel aria-labelledby="figures" {
            h2 #figures { "Figures" }
            p.muted.small { "The middle draw, and below it the range that holds nineteen of twenty." }
            div.sideways tabindex="0" role="region" aria-label="Table of all ways, scrolls sideways" {
                table {
                    thead { tr { th { "Way" } th { "Meets every demand" } @for name in &all.columns { th { (name) } } } }
                    tbody {
                        @for (way, entry) in all.ways.iter().zip(&comparison.entries) {
                            tr {
                                th scope="row" { a href={ "#" (entry.key()) } { (way.name) } }
                                td { strong { (way.meets_all) } br; span.small.muted { (way.verdict) } }
                                @for one in &way.side_by_side { td { (figure(one)) } }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// One way by itself; folded unless `open`.
pub(super) fn one(told: &ToldProcedure, way: &LeafWay, open: bool) -> Markup {
    html! {
        section.panel id=(told.key) aria-labelledby={ "way-" (told.key) } {
            h2 id={ "way-" (told.key) } { (told.name) }
            p { strong { (glued(&told.headline)) } }
            details.more.wide-open open[open] {
                summary { "Why, how it is done, what a check would find, what drives the spread" }
                p.muted { (told.claim) }
                @for reason in &told.reasons { p { (glued(reason)) } }
                h3 { "How it is done" }
                (leaf::steps(&way.steps))
                (leaf::demands(way))
                (leaf::drivers(way))
                h3 { "All figures" }
                dl.sheet-facts { @for one in &way.measures { div { dt { (one.name) } dd { (figure(one)) } } } }
                p.muted.small { "The way: " (told.source) ". Draws on which a step could not be done: " (percent(told.failed)) "." }
            }
        }
    }
}

pub(super) fn left_out(told: &Told) -> Markup {
    html! {
        @if !told.left_out.is_empty() {
            section.panel aria-labelledby="left-out" {
                h2 #left-out { "Not carried out here" }
                ul { @for (name, why) in &told.left_out { li { strong { (name) } ": " (why) } } }
            }
        }
    }
}
