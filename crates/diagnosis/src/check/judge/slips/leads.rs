//! A resistance below that of the meter's own leads.

use super::Case;
use crate::check::judgement::{Slip, SlipKind};

/// Resistivity of annealed copper at 20 °C, Ω·m (IEC 60028, the international annealed copper standard).
const COPPER_OHM_M: f64 = 1.7241e-8;
/// Copper in the way: two leads of 2 m, out and back. Common practice, no source.
const LOOP_M: f64 = 4.0;
/// Cross-section of a usual test lead, m². Common practice, no source.
const AREA_M2: f64 = 0.5e-6;
/// Resistance of the leads alone: 0.138 Ω.
const LEADS_OHM: f64 = COPPER_OHM_M * LOOP_M / AREA_M2;

pub(super) fn ask(case: &Case<'_>) -> Option<Slip> {
    let figure = case.figure().filter(|_| case.is_resistance())?;
    if figure.value >= LEADS_OHM {
        return None;
    }
    Some(case.slip(
        SlipKind::BelowLeads,
        format!(
            "'{}' was read; the leads of the meter alone have about {} (two of 2 m, copper, 0.5 mm²).",
            case.written(),
            quantity::show_value(LEADS_OHM, figure.dimension, case.units)
        ),
        "Likely the probes touched each other, the unit is not the one on the display, or the leads were taken off the reading (then confirm it).".to_owned(),
        None,
    ))
}
