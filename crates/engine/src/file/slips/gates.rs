//! A blade that stands proud of the bore beside a crank that turns clear, and the other way round.

use super::{Asked, Case, written};

pub(super) fn ask(case: &Case<'_>, asked: &mut Asked<'_>) {
    let Some(table) = case.tables.get("gates") else { return };
    for (proud, turn) in [("proud_closed", "turn_closed"), ("proud_open", "turn_open")] {
        let (Some(figure), Some(word)) = (table.figure(proud), table.word(turn)) else { continue };
        if word == "clear" && figure.value > 2.0 * figure.u + 0.1e-3 {
            asked.ask(
                table,
                turn,
                format!("The blade's edge stands {} proud of the bore, yet the crank is said to turn clear; the piston passes closer than that.", written(table, proud)),
                format!("Likely {proud} has the wrong sign (back from the bore is negative), or the crank was not turned through a full turn."),
            );
        } else if word == "touches" && figure.value < -2.0 * figure.u - 0.1e-3 {
            asked.ask(
                table,
                turn,
                format!("Something touches, yet the blade's edge is said to lie back from the bore ({}).", written(table, proud)),
                format!("Likely {proud} has the wrong sign, or something other than the blade touches: find it before anything else."),
            );
        }
    }
}
