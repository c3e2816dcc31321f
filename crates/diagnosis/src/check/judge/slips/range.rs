//! A meter on a range that cannot show what the limits need.

use super::Case;
use crate::check::judge::entry::Entry;
use crate::check::judge::words;
use crate::check::judgement::{Slip, SlipKind};
use evidence::conformity::Verdict;
use quantity::Dimension;

/// Steps of the display that must fit between the limits. Common practice, no source.
const STEPS: f64 = 4.0;

/// Overload on a range that ends below what is to be measured, and the 1 that stands alone.
pub(super) fn overload(case: &Case<'_>) -> Option<Slip> {
    let upper = || case.in_force.and_then(|in_force| in_force.limits.upper);
    match case.entry {
        Entry::OneAlone => Some(case.slip(
            SlipKind::OneAlone,
            "'1' alone was written, without a unit.".to_owned(),
            "Some meters show a 1 alone at the left for overload. If so, switch to a higher range; if it stays, confirm it as an open circuit. If 1 Ω or 1 kΩ was read, write it with its unit.".to_owned(),
            Some("OL".to_owned()),
        )),
        Entry::Overload { range: Some(range) } if upper().is_some_and(|upper| *range < 1.25 * upper) => {
            let shown = |si: f64| words::plain(si, case.reading.dimension, case.units);
            Some(case.slip(
                SlipKind::MeterRange,
                format!("Overload was read on the {} range; {}.", shown(*range), case.expected()),
                "Likely the range is too low: switch to the next higher one before you call it an open circuit.".to_owned(),
                None,
            ))
        }
        _ => None,
    }
}

/// A display too coarse for the limits.
pub(super) fn coarse(case: &Case<'_>) -> Option<Slip> {
    let Entry::Figure { measured, step, .. } = case.entry else { return None };
    let limits = case.in_force?.limits;
    let width = limits.upper? - limits.lower?;
    let told = limits.limits().judge(measured.value, measured.u).verdict != Verdict::CannotTell;
    if told || width <= 0.0 || *step < width / STEPS {
        return None;
    }
    let shown = words::plain(*step, case.reading.dimension, case.units);
    let electrical =
        matches!(case.reading.dimension, Dimension::Resistance | Dimension::Voltage | Dimension::Current);
    let likely = if electrical {
        "Likely the meter stood on too high a range, or digits were left out: switch down until it shows more digits, and write them all."
    } else {
        "Likely digits were left out, or the tool is too coarse for these limits: read it finer, and write all digits."
    };
    Some(case.slip(
        SlipKind::MeterRange,
        format!("'{}' was read, which goes in steps of {shown}; {}.", case.written(), case.expected()),
        likely.to_owned(),
        None,
    ))
}
