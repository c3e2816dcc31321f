//! Parts of the comparison that stand in the app and in the file of its own alike.

use super::super::moving::still;
use super::super::page::glued;
use maud::{Markup, html};
use workshop::procedure::{Leaf, LeafShare, LeafStep, LeafWay, Stated};

/// The valve's edge at the port's roof, way by way; folded unless `open`.
pub(super) fn edges(leaf: &Leaf, open: bool) -> Markup {
    html! {
        section.panel aria-labelledby="edges" {
            details.wide-open open[open] {
                summary { h2 #edges { "The valve's edge at the port's roof" } }
                p.muted.small { "The middle draw of each way, heights magnified, all alike. The band is what is accepted; the bar at the right holds nineteen draws of twenty." }
                div.edges {
                    @for way in &leaf.ways {
                        @if let Some(scene) = &way.edge {
                            figure.scene { figcaption { (way.name) } (still(scene)) }
                        }
                    }
                }
            }
        }
    }
}

/// What the figures of every way mean.
pub(super) fn reading(leaf: &Leaf) -> Markup {
    html! {
        section.panel aria-labelledby="reading" {
            details.wide-open open {
                summary { h2 #reading { "Each way by itself: how to read it" } }
                p { (glued(&leaf.reading)) }
                p { strong { "Checks. " } (glued(&leaf.checks_say)) }
                p { strong { "What drives the spread. " } (glued(&leaf.drivers_say)) }
            }
        }
    }
}

/// Who agrees with whom, as a table; folded unless `open`.
pub(super) fn agreement(leaf: &Leaf, open: bool) -> Markup {
    html! {
        @if leaf.ways.len() > 1 {
            section.panel aria-labelledby="agreement" {
                details.wide-open open[open] {
                summary { h2 #agreement { "Who agrees with whom" } }
                p { (glued(&leaf.close_says)) }
                div.sideways tabindex="0" role="region" aria-label="Table of agreement, scrolls sideways" {
                    table.agreement {
                        thead { tr { th { "Way" } @for way in &leaf.ways { th scope="col" { abbr title=(way.name) { (way.letter) } } } } }
                        tbody {
                            @for (way, row) in leaf.ways.iter().zip(&leaf.close) {
                                tr {
                                    th scope="row" { (way.letter) " " (way.name) }
                                    @for share in row { (close(share.as_ref())) }
                                }
                            }
                        }
                    }
                }
                }
            }
        }
    }
}

fn close(share: Option<&LeafShare>) -> Markup {
    html! {
        @match share {
            Some(share) if share.agrees => td.agrees { strong { (share.text) } },
            Some(share) => td { (share.text) },
            None => td {},
        }
    }
}

/// The steps of a way, each with the figures that are stated of hand and reading.
pub(super) fn steps(steps: &[LeafStep]) -> Markup {
    html! {
        ol {
            @for step in steps {
                li {
                    (glued(&step.say))
                    @if !step.stated.is_empty() { br; span.small.muted { "Stated: " (glued(&step.stated.join("; "))) } }
                }
            }
        }
    }
}

/// What drives the spread of a way's edge.
pub(super) fn drivers(way: &LeafWay) -> Markup {
    html! {
        @if !way.drivers.is_empty() {
            h3 { "What drives the spread of the edge at full travel" }
            ul.drivers {
                @for driver in &way.drivers {
                    li {
                        span { (driver.name) } " "
                        strong { "alone " (driver.alone) }
                        @if let Some(share) = &driver.with_others { ", with others " (share) }
                        div.cause-bar aria-hidden="true" { div class={ "share-" (format!("{:.0}", 100.0 * driver.share)) } {} }
                    }
                }
            }
        }
    }
}

/// Every demand on a way, and what a check of it would come to.
pub(super) fn demands(way: &LeafWay) -> Markup {
    html! {
        h3 { "Demand by demand, and what a check would come to" }
        div.sideways tabindex="0" role="region" aria-label={ "Demands on " (way.name) ", scrolls sideways" } {
            table.demands {
                thead { tr { th { "Demand" } th { "Holds in" } th { "So it is" } th { "Checked, it passes" } th { "fails" } th { "stays open" } th { "wrongly passed" } th { "not passed though right" } } }
                tbody {
                    @for one in &way.demands {
                        tr {
                            th scope="row" { (one.name) br; span.small.muted { (glued(&one.limit)) } }
                            td { (one.holds) }
                            td { strong { (one.verdict) } }
                            @match &one.check {
                                Some(shares) => @for share in shares { td { (share) } },
                                None => td colspan="5" { "no reading checks it" },
                            }
                        }
                    }
                }
            }
        }
        ul.small { @for one in way.demands.iter().filter(|one| one.notable) { li { strong { (one.name) ": " } (glued(&one.says)) } } }
    }
}

/// How each demand is checked after the work.
fn checks(leaf: &Leaf) -> Markup {
    html! {
        dl.sheet-facts {
            @for one in &leaf.checks {
                div {
                    dt { (one.name) span.small.muted { " (" (one.by) "; " (one.source) ")" } }
                    dd { "good to " (glued(&one.error)) ", accepted when " (glued(&one.accept)) }
                }
            }
        }
    }
}

/// What was demanded and assumed; folded unless `open`.
pub(super) fn stated(leaf: &Leaf, open: bool) -> Markup {
    html! {
        section.panel aria-labelledby="stated" {
            details.wide-open open[open] {
            summary { h2 #stated { "What was demanded and assumed" } }
            h3 { "A setting must meet" }
            (facts(&leaf.limits))
            h3 { "How a demand is checked after the work" }
            (checks(leaf))
            h3 { "Variation of parts, and the sheath" }
            (facts(&leaf.parts))
            @if !leaf.assumed.is_empty() {
                h3 { "Figures of the engine that were not measured" }
                (facts(&leaf.assumed))
            }
            @for note in &leaf.notes { p.small { (glued(note)) } }
            }
            p.small { strong { (leaf.basis) } }
        }
    }
}

fn facts(rows: &[Stated]) -> Markup {
    html! {
        dl.sheet-facts {
            @for row in rows {
                div {
                    dt { (row.what) @if !row.from.is_empty() { span.small.muted { " (" (row.from) ")" } } }
                    dd { (glued(&row.figure)) }
                }
            }
        }
    }
}
