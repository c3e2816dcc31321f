//! Pieces of the pipe that do not meet.

use super::{Asked, Case, mm};

/// Pieces are rolled or welded end to end: a step of more than this share is a figure of the wrong end more often than a
/// step in the pipe (common practice, no source).
const STEP: f64 = 0.08;

pub(super) fn ask(case: &Case<'_>, asked: &mut Asked<'_>) {
    let tables: Vec<_> = case.tables.all("pipe").collect();
    for (pieces, tables) in case.engine.gas.pipe.windows(2).zip(tables.windows(2)) {
        let ([before, after], [_, table]) = (pieces, tables) else { continue };
        let (ends, begins) = (before.outlet_diameter.value, after.inlet_diameter.value);
        if (begins / ends - 1.0).abs() <= STEP {
            continue;
        }
        asked.ask(
            table,
            "inlet_diameter",
            format!(
                "\"{}\" begins with {} where \"{}\" ends with {}: a step in the pipe.",
                after.name,
                mm(begins),
                before.name,
                mm(ends)
            ),
            "Likely the two ends of a piece were changed over, the pieces stand in another order, or one is left out.",
        );
    }
}
