//! Gates: what must be known before any first start. A proud blade stops the path.

use crate::report::{Gate, GateState};
use engine::model::{Engine, PistonTurn};
use quantity::{Dimension, Measured, Units};

/// The gates in the order in which they are checked.
pub fn gates(engine: &Engine, units: Units) -> Vec<Gate> {
    let mut gates = vec![
        proud_gate(engine, "closed", engine.gates.proud_closed.as_ref(), units),
        proud_gate(engine, "fully open", engine.gates.proud_open.as_ref(), units),
        turn_gate("closed", engine.gates.turn_closed),
        turn_gate("fully open", engine.gates.turn_open),
    ];
    if engine.servo.works_oil_pump {
        gates.push(oil_pump_gate());
    }
    gates
}

/// The worst state of all gates.
pub fn worst(gates: &[Gate]) -> GateState {
    if gates.iter().any(|gate| gate.state == GateState::Stop) {
        GateState::Stop
    } else if gates.iter().any(|gate| gate.state == GateState::Open) {
        GateState::Open
    } else {
        GateState::Pass
    }
}

fn proud_gate(engine: &Engine, end: &str, proud: Option<&Measured>, units: Units) -> Gate {
    let question = format!("Blade edge against the bore, valve {end}");
    let limit = &engine.limits.proud.value;
    let allowed = quantity::show_value(limit.value, Dimension::Length, units);
    let Some(proud) = proud else {
        return Gate {
            question,
            answer: "not measured yet".to_owned(),
            state: GateState::Open,
            text: format!(
                "Lay a straight edge along the bore and measure how far the valve edge stands out of the bore wall \
                 (positive) or lies back from it (negative). It may stand out {allowed} at most: the rings pass here."
            ),
        };
    };
    let shown = quantity::show(proud, units);
    // A reading that may be proud within its expanded uncertainty is not safe enough to pass in silence.
    let (state, text) = if proud.value > limit.value {
        (
            GateState::Stop,
            format!(
                "The edge stands out of the bore by {shown}; {allowed} is allowed. Ring and piston will hit it: do \
                 not turn the engine over. Take the valve out and find why (wrong blade, missing shim or gasket, \
                 carbon behind it)."
            ),
        )
    } else if proud.value + 2.0 * proud.u > limit.value {
        (
            GateState::Open,
            format!(
                "{shown} cannot be told from standing proud ({allowed} is allowed). Measure again with a better \
                 instrument or feel the edge with a fingernail from the bore."
            ),
        )
    } else {
        (GateState::Pass, "The edge lies back from the bore wall.".to_owned())
    };
    Gate { question, answer: shown, state, text }
}

fn turn_gate(end: &str, turn: Option<PistonTurn>) -> Gate {
    let question = format!("Full turn of the crank by hand, valve {end}");
    match turn {
        Some(PistonTurn::Clear) => Gate {
            question,
            answer: "clear".to_owned(),
            state: GateState::Pass,
            text: "Piston and rings pass the blade through the whole turn.".to_owned(),
        },
        Some(PistonTurn::Touches) => Gate {
            question,
            answer: "touches".to_owned(),
            state: GateState::Stop,
            text: "Piston or ring meets the blade. Do not start and do not use the starter: find the part that is \
                   wrong first."
                .to_owned(),
        },
        None => Gate {
            question,
            answer: "not done yet".to_owned(),
            state: GateState::Open,
            text: "Spark plug out, turn the crank slowly by hand through a full turn and feel for a touch.".to_owned(),
        },
    }
}

fn oil_pump_gate() -> Gate {
    Gate {
        question: "Oil pump on the servo's pulley".to_owned(),
        answer: "re-check after the setting".to_owned(),
        state: GateState::Open,
        text:
            "The servo's pulley also works the oil pump. After the setting check the pump's own marks by the \
               maker's manual: a pump that lags starves the engine."
                .to_owned(),
    }
}
