//! Other readings of an odd figure: the slip of the pen or the unit that would make it usual.

use super::spec::Range;
use quantity::{Measured, Units};

/// A way to misread or mistype a figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Slip {
    /// The sign is the other way.
    Sign,
    /// Millimetres were meant where inches are written.
    InchForMm,
    /// Inches were meant where millimetres are written.
    MmForInch,
    /// Turns were meant where degrees are written.
    DegreesForTurns,
    /// The decimal sign stands one or three places off.
    Decimal,
}

/// A figure that would be usual, and the slip that leads from it to the one that was written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Likely {
    pub(super) slip: Slip,
    /// The figure that was likely meant, SI.
    pub(super) si: f64,
}

/// The likeliest other reading of a figure that lies outside its usual range, if one lies inside.
pub(super) fn likely(figure: &Measured, usual: Range) -> Option<Likely> {
    if usual.contains(figure.value) {
        return None;
    }
    let written = figure.written.as_deref().unwrap_or("").to_lowercase();
    let degrees = written.contains('°') || written.contains("deg");
    let inches = ["in", "\"", "thou", "″"].iter().any(|unit| written.contains(unit));
    let candidates = [
        (Slip::Sign, -1.0, true),
        (Slip::InchForMm, 1.0 / 25.4, inches),
        (Slip::MmForInch, 25.4, usual.unit == "mm" && written.contains("mm")),
        (Slip::DegreesForTurns, 360.0, degrees && figure.value.abs() < 0.2),
        (Slip::Decimal, 0.1, true),
        (Slip::Decimal, 10.0, true),
        (Slip::Decimal, 1e-3, true),
        (Slip::Decimal, 1e3, true),
    ];
    candidates
        .into_iter()
        .filter(|(_, _, possible)| *possible)
        .map(|(slip, factor, _)| Likely { slip, si: figure.value * factor })
        .find(|likely| usual.contains(likely.si))
}

/// "likely 54.0 mm, with the decimal sign in its place" for the end of a sentence about a refused figure.
pub(super) fn reading(figure: &Measured, usual: Option<Range>) -> Option<String> {
    let likely = likely(figure, usual?)?;
    let shown = quantity::show_value(likely.si, figure.dimension, Units::Metric);
    let how = match likely.slip {
        Slip::Sign => "with the other sign",
        Slip::InchForMm => "with mm instead of inches",
        Slip::MmForInch => "if inches were meant",
        Slip::DegreesForTurns => "if turns were meant",
        Slip::Decimal => "with the decimal sign moved",
    };
    Some(format!("{shown} would be usual, {how}"))
}
