//! What the answer stands on: port timing, measurements, assumptions; and the cautions.

use crate::web::icon;
use crate::web::page::{capital, glued};
use maud::{Markup, html};
use workshop::report::{Report, Row};

/// Port timing by valve position.
pub(super) fn ports(report: &Report) -> Markup {
    let columns = &report.ports.columns;
    html! {
        @if !report.ports.rows.is_empty() {
            section.panel #ports aria-labelledby="ports-title" {
                details.wide-open {
                summary { h2 #ports-title { "Port timing and areas" } }
                table.wide {
                    thead {
                        tr {
                            @for column in columns {
                                // An empty corner heads nothing.
                                @if column.is_empty() { td {} } @else { th scope="col" { (column) } }
                            }
                        }
                    }
                    tbody {
                        @for row in &report.ports.rows {
                            tr {
                                @for (index, cell) in row.iter().enumerate() {
                                    @if index == 0 { th scope="row" { (cell) } }
                                    @else { td data-label=(columns.get(index).map_or("", String::as_str)) { (cell) } }
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

/// The measurements as they were written, and the state as it was found.
pub(super) fn measurements(report: &Report) -> Markup {
    html! {
        section.panel aria-labelledby="measured-title" {
            details.wide-open {
                summary { h2 #measured-title { "Measurements" } }
                div.newspaper { (rows(&report.engine.measurements)) }
                @if !report.as_found.is_empty() {
                    h3 { "As found, before anything was touched" }
                    div.newspaper { (rows(&report.as_found)) }
                }
            }
        }
    }
}

fn rows(rows: &[Row]) -> Markup {
    html! {
        dl.facts {
            @for row in rows {
                div { dt { (capital(&row.label)) } dd { (glued(&row.value)) @if !row.from.is_empty() { span.from { (row.from) } } } }
            }
        }
    }
}

/// Stated defaults, and what the computation takes for granted.
pub(super) fn assumptions(report: &Report) -> Markup {
    html! {
        section.panel aria-labelledby="assumed-title" {
            details.wide-open {
                summary { h2 #assumed-title { "Assumed" } }
                @if !report.assumptions.is_empty() {
                    p { "Figures that were not given stand at these values. Measuring them would buy what is said beside." }
                    ul.plain-list {
                        @for assumption in &report.assumptions {
                            li { p { code { (assumption.key) } " " (assumption.text) } p.muted { "What giving it buys: " (assumption.cost) } }
                        }
                    }
                }
                @if !report.model_notes.is_empty() {
                    h3 { "Whatever the figures" }
                    ul.plain-list.newspaper { @for note in &report.model_notes { li { (note) } } }
                }
            }
        }
    }
}

/// Cautions of the work.
pub(super) fn cautions(report: &Report) -> Markup {
    html! {
        @if !report.cautions.is_empty() {
            section.cautions #cautions aria-labelledby="cautions-title" {
                h2 #cautions-title { "Cautions" }
                ul.cards.many {
                    @for caution in &report.cautions {
                        li.panel.warn { h3 { (icon::WARN) (caution.title) } p { (caution.text) } }
                    }
                }
            }
        }
    }
}
