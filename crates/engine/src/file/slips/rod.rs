//! A rod of unusual length for its stroke: overall length for centre to centre, or crank radius for stroke.

use super::{Asked, Case};

/// Rod length over stroke: common practice, no source.
const USUAL: std::ops::RangeInclusive<f64> = 1.6..=2.5;

pub(super) fn ask(case: &Case<'_>, asked: &mut Asked<'_>) {
    let Some(table) = case.tables.get("crank").filter(|table| table.gives("rod_length")) else { return };
    let ratio = case.engine.crank.rod_length.value / case.engine.crank.stroke.value;
    if USUAL.contains(&ratio) {
        return;
    }
    let likely = if USUAL.contains(&(ratio / 2.0)) {
        "Likely the crank radius was given as the stroke, or the rod length twice too long."
    } else {
        "Likely the rod was measured over all instead of centre to centre, or one of the two belongs to another engine."
    };
    let text =
        format!("The rod is {ratio:.2} strokes long; usual is 1.6 to 2.5 (common practice, no source).");
    asked.ask(table, "rod_length", text, likely);
}
