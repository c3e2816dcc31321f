//! A spring on the closing adjuster that was read longer than free or shorter than solid.

use super::{Asked, Case, mm};
use crate::model::ReturnSpring;

pub(super) fn ask(case: &Case<'_>, asked: &mut Asked<'_>) {
    let ReturnSpring::ClosingAdjuster { free_length, solid_length, .. } = &case.engine.gear.spring else {
        return;
    };
    for path in ["found", "returns"] {
        let Some(table) = case.tables.get(path) else { continue };
        let Some(read) = table.figure("spring_length") else { continue };
        if read.value > free_length.value + 2.0 * read.u.hypot(free_length.u) {
            let text = format!(
                "The spring was read as {}, longer than its free length of {}.",
                mm(read.value),
                mm(free_length.value)
            );
            asked.ask(table, "spring_length", text, "Likely the gap or the thread was measured instead, or the free length is that of another spring.");
        } else if read.value < solid_length.value - 2.0 * read.u.hypot(solid_length.u) {
            let text = format!(
                "The spring was read as {}, shorter than with all coils touching ({}).",
                mm(read.value),
                mm(solid_length.value)
            );
            asked.ask(table, "spring_length", text, "Likely the reading or the solid length is wrong.");
        }
    }
}
