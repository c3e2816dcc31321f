//! The comparison as one file that needs nothing else, for someone who never saw the program.

use super::super::assets;
use super::super::page::glued;
use super::{leaf, show, torque};
use engine::model::Engine;
use maud::{DOCTYPE, PreEscaped, html};
use quantity::Units;
use workshop::power::ToldTorque;
use workshop::procedure::Comparison;

/// The whole document. `date` is printed as it stands.
pub(crate) fn standing_document(
    engine: &Engine,
    comparison: &Comparison,
    known: Option<&ToldTorque>,
    units: Units,
    seed: u64,
    date: &str,
) -> String {
    let told = comparison.told(units);
    let all = comparison.leaf(engine, units, seed);
    let page = html! {
        (DOCTYPE)
        html lang="en-GB" data-theme="light" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (all.engine) " · ways of setting, compared" }
                style { (PreEscaped(assets::standing_style())) }
            }
            body {
                main.procedures.bench {
                    header.page-head {
                        h1 { "Ways of setting the exhaust valve, compared" }
                        p { strong { (all.engine) } @if all.invented { ", an invented engine with invented figures" } }
                        @if let Some(note) = &all.note { p.muted { (note) } }
                        p.muted { "Made on " (date) " with Portwright." }
                        @for line in &all.lead { p.lead { (glued(line)) } }
                    }
                    (show::statements(&told))
                    (show::hills(comparison, units))
                    (leaf::edges(&all, true))
                    (show::table(&all, comparison))
                    (leaf::agreement(&all, true))
                    (leaf::reading(&all))
                    @if let Some(known) = known { (torque::told(known)) }
                    @for (told, way) in told.procedures.iter().zip(&all.ways) {
                        (show::one(told, way, false))
                    }
                    section.panel aria-labelledby="gears" {
                        h2 #gears { "The gear of each way at full travel" }
                        div.drawings { (show::gears(comparison, units, 1.0)) }
                    }
                    (show::left_out(&told))
                    (leaf::stated(&all, false))
                }
            }
        }
    };
    page.into_string()
}
