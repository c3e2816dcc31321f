//! The error at both ends of the travel.

use super::front::percent;
use crate::web::moving::still;
use crate::web::page::{capital, glued, verdict};
use maud::{Markup, html};
use workshop::Answer;
use workshop::report::{EndError, ErrorBand};

/// Picture and table of both ends.
pub(super) fn section(answer: &Answer) -> Markup {
    let ends = &answer.report.ends;
    html! {
        @if !ends.is_empty() {
            section.panel.ends aria-labelledby="ends-title" {
                h2 #ends-title { "The error at both ends" }
                div.scene { (still(&answer.ends_scene())) }
                // As in the picture: the open end, where the work is, comes first.
                @for end in ends.iter().rev() { (table(end)) }
            }
        }
    }
}

fn table(end: &EndError) -> Markup {
    html! {
        table.bands {
            caption { strong { (capital(&end.end)) } " " span.muted { (end.what) } }
            thead {
                tr { th scope="col" { "State" } th scope="col" { "Height" } th scope="col" { "Crank" } th scope="col" { "Verdict" } }
            }
            tbody {
                (row("As found", "found", end.found.as_ref(), "no reading tells"))
                (row("Proposed", "proposed", end.proposed.as_ref(), "no setting proposed"))
            }
            tfoot { tr { th scope="row" { "Accepted" } td colspan="3" { (end.accept) } } }
        }
    }
}

fn row(label: &str, class: &str, band: Option<&ErrorBand>, none: &str) -> Markup {
    html! {
        tr class=(class) {
            th scope="row" { (label) }
            @match band {
                Some(band) => {
                    td data-label="Height" { (glued(&band.height.text)) }
                    td data-label="Crank" { (glued(&band.crank.text)) }
                    td data-label="Verdict" { (verdict(&band.verdict)) span.muted.small { (percent(band.within)) span.unseen { " sure to lie inside" } } }
                }
                None => { td colspan="3" .muted { (none) } }
            }
        }
    }
}
