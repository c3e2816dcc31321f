//! How far one may go, and the one sentence that says what to do.

use super::ends::number;
use super::telling::Telling;
use crate::gates::worst;
use crate::report::{Gate, GateState, Outcome};
use engine::file::Question;

/// The outcome: what forbids going on comes first.
pub(super) fn outcome(telling: &Telling<'_>, questions: &[Question], gates: &[Gate]) -> Outcome {
    if worst(gates) == GateState::Stop {
        Outcome::GateStops
    } else if !questions.is_empty() {
        Outcome::Questions
    } else if telling.solution.proposal.is_err() {
        Outcome::Conflict
    } else if telling.solution.turns.opening.is_none() || telling.solution.turns.closing.is_none() {
        Outcome::ReadingMissing
    } else if worst(gates) == GateState::Open {
        Outcome::GateOpen
    } else {
        Outcome::Ready
    }
}

/// One sentence.
pub(super) fn headline(telling: &Telling<'_>, outcome: Outcome, questions: usize) -> String {
    match outcome {
        Outcome::GateStops => {
            "Stop: the valve touches or stands proud of the bore. Find the cause before anything is set or turned."
                .to_owned()
        }
        Outcome::Questions if questions == 1 => {
            "One figure looks odd: answer the question, then the steps are given.".to_owned()
        }
        Outcome::Questions => {
            format!("{questions} figures look odd: answer the questions, then the steps are given.")
        }
        Outcome::Conflict => {
            "No adjuster position meets every demand: a part must change. See which demands conflict.".to_owned()
        }
        Outcome::ReadingMissing => missing(telling),
        Outcome::Ready | Outcome::GateOpen => turns(telling),
    }
}

fn missing(telling: &Telling<'_>) -> String {
    let mut wanted = Vec::new();
    if telling.solution.turns.opening.is_none() {
        wanted.push("the edge at full travel or the free play of the opening cable");
    }
    if telling.solution.turns.closing.is_none() {
        wanted.push(if telling.solution.case.spring_on_adjuster {
            "the length of the spring on the closing adjuster"
        } else {
            "the free play of the closing cable"
        });
    }
    format!("The target is known, the way to it is not: read {} to get the turns.", wanted.join(" and "))
}

fn turns(telling: &Telling<'_>) -> String {
    let part = |name: &str, turns: Option<f64>| {
        let turns = turns?;
        let way = if turns > 0.0 { "out" } else { "in" };
        let flats = turns.abs() * 6.0;
        (flats >= 0.25).then(|| {
            format!("{name} adjuster {} turns ({} flats) {way}", number(turns.abs(), 2), number(flats, 1))
        })
    };
    let parts: Vec<String> =
        [part("opening", telling.solution.turns.opening), part("closing", telling.solution.turns.closing)]
            .into_iter()
            .flatten()
            .collect();
    if parts.is_empty() {
        "Leave both adjusters as they are: the setting is right.".to_owned()
    } else {
        let mut text = parts.join(", ");
        if let Some(first) = text.get(..1) {
            text = format!("{}{}", first.to_uppercase(), &text[1..]);
        }
        format!("{text}.")
    }
}
