//! The large box that stands in place of the steps.

use super::{Array, Dict, IntoValue, Value, dict, list, text};
use workshop::report::{Conflict, Gate, GateState, Outcome, Report};

/// What stops the work, or none.
pub(super) fn of(report: &Report) -> Value {
    match report.outcome {
        Outcome::GateStops => boxed("Stop: a gate forbids going on", GATE, stopped(&report.gates)),
        Outcome::Conflict => {
            boxed("No setting meets every demand", CONFLICT, list(&report.conflicts, conflict))
        }
        _ if report.outcome == Outcome::Questions || !report.questions.is_empty() => {
            let items = list(&report.questions, |q| item(&q.key, &q.text, &[&q.likely, &q.confirm]));
            boxed("Answer these questions first", QUESTIONS, items)
        }
        _ => Value::None,
    }
}

const GATE: &str = "No steps are printed. Put this right, enter the new reading and print the sheet again.";
const CONFLICT: &str =
    "Adjusters alone cannot bring this valve gear within its limits. What would have to change:";
const QUESTIONS: &str = "No steps are printed until these figures are certain: a slip here would turn the adjusters \
                         to a wrong place.";

fn boxed(title: &str, lead: &str, items: Array) -> Value {
    dict! { "title" => text(title), "lead" => text(lead), "items" => items }.into_value()
}

fn item(head: &str, body: &str, more: &[&str]) -> Dict {
    let more: Array = more.iter().filter(|t| !t.trim().is_empty()).map(|t| text(t)).collect();
    dict! { "head" => text(head), "body" => text(body), "more" => more }
}

fn stopped(gates: &[Gate]) -> Array {
    let stops = gates.iter().filter(|g| g.state == GateState::Stop);
    stops.map(|g| item(&g.question, &g.text, &[&g.answer]).into_value()).collect()
}

fn conflict(conflict: &Conflict) -> Dict {
    item(&conflict.between.join(" against "), &conflict.by, &[&conflict.change])
}
