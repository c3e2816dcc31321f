//! The gap as found against the gap that this engine's geometry wants: a fixed gap fits one engine only.

use super::telling::Telling;
use crate::report::{Figure, GapRule};
use quantity::Dimension;

/// Tells the two gaps apart, where the gap and the present edge are known.
pub(super) fn gap_rule(telling: &Telling<'_>) -> Option<GapRule> {
    let found = telling.engine.found.opening_gap.as_ref()?;
    let moved = telling.solution.spread.opening_move.as_ref()?;
    let edge = telling.solution.spread.found_full.as_ref()?;
    let target = telling.figure(found.value + moved.best, found.u.hypot(moved.u), Dimension::Length);
    let found_figure = Figure::of(found, telling.units);
    let edge_figure = telling.band(edge);
    let angle = (edge.best * 1e3 * telling.degrees_per_mm(0.0)).abs();
    let real = moved.best.abs() > 2.0 * moved.u.hypot(found.u);
    let text = if !real {
        format!(
            "The gap as found, {}, is the gap that this engine wants, {}, as far as the readings can tell.",
            found_figure.text, target.text
        )
    } else {
        let (state, side) =
            if edge.best > 0.0 { ("over-travels", "above") } else { ("falls short", "below") };
        format!(
            "With the gap as found, {}, the valve {state}: the edge stands {} {side} flush ({angle:.1}° of crank). \
             Referenced to the port itself the gap comes out at {}. A fixed gap fits one engine only: cable, bracket \
             and gasket lengths differ, so the gap must follow from the port.",
            found_figure.text,
            telling.figure(edge.best.abs(), edge.u, Dimension::Length).text,
            target.text
        )
    };
    Some(GapRule { found: found_figure, target, edge_at_found: edge_figure, text })
}
