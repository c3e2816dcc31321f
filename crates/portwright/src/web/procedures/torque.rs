//! What each way of setting gives in torque, read off the job card's map.

use super::super::power::table::rpm;
use maud::{Markup, html};
use quantity::Units;
use workshop::power::{Reached, WaysTorque, torque_text};

/// The section; without a map, the way to one.
pub(super) fn section(base: &str, known: Option<&WaysTorque>, units: Units) -> Markup {
    html! {
        section.panel aria-labelledby="torque-title" {
            h2 #torque-title { "What each gives in torque" }
            @match known {
                Some(known) => (rows(known, units)),
                None => {
                    p { "A torque map of this job card, made from its entries as they stand, would tell what each way gives at low, middle and top speed." }
                    p.actions { a.button href={ (base) "/power" } { "Torque and power" } }
                }
            }
        }
    }
}

fn rows(known: &WaysTorque, units: Units) -> Markup {
    let words = ["Low", "Middle", "Top"];
    let heads: Vec<String> =
        words.iter().zip(known.speeds_rad_s).map(|(word, speed)| format!("{word}, {}", rpm(speed))).collect();
    html! {
        table.wide {
            thead { tr { th scope="col" { "Way" } @for head in &heads { th scope="col" { (head) } } } }
            tbody {
                @for (_, name, reached) in &known.ways {
                    tr {
                        th scope="row" { (name) }
                        @for (head, reached) in heads.iter().zip(reached) {
                            td data-label=(head) { (figure(*reached, units)) }
                        }
                    }
                }
            }
        }
        p.muted.small {
            "At the middle draw, and below it from the least to the most over nineteen draws in twenty. Low: the valve at park. Middle: the servo half way. Top: full travel. "
            @if known.held { "An edge above flush is taken as flush: what it does to the flow is not computed." }
        }
    }
}

fn figure(reached: Option<Reached>, units: Units) -> Markup {
    html! {
        @match reached {
            Some(reached) => {
                (torque_text(reached.median_n_m, 2, units))
                span.from { (torque_text(reached.least_n_m, 2, units)) " to " (torque_text(reached.most_n_m, 2, units)) }
            }
            None => "outside of the map",
        }
    }
}
