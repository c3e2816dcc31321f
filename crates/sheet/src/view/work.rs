//! Gates, steps and findings.

use super::{Dict, IntoValue, Value, dict, list, name, optional, probability, text, unsigned};
use workshop::report::{Finding, Gate, GateState, Seen, Step, Turn};

/// One gate.
pub(super) fn gate(gate: &Gate) -> Dict {
    let state = match gate.state {
        GateState::Pass => "pass",
        GateState::Open => "open",
        GateState::Stop => "stop",
    };
    dict! {
        "question" => text(&gate.question),
        "answer" => text(&gate.answer),
        "text" => text(&gate.text),
        "state" => state,
    }
}

/// One step, with the drawing of its turn when there is one.
pub(super) fn step(step: &Step, drawing: Value) -> Dict {
    dict! {
        "title" => name(&step.title),
        "action" => text(&step.action),
        "turn" => step.turn.as_ref().map_or(Value::None, |t| turn(t, drawing)),
        "see" => list(&step.see, seen),
        "cautions" => list(&step.cautions, |c| text(c)),
    }
}

/// A turn: its size without a sign, for the way stands beside it in words and as an arrow.
fn turn(turn: &Turn, drawing: Value) -> Value {
    dict! {
        "turns" => name(unsigned(&turn.turns.text)),
        "direction" => name(&turn.direction),
        "clockwise" => turn.clockwise,
        "text" => text(&turn.text),
        "drawing" => drawing,
    }
    .into_value()
}

fn seen(seen: &Seen) -> Dict {
    dict! {
        "what" => text(&seen.what),
        "figure" => optional(seen.figure.as_ref().map(|f| f.text.as_str())),
        "how" => text(&seen.how),
    }
}

/// One finding.
pub(super) fn finding(finding: &Finding) -> Dict {
    dict! {
        "name" => text(&finding.name),
        "text" => text(&finding.text),
        "sure" => finding.probability.map_or(Value::None, |p| text(&probability(p))),
        "serious" => finding.serious,
    }
}
