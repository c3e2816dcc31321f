//! A reading that would be usual in another unit: a thousand or a million times off, inch for millimetre, degrees
//! for turns, newton for kilogram-force.

use super::Case;
use crate::check::judgement::{Slip, SlipKind};
use quantity::Dimension;

/// A way to misread a unit: what the written figure would have to be multiplied by.
struct Candidate {
    kind: SlipKind,
    factor: f64,
    off: &'static str,
    how: &'static str,
}

const fn candidate(kind: SlipKind, factor: f64, off: &'static str, how: &'static str) -> Candidate {
    Candidate { kind, factor, off, how }
}

const THOUSANDS: [Candidate; 4] = [
    candidate(SlipKind::Thousand, 1e3, "about a thousand times too small", ""),
    candidate(SlipKind::Thousand, 1e-3, "about a thousand times too large", ""),
    candidate(SlipKind::Thousand, 1e6, "about a million times too small", ""),
    candidate(SlipKind::Thousand, 1e-6, "about a million times too large", ""),
];
const INCHES: [Candidate; 2] = [
    candidate(
        SlipKind::Inch,
        1.0 / 25.4,
        "about 25 times too large",
        ": inches written where millimetres were read",
    ),
    candidate(
        SlipKind::Inch,
        25.4,
        "about 25 times too small",
        ": millimetres written where inches were read",
    ),
];
const TURNS: [Candidate; 2] = [
    candidate(SlipKind::Turns, 360.0, "360 times too small", ": degrees written where turns were counted"),
    candidate(SlipKind::Turns, 1.0 / 360.0, "360 times too large", ": turns written where degrees were read"),
];
const KILOGRAMS: [Candidate; 2] = [
    candidate(
        SlipKind::Kilogram,
        9.806_65,
        "about ten times too small",
        ": newtons written where the scale shows kilograms",
    ),
    candidate(
        SlipKind::Kilogram,
        1.0 / 9.806_65,
        "about ten times too large",
        ": kilograms written where the scale shows newtons",
    ),
];

pub(super) fn ask(case: &Case<'_>) -> Option<Slip> {
    let (figure, plausible) = (case.figure()?, case.plausible()?);
    if !case.is_odd() {
        return None;
    }
    let found = candidates(case).find(|candidate| plausible.holds(figure.value * candidate.factor))?;
    let shown = with_same_digits(case, figure.value * found.factor, found.factor);
    let meant = match found.kind {
        SlipKind::Thousand => format!("Likely meant: {shown}{}", prefix(case.reading.dimension)),
        _ => format!("Likely meant: {shown}{}.", found.how),
    };
    let text = format!("'{}' was read; {}, so it is {}.", case.written(), case.expected(), found.off);
    let other = if case.in_force.is_some_and(|in_force| in_force.own) {
        " Look at the unit of your limit as well."
    } else {
        ""
    };
    Some(case.slip(found.kind, text, format!("{meant}{other}"), Some(shown)))
}

/// The figure with as many digits as were written: more would claim a finer reading.
fn with_same_digits(case: &Case<'_>, si: f64, factor: f64) -> String {
    let dimension = case.reading.dimension;
    let usual = quantity::show_value(si, dimension, case.units);
    let unit =
        usual.trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | '-' | '\u{2212}' | ' '));
    let one = quantity::parse(&format!("1 {unit}"), dimension).map_or(0.0, |one| one.value);
    let step = case.step() * factor / one;
    if !(step > 0.0 && step.is_finite()) {
        return usual;
    }
    // A step that is a power of ten comes out a hair beside it.
    let decimals = (-step.log10() - 1e-6).ceil().clamp(0.0, 9.0) as usize;
    format!("{:.decimals$} {unit}", si / one)
}

/// Where to look for a slip by thousands.
fn prefix(dimension: Dimension) -> &'static str {
    match dimension {
        Dimension::Resistance => ". Look for the k or M beside Ω on the display, and at the range.",
        Dimension::Voltage | Dimension::Current => ". Look for the m on the display, and at the range.",
        Dimension::Time => ". Look whether it shows seconds or milliseconds.",
        _ => ". Look at the unit on the display and at the decimal sign.",
    }
}

fn candidates(case: &Case<'_>) -> impl Iterator<Item = &'static Candidate> {
    let written = case.text.to_lowercase();
    let says = |words: &[&str]| words.iter().any(|word| written.contains(word));
    let special: [Option<&'static Candidate>; 2] = match case.reading.dimension {
        Dimension::Length if says(&["in", "\"", "″", "thou"]) => [INCHES.first(), None],
        Dimension::Length if says(&["mm", "cm"]) => [INCHES.get(1), None],
        Dimension::Angle if says(&["°", "deg"]) => [TURNS.first(), None],
        Dimension::Angle if says(&["turn", "rev"]) => [TURNS.get(1), None],
        Dimension::Force if says(&["kgf", "kp"]) => [KILOGRAMS.get(1), None],
        Dimension::Force if says(&["n"]) => [KILOGRAMS.first(), None],
        _ => [None, None],
    };
    special.into_iter().flatten().chain(&THOUSANDS)
}
