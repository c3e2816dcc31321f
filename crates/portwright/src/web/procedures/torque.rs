//! What each way of setting gives in torque, read off the job card's map.

use maud::{Markup, html};
use workshop::power::ToldTorque;

/// The section; without a map, the way to one.
pub(super) fn section(base: &str, known: Option<&ToldTorque>) -> Markup {
    html! {
        @match known {
            Some(known) => (told(known)),
            None => {
                section.panel aria-labelledby="torque-title" {
                    h2 #torque-title { "What each gives in torque" }
                    p { "A torque map of this job card, made from its entries as they stand, would tell what each way gives at low, middle and top speed." }
                    p.actions { a.button href={ (base) "/power" } { "Torque and power" } }
                }
            }
        }
    }
}

/// The figures by way.
pub(super) fn told(known: &ToldTorque) -> Markup {
    html! {
        section.panel aria-labelledby="torque-title" {
            h2 #torque-title { "What each gives in torque" }
            table.wide {
                thead { tr { th scope="col" { "Way" } @for head in &known.heads { th scope="col" { (head) } } } }
                tbody {
                    @for (name, reached) in &known.rows {
                        tr {
                            th scope="row" { (name) }
                            @for (head, reached) in known.heads.iter().zip(reached) {
                                td data-label=(head) { (figure(reached.as_ref())) }
                            }
                        }
                    }
                }
            }
            p.muted.small { (known.says) }
        }
    }
}

fn figure(reached: Option<&[String; 2]>) -> Markup {
    html! {
        @match reached {
            Some([middle, range]) => { (middle) span.from { (range) } }
            None => "outside of the map",
        }
    }
}
